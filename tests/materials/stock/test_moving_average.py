"""The moving average, by a worked table and by what must always hold."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.stock.averaging import NOTHING, Held, found_more, running, value_of
from studio.money import MoneyError

# Worked by hand; the method is common practice, no source. Each row: what moved, its quantity, its value in pence
# (None where the average gives it), then quantity, value and average held after it.
WORKED = (
    ("first drum", "25", 10_900, "25", 10_900, "436"),
    ("issued", "-10", None, "15", 6_540, "436"),
    ("dearer drum", "25", 12_500, "40", 19_040, "476"),
    ("issued", "-12.5", None, "27.5", 13_090, "476"),
    ("written off", "-0.3333", None, "27.1667", 12_931, "475.987146"),
    ("all the rest", "-27.1667", None, "0", 0, None),
)


def test_the_worked_table_comes_out() -> None:
    held = NOTHING
    for what, quantity, value, quantity_after, value_after, average in WORKED:
        moved = Decimal(quantity)
        held = held.and_then(moved, -value_of(-moved, held) if value is None else value)
        assert held == Held(Decimal(quantity_after), value_after), what
        shown = None if held.average_minor is None else round(held.average_minor, 6)
        assert shown == (None if average is None else Decimal(average)), what


def test_the_running_sums_are_the_table_again() -> None:
    moves = [(Decimal(25), 10_900), (Decimal(-10), -4_360), (Decimal(25), 12_500)]
    assert running(moves) == (Held(Decimal(25), 10_900), Held(Decimal(15), 6_540), Held(Decimal(40), 19_040))


@given(
    st.decimals("0.0001", "5000", places=4),
    st.integers(0, 10**8),
    st.lists(st.decimals("0.0001", "900", places=4), max_size=20),
)
def test_what_goes_out_bit_by_bit_never_leaves_a_value_without_a_quantity(
    quantity: Decimal, value: int, parts: list[Decimal]
) -> None:
    held = Held(quantity, value)
    for part in [*parts, quantity]:
        taken = min(part, held.quantity)
        worth = value_of(taken, held)
        assert 0 <= worth <= held.value_minor
        held = held.and_then(-taken, -worth)
    if not held.quantity:
        assert held.value_minor == 0


@pytest.mark.parametrize("part", ["-1", "25.0001"])
def test_it_refuses_more_than_there_is_and_less_than_nothing(part: str) -> None:
    with pytest.raises(MoneyError, match="take from nought to all"):
        value_of(Decimal(part), Held(Decimal(25), 100))


def test_a_surplus_is_worth_the_average_and_without_stock_what_the_lot_cost() -> None:
    lot = Held(Decimal(25), 10_000)
    assert found_more(Decimal(2), Held(Decimal(10), 5_000), lot) == 1_000
    assert found_more(Decimal(2), NOTHING, lot) == 800


def test_a_surplus_of_nothing_is_refused() -> None:
    with pytest.raises(MoneyError, match="above nought"):
        found_more(Decimal(0), NOTHING, Held(Decimal(25), 10_000))
