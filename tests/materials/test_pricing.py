"""A take-off priced by a book: packs shared over the job, shares that sum, nothing guessed."""

import datetime
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice
from materials.estimator.lines import Line, TakeOff
from materials.packs import Pack
from materials.pricing import ItemPrice, MissingPrice, PriceBook, PricesMissing, price_take_off

laws = settings(derandomize=True, deadline=None)

DAY = datetime.date(2026, 3, 2)
RESIN = ItemPrice(
    "laminating_resin",
    "Laminating resin",
    "resin",
    "kg",
    (Pack("5 kg tin", Decimal(5), 3900), Pack("25 kg drum", Decimal(25), 16000)),
)
MILLING = ItemPrice("milling", "Foam milling", "service", "m3", (Pack("1 m³", Decimal(1), 21050),))
WAGE = ItemPrice("wage", "Workshop hour", "hour", "h", (Pack("hour", Decimal(1), 1450),))


def book(*items):
    return PriceBook("GBP", DAY, {item.key: item for item in items})


def line(section, material, buy, unit="kg", net=None, stage="cast"):
    return Line(section, stage, material, buy if net is None else net, buy, unit, "", ())


def take_off(*lines):
    return TakeOff("Trial", (), lines, (), ())


def priced(*lines, mode="packs", items=(RESIN, MILLING, WAGE)):
    return price_take_off(take_off(*lines), book(*items), mode=mode)


def test_a_material_is_summed_over_the_job_before_it_is_rounded_up_to_packs():
    result = priced(line("Body", "laminating_resin", 12.0, net=10.0), line("Leaf", "laminating_resin", 11.0, net=9.0))
    (resin,) = result.materials
    assert [(choice.pack.label, choice.count) for choice in resin.packs] == [("25 kg drum", 1)]
    assert (resin.buy, resin.bought, resin.net, resin.cost_minor) == (Decimal(23), Decimal(25), 19.0, 16000)
    assert resin.waste_share == pytest.approx(1 - 19 / 25)
    assert result.materials_minor == 16000


def test_the_cost_is_parted_among_the_lines_by_what_they_buy():
    result = priced(line("Body", "laminating_resin", 12.0), line("Leaf", "laminating_resin", 11.0, stage="mould"))
    shares = [(share.section, share.stage, share.buy, share.cost_minor) for share in result.materials[0].shares]
    # 16000 x 12 / 23 = 8347.8, rounded half up; the last line takes the rest.
    assert shares == [("Body", "cast", 12.0, 8348), ("Leaf", "mould", 11.0, 7652)]


def test_pro_rata_charges_the_need_at_the_rate_of_the_largest_pack_bought():
    (resin,) = priced(line("Body", "laminating_resin", 23.0), mode="pro_rata").materials
    # 160.00 a 25 kg drum is 6.40 a kg; the drum is still what is ordered.
    assert (resin.cost_minor, resin.bought) == (14720, Decimal(23))
    assert resin.packs[0].pack.label == "25 kg drum"
    (little,) = priced(line("Body", "laminating_resin", 4.0), mode="pro_rata").materials
    assert little.cost_minor == 3120


def test_pro_rata_is_rounded_half_up_once():
    item = ItemPrice("wax", "Wax", "release", "kg", (Pack("tin", Decimal("0.8"), 1333),))
    (wax,) = priced(line("A", "wax", 0.15, net=0.1), line("B", "wax", 0.15), mode="pro_rata", items=(item,)).materials
    # 0.3 x 13.33 / 0.8 = 4.99875; by line it would be 2.50 + 2.50.
    assert wax.cost_minor == 500
    assert [share.cost_minor for share in wax.shares] == [250, 250]


def test_the_noise_of_floats_never_buys_a_pack():
    (resin,) = priced(line("A", "laminating_resin", 0.1 + 0.2), line("B", "laminating_resin", 24.7)).materials
    assert resin.bought == Decimal(25)


def test_sent_out_work_stands_apart_from_materials():
    result = priced(line("Body", "milling", 1.2, "m3", stage="pattern"), line("Body", "laminating_resin", 4.0))
    assert [item.key for item in result.materials] == ["laminating_resin"]
    assert [item.key for item in result.sent_out] == ["milling"]
    assert (result.materials_minor, result.sent_out_minor) == (3900, 42100)


