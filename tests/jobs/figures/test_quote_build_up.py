"""The build-up of a price: a worked table, and a thousand random quotes against exact fractions."""

import csv
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.figures.judgement import price_cautions
from jobs.figures.parts import CostPart, LabourPart
from jobs.figures.price import PaymentStage, PricePart, price_with_tax, stage_payments
from jobs.figures.profit import Margin, MarkUp
from jobs.figures.quote import Costing, Rates, build_up
from jobs.figures.reference import COEFFICIENTS
from materials.estimator.errors import EstimatorError

RATES = Rates(Decimal(1453), Decimal("0.275"), Decimal("0.8"), Decimal(1100))
WORKED = Costing(
    labour=(
        LabourPart("labour_pattern", "Pattern", Decimal("41.5")),
        LabourPart("labour_mould", "Mould", Decimal("22.25")),
        LabourPart("labour_cast", "Cast", Decimal(18)),
        LabourPart("labour_finish", "Finish", Decimal("27.75")),
    ),
    rates=RATES,
    materials=(
        CostPart("gel_coat", "Gel coat", 8433),
        CostPart("laminating_resin", "Laminating resin", 16000),
        CostPart("glass_csm_450", "Chopped strand mat 450", 6117),
    ),
    consumables_share=Decimal("0.075"),
    sent_out=(CostPart("milling", "Foam milling", 42100),),
    handling_share=Decimal("0.1"),
    contingency_share=Decimal("0.075"),
    profit=Margin(Decimal("0.18")),
)


def costing(**changes):
    fields = {name: getattr(WORKED, name) for name in WORKED.__dataclass_fields__}
    return Costing(**(fields | changes))


def test_it_builds_the_quote_that_was_worked_by_hand():
    built = build_up(WORKED)
    parts = (
        PricePart("The pear", Decimal(3), "standard"),
        PricePart("Its leaf", Decimal(2), "standard"),
        PricePart("Drawings", Decimal(1), "zero"),
    )
    price = price_with_tax(built.net_minor, parts, {"standard": Decimal("0.2"), "zero": Decimal(0)})
    shares = (("On order", "0.3"), ("Pattern passed", "0.3"), ("Casts passed", "0.3"), ("On hand-over", "0.1"))
    payments = stage_payments(price.gross_minor, [PaymentStage(label, Decimal(share)) for label, share in shares])
    found = {
        **{line.key: line.amount_minor for line in built.lines},
        "base": built.base_minor,
        "cost": built.cost_minor,
        "net": price.net_minor,
        **{f"part {part.label}": part.net_minor for part in price.parts},
        **{f"tax {tax.category}": tax.tax_minor for tax in price.taxes},
        "gross": price.gross_minor,
        **{f"payment {payment.label}": payment.amount_minor for payment in payments},
    }
    table = (Path(__file__).parent / "worked_quote.csv").read_text(encoding="utf-8").splitlines()
    assert found == {row["line"]: int(row["minor"]) for row in csv.DictReader(table)}


def test_lines_carry_their_kind_and_what_was_counted():
    built = build_up(WORKED)
    assert [line.kind for line in built.lines] == [
        *["labour"] * 4,
        "overhead",
        *["material"] * 3,
        "consumables",
        "sent_out",
        "handling",
        "contingency",
        "profit",
    ]
    assert (built.lines[0].quantity, built.lines[0].unit) == (Decimal("41.5"), "h")
    assert built.sum_of("labour", "overhead") == 253571 + 120450
    assert built.margin == pytest.approx(0.18, abs=1e-6)


def test_shares_of_nothing_make_no_line():
    built = build_up(costing(materials=(), sent_out=(), rates=Rates(Decimal(1453), Decimal(0), Decimal(1), Decimal(0))))
    assert {line.kind for line in built.lines} == {"labour", "contingency", "profit"}


def test_a_quote_of_nothing_is_nought():
    built = build_up(costing(labour=(), materials=(), sent_out=()))
    assert (built.net_minor, built.margin) == (0, 0.0)


def test_the_same_build_up_is_worked_at_other_hours():
    more = build_up(WORKED.scaled_to(Decimal("131.4")))
    # 131.4 h is 1.2 times 109.5 h, in every line of labour.
    assert [line.quantity for line in more.lines[:2]] == [Decimal("49.8"), Decimal("26.7")]
    assert more.sum_of("overhead") == 144540
    assert more.sum_of("material", "consumables", "sent_out") == build_up(WORKED).sum_of(
        "material", "consumables", "sent_out"
    )
    assert WORKED.scaled_to(WORKED.hours) is WORKED


def test_hours_cannot_be_shared_out_among_none():
    with pytest.raises(EstimatorError, match="12 h cannot be shared out; the quote has no hours yet"):
        costing(labour=()).scaled_to(Decimal(12))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"contingency_share": Decimal("7.5")},
            "contingency is 7.5; it must be between 0 and 0.9. Give a share of the base.",
        ),
        (
            {"consumables_share": Decimal(-1)},
            "consumables is -1; it must be between 0 and 1. Give a share of the materials.",
        ),
        (
            {"handling_share": Decimal("NaN")},
            "handling of sent-out work is nan; it must be between 0 and 1. Give a share",
        ),
        (
            {"labour": (LabourPart("labour_cast", "Cast", Decimal(-1)),)},
            "hours of Cast is -1 h; it must be at least 0 h.",
        ),
        (
            {"materials": (CostPart("wax", "Wax", -5),)},
            "cost of Wax is -5 minor units; it must be at least 0 minor units.",
        ),
    ],
)
def test_it_refuses_shares_and_costs_that_cannot_be(changes, sentence):
    with pytest.raises(EstimatorError) as error:
        costing(**changes)
    assert str(error.value).startswith(sentence)


