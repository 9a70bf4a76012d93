"""What to buy: needs less issues less stock, in packs, and what to look out for."""

import datetime
from decimal import Decimal

import pytest

from jobs.figures.buying import Need, OnHand, Purchase, Supply, purchases
from materials.packs import Pack

TODAY = datetime.date(2026, 3, 2)
RESIN = Supply(
    "resin", "Resin", "kg", "Sallow Chandlers", 3, 180,
    (Pack("5 kg tin", Decimal(5), 4_900), Pack("25 kg drum", Decimal(25), 10_900)),
)  # fmt: skip


def need(needed: str = "30", **values: object) -> Need:
    given: dict[str, object] = {"commission": "26-001", "place": "Base, cast", "key": "resin", "issued": Decimal(0)}
    return Need(**{**given, "needed": Decimal(needed), "passed": False, "by": datetime.date(2026, 5, 1), **values})


def lot(quantity: str, expires: datetime.date | None = None, batch: str = "R 4411") -> OnHand:
    return OnHand("resin", batch, Decimal(quantity), expires)


def bought(needs: list[Need], *lots: OnHand, supply: Supply = RESIN) -> Purchase:
    (found,) = purchases(needs, lots, {supply.key: supply}, TODAY)
    return found


def test_what_was_issued_and_what_is_in_stock_come_off_and_the_rest_is_packs() -> None:
    found = bought([need("30", issued=Decimal(12)), need("40", place="Crown, cast")], lot("20"))
    assert (found.left, found.on_hand, found.short) == (58, 20, 38)
    assert [(choice.count, choice.pack.label) for choice in found.packs] == [(2, "25 kg drum")]
    assert found.cost_minor == 21_800


def test_a_stage_that_has_passed_needs_nothing_more() -> None:
    assert purchases([need(passed=True)], [], {"resin": RESIN}, TODAY) == ()


def test_what_one_stage_had_too_much_feeds_no_other() -> None:
    found = bought([need("10", issued=Decimal(16)), need("10", place="Crown, cast")])
    assert found.short == 10
    assert [each.place for each in found.needs] == ["Crown, cast"]


def test_what_is_in_stock_already_is_not_bought_again() -> None:
    found = bought([need("30")], lot("30"))
    assert (found.short, found.packs, found.cost_minor, found.order_by) == (0, (), 0, None)


def test_an_hour_or_a_service_is_passed_over() -> None:
    assert purchases([need(key="bench_hour")], [], {"resin": RESIN}, TODAY) == ()


def test_it_is_ordered_so_many_days_before_the_first_commission_needs_it() -> None:
    found = bought([need(by=datetime.date(2026, 4, 20)), need()])
    assert found.order_by == datetime.date(2026, 4, 17)
    assert bought([need(by=None)]).order_by is None


def test_an_expired_lot_is_not_counted_and_said() -> None:
    found = bought([need("30")], lot("12", datetime.date(2026, 3, 1)))
    assert found.on_hand == 0
    assert found.cautions == ("Not counted: 12 kg has expired; test it or write it off.",)


def test_a_lot_is_good_on_its_last_day() -> None:
    assert bought([need("30")], lot("12", TODAY)).on_hand == 12


def test_a_lot_that_expires_before_its_use_is_named() -> None:
    found = bought([need("30")], lot("12", datetime.date(2026, 4, 1)))
    assert found.cautions == ("Use batch R 4411 first: it expires on 1 Apr 2026, and is wanted until 1 May 2026.",)


def test_a_lot_that_is_used_up_by_an_earlier_commission_is_not_named() -> None:
    early = need("12", by=datetime.date(2026, 3, 20))
    found = bought([need("30"), early], lot("12", datetime.date(2026, 4, 1)))
    assert found.cautions == ()


def test_a_lot_beyond_all_needs_is_not_named() -> None:
    found = bought([need("10")], lot("10"), lot("50", datetime.date(2026, 4, 1), "R 2"))
    assert [caution.split(":")[0] for caution in found.cautions] == ["Use batch R 2 first"]
    assert bought([need("10")], lot("50", datetime.date(2026, 6, 1))).cautions == ()


def test_a_shelf_life_shorter_than_the_time_to_its_use_is_said() -> None:
    found = bought([need(by=datetime.date(2026, 12, 1))])
    assert found.cautions == (
        "Ordered today it keeps until 1 Sep 2026, and is wanted until 1 Dec 2026: "
        "order what is for then no sooner than 1 Jun 2026.",
    )


def test_an_order_that_comes_too_late_is_said() -> None:
    found = bought([need(by=datetime.date(2026, 3, 4))])
    assert found.cautions == ("Ordered today it comes on 5 Mar 2026, after 4 Mar 2026, the day it is needed by.",)


def test_what_has_no_price_is_said_and_costs_nothing_known() -> None:
    found = bought([need()], supply=Supply("resin", "Resin", "kg", "", 3, None, ()))
    assert found.cost_minor is None
    assert found.cautions == ("No pack of it has a price; add one in the price book.",)


@pytest.mark.parametrize("share", ["0.0001", "0.5"])
def test_the_smallest_shortage_buys_a_pack(share: str) -> None:
    found = bought([need(share)])
    assert [choice.count for choice in found.packs] == [1]


def test_purchases_stand_by_supplier_and_name() -> None:
    wax = Supply("wax", "Wax", "kg", "Alder and Thrift", 3, None, ())
    found = purchases([need(), need(key="wax")], [], {"resin": RESIN, "wax": wax}, TODAY)
    assert [each.supply.name for each in found] == ["Wax", "Resin"]
