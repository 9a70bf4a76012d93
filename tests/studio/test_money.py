"""Money: the rounding table written by hand, parts that sum to the whole, and amounts as people type them."""

import csv
from decimal import Decimal, getcontext
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from studio.money import (
    MoneyError,
    exact,
    format_minor,
    minor_digits,
    parse_amount,
    round_half_up,
    split,
    to_decimal,
    to_minor,
    working,
)

laws = settings(derandomize=True, deadline=None)

TABLE = list(csv.DictReader((Path(__file__).parent / "rounding_table.csv").read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize("row", TABLE, ids=[row["case"] for row in TABLE])
def test_it_rounds_as_the_table_written_by_hand(row):
    with working():
        over, _, under = row["share"].partition("/")
        amount = Decimal(row["amount"]) * Decimal(over) / Decimal(under or 1)
    assert to_minor(amount, row["currency"]) == int(row["minor"])


def test_vat_of_a_fifth_is_right_on_every_price_from_a_penny_to_ten_pounds():
    # Half up in whole numbers, without a point anywhere: floor((2 x 20 p + 100) / 200).
    wrong = [p for p in range(1, 1001) if round_half_up(Decimal(p) * Decimal("0.2")) != (40 * p + 100) // 200]
    assert wrong == []


@pytest.mark.parametrize(
    ("currency", "digits"), [("GBP", 2), ("EUR", 2), ("JPY", 0), ("ISK", 0), ("KWD", 3), ("TND", 3)]
)
def test_it_knows_the_digits_of_a_currency_from_iso_4217(currency, digits):
    assert minor_digits(currency) == digits
    assert to_minor(to_decimal(123456, currency), currency) == 123456


@pytest.mark.parametrize("code", ["ZZZ", "gbp", "", "GB", "£"])
def test_it_refuses_a_code_that_is_no_currency(code):
    with pytest.raises(MoneyError, match="is not a code of ISO 4217; use one such as GBP, EUR or USD"):
        minor_digits(code)


def test_a_float_becomes_the_decimal_that_a_person_reads():
    assert exact(0.1) == Decimal("0.1")
    assert exact(1e-7) == Decimal("0.0000001")
    assert exact(3) == Decimal(3)
    assert exact("-12.50") == Decimal("-12.50")


@pytest.mark.parametrize(
    "value",
    [
        float("nan"),
        float("inf"),
        float("-inf"),
        Decimal("NaN"),
        "NaN",
        "1e5",
        "1_000",
        " 1",
        "",
        "１",
        "1.",
        ".5",
        "1\n",
    ],
)
def test_it_refuses_what_is_not_a_plain_finite_number(value):
    with pytest.raises(MoneyError, match="is not a"):
        exact(value)


def test_it_refuses_an_amount_too_large_to_keep():
    with pytest.raises(MoneyError, match="too large to keep; check its figures"):
        to_minor(Decimal(10) ** 14, "GBP")
    with pytest.raises(MoneyError, match="too large to keep"):
        round_half_up(Decimal("NaN"))


def test_rounding_does_not_hang_on_the_callers_decimal_context():
    before = getcontext().prec
    getcontext().prec = 3
    try:
        assert to_minor(Decimal("123456.785"), "GBP") == 12345679
        assert split(1_000_000, [Decimal(1)] * 3) == [333333, 333333, 333334]
        assert to_decimal(123456789, "GBP") == Decimal("1234567.89")
    finally:
        getcontext().prec = before


def test_stage_payments_round_each_and_put_the_residue_on_the_last():
    assert split(987654, [Decimal("0.3"), Decimal("0.3"), Decimal("0.3"), Decimal("0.1")]) == [
        296296,
        296296,
        296296,
        98766,
    ]


def test_many_small_parts_never_push_the_last_below_nought():
    parts = split(5, [Decimal(1)] * 10)
    # A tenth of five is a half, which goes up: the first five take all there is.
    assert parts == [1, 1, 1, 1, 1, 0, 0, 0, 0, 0]


def test_a_part_without_weight_is_nought_and_the_residue_goes_before_it():
    assert split(100, [Decimal(1), Decimal(0), Decimal(1), Decimal(1), Decimal(0)]) == [33, 0, 33, 34, 0]


def test_a_credit_is_parted_as_the_amount_is():
    assert split(-100, [Decimal(1)] * 3) == [-33, -33, -34]


@pytest.mark.parametrize("weights", [[], [Decimal(0)], [Decimal(-1), Decimal(2)], [Decimal("NaN")], [Decimal("inf")]])
def test_it_refuses_shares_that_part_nothing(weights):
    with pytest.raises(MoneyError, match="give numbers of nought or more, at least one above nought"):
        split(100, weights)


@laws
@given(
    st.integers(-(10**12), 10**12),
    st.lists(st.decimals(0, 10, places=4), min_size=1, max_size=30).filter(lambda weights: any(weights)),
)
def test_parts_sum_to_the_whole_and_have_its_sign(total, weights):
    parts = split(total, weights)
    assert sum(parts) == total
    assert all(part * total >= 0 for part in parts)
    assert all(part == 0 for part, weight in zip(parts, weights, strict=True) if weight == 0)


@laws
@given(st.decimals(-(10**9), 10**9, places=6))
def test_rounding_agrees_with_exact_fractions(amount):
    whole = abs(Fraction(amount)) * 100
    rounded = (2 * whole.numerator + whole.denominator) // (2 * whole.denominator)
    assert to_minor(amount, "GBP") == (rounded if amount > 0 else -rounded)


@pytest.mark.parametrize(
    ("typed", "currency", "minor"),
    [
        ("1234.5", "GBP", 123450),
        ("1 234.50", "GBP", 123450),
        ("1\u202f234,50", "EUR", 123450),
        ("£1,234.50", "GBP", 123450),
        ("£ 12", "GBP", 1200),
        ("1234,50", "GBP", 123450),
        ("1,234", "GBP", 123400),
        ("1,234,567", "GBP", 123456700),
        ("1.234,50 €", "EUR", 123450),
        ("1.234.567,5", "EUR", 123456750),
        ("gbp 5", "GBP", 500),
        ("5 GBP", "GBP", 500),
        ("1,234", "JPY", 1234),
        ("1.250", "KWD", 1250),
        ("0,250", "KWD", 250),
        ("0", "GBP", 0),
    ],
)
def test_it_reads_an_amount_as_people_type_it(typed, currency, minor):
    assert parse_amount(typed, currency) == minor


@pytest.mark.parametrize(
    ("typed", "currency", "sentence"),
    [
        ("1,234", "KWD", "“1,234” can be read two ways; type it without the comma, or with a point."),
        ("1.234", "GBP", "“1.234” has more digits after the point than GBP has, 2; type it to the unit."),
        ("12.5", "JPY", "“12.5” has more digits after the point than JPY has, 0; type it to the unit."),
        ("$5", "GBP", "“$5” is not an amount in GBP; type figures such as 1234.50."),
        ("-5", "GBP", "“-5” is not an amount in GBP; type figures such as 1234.50."),
        ("1e5", "GBP", "“1e5” is not an amount in GBP; type figures such as 1234.50."),
        ("1 23", "GBP", "“1 23” is not an amount in GBP; type figures such as 1234.50."),
        ("", "GBP", "The amount has 0 characters; type 1 to 40, such as 1234.50."),
        ("1" * 400, "GBP", "The amount has 400 characters; type 1 to 40, such as 1234.50."),
    ],
)
def test_it_refuses_an_amount_that_it_would_have_to_guess(typed, currency, sentence):
    with pytest.raises(MoneyError) as error:
        parse_amount(typed, currency)
    assert str(error.value) == sentence


def test_a_credit_is_read_only_where_one_is_allowed():
    assert parse_amount("-5.00", "GBP", signed=True) == -500
    assert parse_amount("−£ 5", "GBP", signed=True) == -500
    with pytest.raises(MoneyError):
        parse_amount("--5", "GBP", signed=True)


@laws
@given(st.text(max_size=60) | st.text(alphabet="0123456789.,- £€GBPe+", max_size=45))
def test_whatever_is_typed_gives_an_amount_or_one_plain_sentence(typed):
    try:
        outcome = format_minor(parse_amount(typed, "GBP", signed=True), "GBP")
    except MoneyError as error:
        outcome = str(error)
    assert outcome.endswith((".", *"0123456789"))
    assert outcome.encode("utf-8")


@laws
@given(st.integers(-(10**15), 10**15), st.sampled_from(["GBP", "EUR", "JPY", "KWD", "AUD"]))
def test_what_is_printed_can_be_typed_again(minor, currency):
    assert parse_amount(format_minor(minor, currency), currency, signed=True) == minor


@pytest.mark.parametrize(
    ("minor", "currency", "text"),
    [
        (927646, "GBP", "£9,276.46"),
        (-300, "GBP", "−£3.00"),
        (0, "EUR", "€0.00"),
        (1250, "KWD", "KWD\u00a01.250"),
        (123456, "JPY", "¥123,456"),
        (5, "AUD", "AUD\u00a00.05"),
    ],
)
def test_it_prints_an_amount_with_its_currency(minor, currency, text):
    assert format_minor(minor, currency) == text
