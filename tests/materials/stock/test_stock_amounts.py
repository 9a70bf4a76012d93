"""Quantities of items as people type them."""

from decimal import Decimal

import pytest

from materials.estimator.errors import EstimatorError
from materials.stock.amounts import read_amount


@pytest.mark.parametrize(
    ("text", "unit", "amount"),
    [
        ("25", "kg", "25"),
        ("2.5", "kg", "2.5"),
        ("2,5", "kg", "2.5"),
        ("850 g", "kg", "0.85"),
        ("12 l", "l", "12"),
        ("500 ml", "l", "0.5"),
        ("1 l", "ml", "1000"),
        ("60", "m2", "60"),
        ("100", "each", "100"),
        ("100 pieces", "each", "100"),
    ],
)
def test_it_reads_what_people_type(text: str, unit: str, amount: str) -> None:
    assert read_amount(text, unit) == Decimal(amount)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        *(("", "kg"), ("some", "kg"), ("-3", "kg"), ("0", "kg"), ("nan", "kg"), ("inf", "kg"), ("5 m", "kg")),
        *(("1.5", "each"), ("0", "each"), ("2 kg", "each"), ("0.00001", "kg"), ("9999999", "each")),
    ],
)
def test_it_refuses_what_is_no_quantity_of_the_item(text: str, unit: str) -> None:
    with pytest.raises(EstimatorError):
        read_amount(text, unit)


@pytest.mark.parametrize("unit", ["kg", "each"])
def test_a_count_may_find_nothing(unit: str) -> None:
    assert read_amount("0", unit, allow_zero=True) == 0
