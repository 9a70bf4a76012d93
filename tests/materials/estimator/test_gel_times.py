"""A maker's gel times are read between its entries and never beyond them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.estimator.errors import EstimatorError, Missing, OutOfRange
from materials.estimator.gel import GelReading, GelTable, doubts, gel_minutes, gel_row

TABLE = GelTable(
    "Gel coat",
    tuple(
        GelReading(warm, percent, minutes)
        for warm, times in {15.0: (48.0, 24.0), 25.0: (16.0, 6.0)}.items()
        for percent, minutes in zip((1.0, 2.0), times, strict=True)
    ),
)


def test_an_entry_is_answered_as_it_stands() -> None:
    for each in TABLE.readings:
        assert gel_minutes(TABLE, each.temperature_c, each.percent) == pytest.approx(each.minutes, rel=1e-12)


def test_half_way_in_temperature_is_the_geometric_mean() -> None:
    # Straight in the logarithm of the time: by definition sqrt(24 x 6) = 12.
    assert gel_minutes(TABLE, 20, 2) == pytest.approx(12, rel=1e-12)


def test_a_published_chart_is_read_back_where_a_tenfold_law_fails() -> None:
    # A published workshop guide for gel coat: 30 min at 25 C, 120 at 20 C, 240 at 15 C. Half a degree is read along it;
    # a rule that ten degrees double the time would say 42 min at 20 C.
    chart = GelTable("Gel coat", tuple(GelReading(c, 1.0, m) for c, m in ((15.0, 240.0), (20.0, 120.0), (25.0, 30.0))))
    assert gel_minutes(chart, 20, 1) == pytest.approx(120)
    assert gel_minutes(chart, 22.5, 1) == pytest.approx(60)
    assert gel_minutes(chart, 17.5, 1) == pytest.approx(169.7056, rel=1e-6)


def test_a_table_with_a_slip_of_the_pen_is_doubted() -> None:
    assert doubts(TABLE) == ()
    # The published chart changes eightfold in ten degrees, and at the rate of sixteenfold between 20 and 25.
    chart = GelTable("Gel coat", tuple(GelReading(c, 1.0, m) for c, m in ((15.0, 240.0), (20.0, 120.0), (25.0, 30.0))))
    assert doubts(chart) == ()
    swapped = GelTable("Gel coat", tuple(GelReading(c, 2.0, m) for c, m in ((15.0, 18.0), (25.0, 81.0))))
    assert "81 min at 25 °C: warmer is never slower." in " ".join(doubts(swapped))
    steep = GelTable("Gel coat", tuple(GelReading(c, 2.0, m) for c, m in ((15.0, 90.0), (25.0, 3.0))))
    assert "30 times as fast" in " ".join(doubts(steep))
    slower = GelTable("Gel coat", (GelReading(20.0, 1.0, 20.0), GelReading(20.0, 2.0, 25.0)))
    assert "At 20 °C 2 % gels in 25 min and 1 % in 20 min: more is never slower." in " ".join(doubts(slower))


@given(st.floats(15, 25), st.floats(1, 2))
def test_between_entries_the_time_lies_between_them(temperature: float, percent: float) -> None:
    assert 6 - 1e-9 <= gel_minutes(TABLE, temperature, percent) <= 48 + 1e-9


@given(st.floats(15, 24.9), st.floats(1, 1.99), st.floats(0.001, 0.1), st.floats(0.001, 0.01))
def test_warmer_or_stronger_is_never_slower(warm: float, percent: float, warmer: float, stronger: float) -> None:
    there = gel_minutes(TABLE, warm, percent)
    assert gel_minutes(TABLE, min(warm + warmer, 25), percent) <= there
    assert gel_minutes(TABLE, warm, min(percent + stronger, 2)) <= there


@pytest.mark.parametrize(
    ("temperature", "percent", "told"),
    [
        (14.9, 2, r"14\.9 °C; it must be between 15 and 25 °C\. Its maker's table ends there"),
        (25.1, 1, r"between 15 and 25 °C"),
        (20, 0.9, r"Percentage for Gel coat is 0\.9 %; it must be between 1 and 2 %"),
        (20, 2.1, r"between 1 and 2 %.*never cure"),
    ],
)
def test_outside_the_table_it_refuses(temperature: float, percent: float, told: str) -> None:
    with pytest.raises(OutOfRange, match=told):
        gel_minutes(TABLE, temperature, percent)


def test_a_gap_in_the_table_is_not_bridged_beyond_what_is_given() -> None:
    gappy = GelTable("Resin", (*TABLE.readings, GelReading(20.0, 3.0, 7.0)))
    assert gel_minutes(gappy, 20, 3) == pytest.approx(7)
    with pytest.raises(OutOfRange, match=r"at 3 % is 18 °C; it must be between 20 and 20"):
        gel_minutes(gappy, 18, 3)
    assert [each.percent for each in gel_row(gappy, 18)] == [1.0, 2.0]
    assert gel_row(gappy, 5) == ()


def test_a_table_without_entries_or_with_two_times_for_one_is_refused() -> None:
    with pytest.raises(Missing, match=r"Gel-time table of Resin is missing; enter the maker's minutes"):
        GelTable("Resin", ())
    with pytest.raises(EstimatorError, match="has two times"):
        GelTable("Resin", (GelReading(20, 2, 10), GelReading(20, 2, 12)))
    for wrong in ((70, 2, 10), (20, 11, 10), (20, 2, 0)):
        with pytest.raises(OutOfRange):
            GelReading(*wrong)
