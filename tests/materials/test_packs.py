"""The cheapest packs: against every basket there is, and within bounded work."""

from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.packs import Pack, TooManyPacks, cheapest_packs
from studio.money import MoneyError

laws = settings(derandomize=True, deadline=None)

RESIN = [Pack("1 kg tin", Decimal(1), 900), Pack("5 kg tin", Decimal(5), 3900), Pack("25 kg drum", Decimal(25), 16000)]


def counts(need, packs):
    return {choice.pack.label: choice.count for choice in cheapest_packs(Decimal(need), packs)}


def cost_and_held(choices):
    return (
        sum(choice.count * choice.pack.price_minor for choice in choices),
        sum(choice.count * choice.pack.quantity for choice in choices),
    )


def test_three_tins_may_be_cheaper_than_a_drum():
    assert counts("14.05", RESIN) == {"5 kg tin": 3}


def test_a_drum_may_be_cheaper_than_tins_that_fit_better():
    assert counts("20.5", RESIN) == {"25 kg drum": 1}


def test_packs_are_mixed_where_that_is_cheapest():
    assert counts("31", RESIN) == {"25 kg drum": 1, "5 kg tin": 1, "1 kg tin": 1}


def test_a_need_that_packs_meet_exactly_buys_no_more():
    assert counts("25", RESIN) == {"25 kg drum": 1}
    assert counts("25.000001", RESIN) == {"25 kg drum": 1, "1 kg tin": 1}


def test_among_equal_costs_the_least_is_left_over():
    packs = [Pack("ten", Decimal(10), 1000), Pack("eight", Decimal(8), 1000), Pack("four", Decimal(4), 500)]
    assert counts("7", packs) == {"eight": 1}
    assert counts("12", [Pack("seven", Decimal(7), 600), Pack("six", Decimal(6), 600)]) == {"six": 2}


def test_nothing_needed_buys_nothing():
    assert cheapest_packs(Decimal(0), RESIN) == ()


def test_a_pack_that_costs_nothing_is_taken():
    assert counts("3", [Pack("gift", Decimal(2), 0), Pack("tin", Decimal(5), 100)]) == {"gift": 2}


def test_stock_sizes_without_a_common_measure_are_weighed_exactly():
    blocks = [
        Pack("A", Decimal("1.728"), 17280),
        Pack("B", Decimal("1.5625"), 15600),
        Pack("C", Decimal("0.864"), 8700),
    ]
    assert counts("100", blocks) == {"B": 64}


def test_a_great_need_is_bought_in_the_best_size_and_finished_in_small_ones():
    bottles = [
        Pack("s", Decimal(100), 450),
        Pack("m", Decimal(500), 1500),
        Pack("l", Decimal(5000), 9900),
        Pack("xl", Decimal(25000), 40000),
    ]
    assert counts("737997.814", bottles) == {"xl": 29, "l": 2, "m": 6}


packs = st.builds(
    lambda quantity, price: Pack(f"{quantity}", quantity, price),
    st.integers(5, 120).map(lambda tenths: Decimal(tenths) / 10),
    st.integers(0, 90),
)


@laws
@given(st.integers(1, 250).map(lambda tenths: Decimal(tenths) / 10), st.lists(packs, min_size=1, max_size=3))
def test_no_basket_is_cheaper_or_as_cheap_with_less_left(need, sizes):
    baskets = product(*[range(int(need / pack.quantity) + 2) for pack in sizes])
    covering = [
        (
            sum(n * pack.price_minor for n, pack in zip(basket, sizes, strict=True)),
            sum(n * pack.quantity for n, pack in zip(basket, sizes, strict=True)),
        )
        for basket in baskets
    ]
    assert cost_and_held(cheapest_packs(need, sizes)) == min(basket for basket in covering if basket[1] >= need)


def test_sizes_too_finely_different_are_refused_in_bounded_work():
    sizes = [Pack(str(i), Decimal(1) + Decimal(i) / 1000 + Decimal("0.0001"), 1000 + i) for i in range(7)]
    with pytest.raises(
        TooManyPacks, match="The packs come in 7 sizes too finely different to choose among; list fewer"
    ):
        cheapest_packs(Decimal(1000), sizes)


@pytest.mark.parametrize(
    ("quantity", "price"), [(Decimal(0), 1), (Decimal(-1), 1), (Decimal("NaN"), 1), (Decimal("inf"), 1)]
)
def test_a_pack_must_hold_something(quantity, price):
    with pytest.raises(MoneyError, match="give what one pack holds, above nought"):
        Pack("tin", quantity, price)


def test_a_pack_has_no_negative_price():
    with pytest.raises(MoneyError, match="Pack 'tin' costs -1; give a price of nought or more"):
        Pack("tin", Decimal(1), -1)


@pytest.mark.parametrize(("need", "sizes"), [(Decimal(1), []), (Decimal(-1), RESIN), (Decimal("NaN"), RESIN)])
def test_a_need_that_cannot_be_met_is_refused(need, sizes):
    with pytest.raises(MoneyError, match="cannot be met from"):
        cheapest_packs(need, sizes)