def test_it_refuses_two_lines_with_one_key():
    twice = (CostPart("wax", "Wax", 5), CostPart("wax", "Wax", 5))
    with pytest.raises(EstimatorError, match="The quote has two lines with the key 'wax'; give each its own"):
        build_up(costing(materials=twice))


def test_an_hour_that_is_never_productive_is_refused():
    with pytest.raises(EstimatorError, match=r"productive share of paid hours is 0; it must be between 0\.05 and 1"):
        Rates(Decimal(1450), Decimal("0.28"), Decimal(0), Decimal(0))


def test_an_unusual_contingency_and_a_quote_without_its_hours_are_pointed_out():
    usual = COEFFICIENTS["contingency"]
    assert price_cautions(build_up(WORKED), Decimal("0.075"), usual) == ()
    (low,) = price_cautions(build_up(WORKED), Decimal("0.02"), usual)
    assert low.text == "Contingency is 2.0%; between 3% and 15% is usual. Say on the quote why it differs."
    few = build_up(costing(labour=(LabourPart("labour_cast", "Cast", Decimal(2)),)))
    (heavy,) = price_cautions(few, Decimal("0.075"), usual)
    assert heavy.code == "materials_outweigh_labour"


# The oracle: the same rules in exact fractions and whole numbers, written apart from the code.


def half_up(value: Fraction) -> int:
    return (2 * value.numerator + value.denominator) // (2 * value.denominator)


def parted(total: int, weights: list[Fraction]) -> list[int]:
    last = max(i for i, weight in enumerate(weights) if weight)
    parts: list[int] = []
    for i, weight in enumerate(weights):
        left = total - sum(parts)
        parts.append(left if i == last else min(left, half_up(total * weight / sum(weights))))
    return parts


def by_fractions(case: Costing) -> tuple[list[int], int]:
    hour = Fraction(case.rates.wage_minor) * (1 + Fraction(case.rates.oncost)) / Fraction(case.rates.productive_share)
    lines = [half_up(Fraction(part.hours) * hour) for part in case.labour]
    if case.rates.overhead_minor:
        lines.append(half_up(sum(Fraction(part.hours) for part in case.labour) * Fraction(case.rates.overhead_minor)))
    for costs, share in ((case.materials, case.consumables_share), (case.sent_out, case.handling_share)):
        lines += [part.amount_minor for part in costs]
        if costs and share:
            lines.append(half_up(sum(part.amount_minor for part in costs) * Fraction(share)))
    base = sum(lines)
    cost = base + half_up(base * Fraction(case.contingency_share))
    rate = Fraction(case.profit.rate)
    net = half_up(cost / (1 - rate) if isinstance(case.profit, Margin) else cost * (1 + rate))
    return [*lines, cost - base, net - cost], net


shares = st.decimals(0, Decimal("0.9"), places=4)


def costs(kind):
    amounts = st.lists(st.integers(0, 10**8), max_size=6)
    return amounts.map(lambda each: tuple(CostPart(f"{kind}_{i}", "Cost", amount) for i, amount in enumerate(each)))


labour = st.lists(st.decimals(0, 2000, places=4), max_size=6).map(
    lambda hours: tuple(LabourPart(f"labour_{i}", "Stage", hour) for i, hour in enumerate(hours))
)
random_costings = st.builds(
    Costing,
    labour=labour,
    rates=st.builds(
        Rates,
        st.decimals(0, 10**5, places=3),
        shares,
        st.decimals(Decimal("0.05"), 1, places=4),
        st.decimals(0, 10**5, places=3),
    ),
    materials=costs("material"),
    consumables_share=shares,
    sent_out=costs("sent_out"),
    handling_share=shares,
    contingency_share=shares,
    profit=st.builds(Margin, shares) | st.builds(MarkUp, shares),
)
weights = st.lists(st.decimals(0, 10, places=3), min_size=1, max_size=8).filter(any)


@settings(max_examples=2000, derandomize=True, deadline=None)
@given(
    random_costings, weights, st.lists(st.sampled_from(["standard", "reduced", "zero"]), min_size=8, max_size=8), shares
)
def test_two_thousand_random_quotes_agree_with_exact_fractions_to_the_minor_unit(case, parts, categories, reduced):
    built = build_up(case)
    lines, net = by_fractions(case)
    assert [line.amount_minor for line in built.lines] == lines
    assert built.net_minor == net == sum(lines)

    rates = {"standard": Decimal("0.2"), "reduced": reduced, "zero": Decimal(0)}
    priced = price_with_tax(net, [PricePart(f"{i}", weight, categories[i]) for i, weight in enumerate(parts)], rates)
    amounts = parted(net, [Fraction(weight) for weight in parts])
    assert [part.net_minor for part in priced.parts] == amounts
    owed = {
        category: half_up(sum(a for a, c in zip(amounts, categories, strict=False) if c == category) * Fraction(rate))
        for category, rate in rates.items()
    }
    assert {tax.category: tax.tax_minor for tax in priced.taxes} == {
        category: owed[category] for category in categories[: len(parts)]
    }
    assert priced.gross_minor == net + sum(tax.tax_minor for tax in priced.taxes)
    assert sum(part.net_minor for part in priced.parts) == sum(tax.net_minor for tax in priced.taxes) == net

    stages = [PaymentStage(str(i), Decimal(share)) for i, share in enumerate(("0.3", "0.3", "0.25", "0.15"))]
    paid = [payment.amount_minor for payment in stage_payments(priced.gross_minor, stages)]
    assert paid == parted(priced.gross_minor, [Fraction(stage.share) for stage in stages])
    assert sum(paid) == priced.gross_minor
