"""Tax by category and stage payments."""

from decimal import Decimal

import pytest

from jobs.figures.price import PaymentStage, PricePart, price_with_tax, stage_payments
from materials.estimator.errors import EstimatorError, Missing, OutOfRange
from studio.money import MoneyError


def part(weight, category="standard", label="Part"):
    return PricePart(label, Decimal(weight), category)


def test_tax_is_rounded_once_on_the_sum_of_its_category():
    # Three parts of 0.03: a fifth of each is 0.006, one penny a part; of their sum, 0.018, two pence in all.
    price = price_with_tax(9, [part(1), part(1), part(1)], {"standard": Decimal("0.2")})
    assert (price.tax_minor, price.gross_minor) == (2, 11)


def test_categories_are_taxed_apart_in_the_order_of_the_parts():
    parts = [part(1, "zero"), part(2, "standard"), part(1, "zero")]
    price = price_with_tax(4000, parts, {"standard": Decimal("0.2"), "zero": Decimal(0), "reduced": Decimal("0.05")})
    assert [(tax.category, tax.net_minor, tax.tax_minor) for tax in price.taxes] == [
        ("zero", 2000, 0),
        ("standard", 2000, 400),
    ]


def test_a_credit_has_a_credit_of_tax():
    price = price_with_tax(-10001, [part(1), part(1)], {"standard": Decimal("0.2")})
    assert [each.net_minor for each in price.parts] == [-5001, -5000]
    assert (price.tax_minor, price.gross_minor) == (-2000, -12001)


def test_a_category_without_a_rate_is_named():
    with pytest.raises(Missing, match="The tax rate of 'reduced' is missing; give the category of 'Leaf' a rate"):
        price_with_tax(100, [part(1, "reduced", "Leaf")], {"standard": Decimal("0.2")})
    with pytest.raises(OutOfRange, match="tax rate of standard is 20; it must be between 0 and 1"):
        price_with_tax(100, [part(1)], {"standard": Decimal(20)})


def test_a_price_without_parts_is_refused():
    with pytest.raises(MoneyError, match="The shares are none"):
        price_with_tax(100, [], {})


@pytest.mark.parametrize("shares", [("0.3", "0.3", "0.3"), ("0.5", "0.51"), ("1.2", "-0.2"), ("1", "0"), ()])
def test_stage_payments_that_do_not_make_one_are_refused(shares):
    stages = [PaymentStage("Stage", Decimal(share)) for share in shares]
    with pytest.raises(EstimatorError, match=r"The stage payments are .*; give shares above nought that sum to 1"):
        stage_payments(1000, stages)


def test_thirds_cannot_be_stage_payments_but_their_decimals_can():
    stages = [PaymentStage("Stage", Decimal(share)) for share in ("0.3333", "0.3333", "0.3334")]
    assert [payment.amount_minor for payment in stage_payments(100000, stages)] == [33330, 33330, 33340]
