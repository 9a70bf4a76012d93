"""Costing, three-point estimates and learning against figures from outside the program."""

from datetime import date
from decimal import Decimal

import pytest

from jobs.figures.learning import crawford_total, crawford_unit, wright_average, wright_unit
from jobs.figures.parts import CostPart, LabourPart
from jobs.figures.price import PaymentStage, PricePart, price_with_tax, stage_payments
from jobs.figures.profit import Margin, MarkUp
from jobs.figures.quote import Costing, Rates, build_up
from jobs.figures.reference import COEFFICIENTS
from jobs.figures.statement import Agreed, Entry, Statement, account_of, dues
from jobs.figures.threepoint import ThreePoint

RATES = Rates(Decimal(1450), Decimal("0.28"), Decimal("0.8"), Decimal(1100))


def test_margin_and_mark_up_by_definition():
    # margin = mark-up / (1 + mark-up); price = cost / (1 - margin).
    assert MarkUp(Decimal("0.25")).as_margin() == Margin(Decimal("0.2"))
    assert Margin(Decimal("0.2")).price_minor(800000) == 1000000
    assert MarkUp(Decimal("0.2")).price_minor(800000) == 960000


def test_the_cost_of_a_productive_hour_by_definition():
    # wage x (1 + on-cost) / productive share = 14.50 x 1.28 / 0.80.
    assert RATES.hour_minor == Decimal("2320")


def test_a_full_build_up_computed_apart():
    # Base, contingency, margin, tax in this order. The 12 % wastage of the example stands in the place of consumables.
    built = build_up(
        Costing(
            labour=(LabourPart("labour", "Labour", Decimal(120)),),
            rates=RATES,
            materials=(CostPart("materials", "Materials", 185000),),
            consumables_share=Decimal("0.12"),
            sent_out=(CostPart("sent_out", "Sent-out work", 90000),),
            handling_share=Decimal(0),
            contingency_share=Decimal("0.075"),
            profit=Margin(Decimal("0.18")),
        )
    )
    assert built.sum_of("labour") == 278400
    assert built.sum_of("material", "consumables") == 207200
    assert built.sum_of("overhead") == 132000
    assert built.base_minor == 707600
    assert built.sum_of("contingency") == 53070
    assert built.cost_minor == 760670
    price = price_with_tax(built.net_minor, [PricePart("Piece", Decimal(1), "standard")], {"standard": Decimal("0.2")})
    # Unrounded 9276.463, 1855.293 and 11131.756: each line here is rounded once and the sum is of rounded lines.
    assert price.net_minor == pytest.approx(927646.341463, abs=1)
    assert price.tax_minor == pytest.approx(185529.268293, abs=1)
    assert price.gross_minor == pytest.approx(1113175.60976, abs=1)


def test_stage_payments_sum_to_the_contract_by_definition():
    stages = [PaymentStage(f"{i}", Decimal(share)) for i, share in enumerate(("0.3", "0.3", "0.3", "0.1"))]
    paid = [payment.amount_minor for payment in stage_payments(987654, stages)]
    assert paid == [296296, 296296, 296296, 98766]
    assert sum(paid) == 987654


def test_contingency_has_the_band_of_public_art_commissioning():
    # Commissions North guideline: 3 % to 15 % by complexity.
    assert (COEFFICIENTS["contingency"].low, COEFFICIENTS["contingency"].high) == (0.03, 0.15)


def test_the_three_point_mean_and_variance_of_pert():
    # (o + 4 m + p) / 6 and ((p - o) / 6)^2; activity B of Hillier and Lieberman's construction example, from memory.
    point = ThreePoint(2.0, 3.5, 8.0)
    assert point.mean == pytest.approx(4.0, rel=1e-9)
    assert point.deviation**2 == pytest.approx(1.0, rel=1e-9)


def test_three_point_quantiles_computed_with_a_statistics_library():
    point = ThreePoint(2.0, 3.5, 8.0)
    assert point.normal_quantile(0.8) == pytest.approx(4.84162123357, rel=1e-4)
    assert point.beta_quantile(0.5) == pytest.approx(3.88286102273, rel=1e-4)
    assert point.beta_quantile(0.8) == pytest.approx(4.94115405783, rel=1e-4)
    assert point.triangular_mean == pytest.approx(4.5, rel=1e-6)
    assert point.triangular_quantile(0.5) == pytest.approx(4.32576538583, rel=1e-4)
    assert point.triangular_quantile(0.8) == pytest.approx(5.67620999228, rel=1e-4)


def test_the_eighty_per_cent_unit_curve_as_printed():
    # Learning-curve table in the solutions manual to Stevenson, Operations Management, from memory.
    assert crawford_unit(1.0, 0.8, 10) == pytest.approx(0.477, abs=0.0005)
    assert crawford_total(1.0, 0.8, 10) == pytest.approx(6.315, abs=0.001)


def test_the_cumulative_average_curve_as_printed():
    # M. Wideman, Appendix 2, Learning Curve Mathematics, model A: by the unit model the second unit would be 80.
    assert wright_average(100.0, 0.8, 2) == pytest.approx(80.0, rel=1e-9)
    assert wright_unit(100.0, 0.8, 2) == pytest.approx(60.0, rel=1e-9)
    assert wright_average(100.0, 0.8, 4) == pytest.approx(64.0, rel=1e-9)
    assert crawford_unit(100.0, 0.8, 2) == pytest.approx(80.0, rel=1e-9)


def test_what_is_still_owed_is_the_total_with_tax_less_what_was_paid():
    # EN 16931, BR-CO-15 and BR-CO-16, from memory: total with tax = total without + tax; due = total with tax - paid.
    quote = Agreed("26-001 / 1", "", date(2026, 3, 2), 987_654, 197_531, 1_185_185)
    owed = dues([("payment_1", "All of it", 1_185_185)], Decimal(0))
    paid = [Entry("payment_1", "asked", quote.on, 1_185_185), Entry("payment_1", "paid", quote.on, 500_000)]
    statement = Statement("GBP", (quote,), account_of(owed, paid))
    assert statement.net_minor + statement.tax_minor == statement.gross_minor
    assert statement.to_pay_minor == statement.gross_minor - statement.paid_minor == 685_185


def test_half_of_the_retention_is_released_at_completion_and_half_after_defects():
    # 0 to 5 % of each payment, custom of building contracts in the United Kingdom, from memory.
    owed = dues([("1", "First", 600_000), ("2", "Second", 400_000)], Decimal("0.05"))
    assert [each.payable_minor for each in owed] == [570_000, 380_000, 25_000, 25_000]