def test_a_line_that_needs_nothing_costs_nothing():
    (resin,) = priced(line("Body", "laminating_resin", 0.0)).materials
    assert (resin.cost_minor, resin.packs, resin.shares[0].cost_minor, resin.waste_share) == (0, (), 0, 0.0)


def test_what_has_no_price_is_collected_and_the_totals_stay_shut():
    bare = ItemPrice("topcoat", "Topcoat", "coating", "l", ())
    result = priced(
        line("Body", "laminating_resin", 4.0),
        line("Body", "topcoat", 2.0, "l"),
        line("Body", "gel_coat", 2.0),
        line("Body", "milling", 2.0, "each"),
        line("Body", "wage", 2.0, "h"),
        items=(RESIN, MILLING, WAGE, bare),
    )
    assert result.missing == (
        MissingPrice("gel_coat", "gel_coat is not in the price book of 2026-03-02"),
        MissingPrice("milling", "milling is priced by m3, and the take-off counts it in each"),
        MissingPrice("topcoat", "topcoat has no price on 2026-03-02"),
        MissingPrice("wage", "wage is priced as an hour, and the take-off counts it as a material"),
    )
    assert [item.key for item in result.materials] == ["laminating_resin"]
    with pytest.raises(
        PricesMissing, match=r"No total yet: gel_coat is not .*; wage is .* Complete the price book\."
    ) as error:
        _ = result.materials_minor
    assert error.value.keys == ("gel_coat", "milling", "topcoat", "wage")
    with pytest.raises(PricesMissing):
        _ = result.sent_out_minor


def test_packs_that_cannot_be_chosen_among_are_a_missing_price():
    fine = tuple(Pack(str(i), Decimal(1) + Decimal(i) / 1000 + Decimal("0.0001"), 1000 + i) for i in range(7))
    result = priced(line("Body", "wax", 1000.0), items=(ItemPrice("wax", "Wax", "release", "kg", fine),))
    assert result.missing == (MissingPrice("wax", "wax comes in sizes too finely different to choose among"),)


@pytest.mark.parametrize("buy", [-0.1, float("nan"), float("inf")])
def test_a_quantity_that_cannot_be_bought_is_refused(buy):
    with pytest.raises(OutOfRange, match=r"quantity of laminating_resin is .*; it must be at least 0 kg"):
        priced(line("Body", "laminating_resin", buy))


def test_another_way_of_charging_is_refused():
    with pytest.raises(
        UnknownChoice, match="way of charging materials 'cheap' is not known; use one of packs, pro_rata"
    ):
        priced(line("Body", "laminating_resin", 1.0), mode="cheap")


def test_an_hour_has_one_price():
    assert book(WAGE).hour("wage") == Decimal(1450)
    week = ItemPrice("week", "Week", "hour", "h", (Pack("40 hours", Decimal(40), 58001),))
    assert book(week).hour("week") == Decimal("1450.025")
    with pytest.raises(EstimatorError, match="The price book of 2026-03-02 has no hour 'overhead'; add it, in h"):
        book(WAGE).hour("overhead")
    with pytest.raises(EstimatorError, match="has no hour 'milling'"):
        book(MILLING).hour("milling")
    with pytest.raises(EstimatorError, match="Workshop hour has 0 prices on 2026-03-02; an hour has exactly one"):
        book(ItemPrice("wage", "Workshop hour", "hour", "h", ())).hour("wage")


@laws
@given(
    st.lists(st.floats(0, 500), min_size=1, max_size=12),
    st.sampled_from(["packs", "pro_rata"]),
)
def test_shares_sum_to_the_cost_and_more_never_costs_less(buys, mode):
    lines = [line(f"Section {i}", "laminating_resin", buy) for i, buy in enumerate(buys)]
    (resin,) = priced(*lines, mode=mode).materials
    assert sum(share.cost_minor for share in resin.shares) == resin.cost_minor
    (more,) = priced(*lines, line("One more", "laminating_resin", 30.0)).materials
    (before,) = priced(*lines).materials
    assert more.cost_minor >= before.cost_minor
    assert before.bought >= before.buy
