"""A price that does not add up is refused before it can be printed."""

from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.figures.sheet import CostLine, Costs, points
from studio.money import MoneyError
from tests.jobs.quote_samples import price

PRICE = price((("Base", 100_00), ("Belly", 50_00)))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"parts": PRICE.parts[:1]},
            "The parts come to £100.00 and the price before tax is £150.00; work the price out again.",
        ),
        (
            {"taxes": (replace(PRICE.taxes[0], net_minor=149_99),)},
            "The taxed amounts come to £149.99 and the price before tax is £150.00; work the price out again.",
        ),
        (
            {"taxes": (replace(PRICE.taxes[0], tax_minor=29_99),)},
            "The taxes come to £29.99 and the tax is £30.00; work the price out again.",
        ),
        (
            {"gross_minor": 180_01},
            "The price and tax come to £180.00 and the total is £180.01; work the price out again.",
        ),
        (
            {"payments": PRICE.payments[:-1]},
            "The stage payments come to £162.00 and the total is £180.00; work the price out again.",
        ),
    ],
)
def test_a_price_that_does_not_add_up_is_refused(changes: dict[str, object], sentence: str) -> None:
    with pytest.raises(MoneyError) as refused:
        replace(PRICE, **changes)

    assert str(refused.value) == sentence


def test_costs_are_the_sum_of_their_lines() -> None:
    lines = (CostLine("Resin", Decimal(40), "kg", "", 210_00), CostLine("Profit", None, "", "20 % of the price", 52_51))

    assert Costs("GBP", lines).total_minor == 262_51


def test_points_are_the_lines_that_say_something() -> None:
    assert points("  One crate \r\n\n\tTwo lifts\n") == ("One crate", "Two lifts")
    assert points("") == ()
