"""Two build-ups beside each other."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from jobs.figures.compare import compare
from jobs.figures.quote import BuildUpLine


def line(key: str, amount: int, hours: Decimal | None = None, kind: str = "material") -> BuildUpLine:
    return BuildUpLine(kind, key, key.capitalize(), amount, hours, "h" if kind == "labour" else "kg")


LINES = st.dictionaries(st.sampled_from("abcdefgh"), st.integers(-(10**9), 10**9)).map(
    lambda found: [line(key, amount) for key, amount in found.items()]
)


@given(LINES, LINES)
def test_the_sums_are_those_of_the_two_build_ups(was: list[BuildUpLine], now: list[BuildUpLine]) -> None:
    found = compare(was, now)
    assert found.was_minor == sum(each.amount_minor for each in was)
    assert found.is_minor == sum(each.amount_minor for each in now)
    assert found.difference_minor == sum(row.difference_minor for row in found.rows)
    assert {row.key for row in found.rows} == {each.key for each in (*was, *now)}


@given(LINES)
def test_nothing_differs_from_itself(lines: list[BuildUpLine]) -> None:
    assert compare(lines, lines).changed == ()


def test_a_line_that_went_stands_with_its_kind_and_is_told_from_one_that_costs_nothing() -> None:
    was = [line("gel_coat", 900), line("topcoat", 700), line("profit", 50, kind="profit")]
    now = [line("gel_coat", 900), line("primer", 0), line("profit", 60, kind="profit")]
    found = compare(was, now)
    assert [row.key for row in found.rows] == ["gel_coat", "primer", "topcoat", "profit"]
    primer, topcoat = found.rows[1:3]
    assert (primer.was_minor, primer.is_minor, primer.changed) == (None, 0, True)
    assert (topcoat.was_minor, topcoat.is_minor, topcoat.difference_minor) == (700, None, -700)


def test_hours_are_counted_in_labour_alone() -> None:
    was = [line("labour_cast", 100, Decimal("4.5"), "labour"), line("overhead", 10, Decimal("4.5"), "overhead")]
    now = [line("labour_cast", 150, Decimal("6.25"), "labour"), line("overhead", 10, Decimal("6.25"), "overhead")]
    found = compare(was, now)
    assert (found.was_hours, found.is_hours, found.difference_hours) == (
        Decimal("4.5"),
        Decimal("6.25"),
        Decimal("1.75"),
    )
    assert [row.difference_quantity for row in found.changed] == [Decimal("1.75"), Decimal("1.75")]
