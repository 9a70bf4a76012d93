"""Bare numbers and shares, as people type them."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from studio.forms import LinesField, NumberField, PercentField, plain_number

HOURS = NumberField(label="Hours", wanted="the hours, such as 7.5", low="0.5", high="24")


@pytest.mark.parametrize(
    ("typed", "number"), [("7.5", "7.5"), ("7,5", "7.5"), (" 8 ", "8"), ("0.5", "0.5"), ("24", "24"), ("007", "7")]
)
def test_a_number_is_read_with_a_point_or_a_comma(typed: str, number: str) -> None:
    assert HOURS.clean(typed) == Decimal(number)


@pytest.mark.parametrize(
    "typed", ["seven", "7.5.1", "-3", "+3", "1e3", "nan", "inf", "٧", "７", "7h", ".5", "5.", "0x10"]
)
def test_what_is_not_a_plain_number_is_refused_by_name(typed: str) -> None:
    with pytest.raises(ValidationError, match=r"is not a plain number\. Enter the hours, such as 7\.5\."):
        HOURS.clean(typed)


@pytest.mark.parametrize(("typed", "ways"), [("1,200", "1200 or 1.2"), ("12,345", "12345 or 12.345")])
def test_a_comma_that_may_part_thousands_is_asked_about(typed: str, ways: str) -> None:
    with pytest.raises(ValidationError, match=f"“{typed}” can be read two ways; type {ways}, whichever is meant."):
        NumberField(wanted="how many").clean(typed)


@pytest.mark.parametrize(("typed", "said"), [("0.4", "the least is 0.5"), ("24.1", "the most is 24")])
def test_a_number_outside_the_range_is_refused_with_the_range(typed: str, said: str) -> None:
    with pytest.raises(ValidationError, match=said):
        HOURS.clean(typed)


def test_an_empty_field_says_what_to_enter() -> None:
    with pytest.raises(ValidationError, match=r"Enter the hours, such as 7\.5\."):
        HOURS.clean("")


def test_a_number_that_is_not_needed_may_be_left_out() -> None:
    assert NumberField(wanted="a number", required=False).clean(" ") is None


def test_a_whole_number_is_asked_for_where_parts_make_no_sense() -> None:
    crew = NumberField(wanted="how many people", low="1", high="100", decimals=0)
    assert crew.clean("3") == 3
    with pytest.raises(ValidationError, match="is not a whole number"):
        crew.clean("2.5")


@pytest.mark.parametrize(("typed", "share"), [("20", "0.2"), ("20 %", "0.2"), ("7.5%", "0.075"), ("0", "0")])
def test_a_share_is_typed_in_per_cent(typed: str, share: str) -> None:
    assert PercentField(wanted="the rate", high="100").clean(typed) == Decimal(share)


@pytest.mark.parametrize(
    ("stored", "shown"), [(0.3, "30"), (0.07, "7"), (Decimal("0.075"), "7.5"), (0, "0"), (1, "100")]
)
def test_a_stored_share_is_shown_as_it_would_be_typed(stored: object, shown: str) -> None:
    assert PercentField(wanted="the rate").prepare_value(stored) == shown


def test_a_number_shown_and_sent_back_has_not_changed() -> None:
    field = NumberField(wanted="a number")
    assert not field.has_changed(0.30, "0.3")
    assert field.has_changed(0.30, "0.31")


@pytest.mark.parametrize(
    ("value", "text"), [(1e-7, "0.0000001"), (2560.0, "2560"), (Decimal("1.50"), "1.5"), (0.1, "0.1")]
)
def test_a_number_is_written_out_without_an_exponent(value: float | Decimal, text: str) -> None:
    assert plain_number(value) == text


def test_lines_end_alike_whatever_the_browser_sends() -> None:
    assert LinesField(required=False).clean("first  \r\nsecond\r\n\r\n") == "first\nsecond"
