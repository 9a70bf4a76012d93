"""What each stage of each section may cost."""

from dataclasses import replace
from decimal import Decimal
from itertools import cycle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.figures.budget import BUDGETED, budget_rows
from jobs.figures.parts import labour_parts
from jobs.figures.quote import BuildUpLine
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import HourLine, Line, TakeOff
from materials.estimator.takeoff import take_off
from tests.jobs.quote_samples import long_pear

PEAR = take_off(long_pear())
MATERIALS = sorted({line.material for line in PEAR.lines})


def lines_of(worked: TakeOff, amounts: list[int]) -> list[BuildUpLine]:
    """A build-up of the pear with any amounts: its labour, its materials, an extra, and what no budget holds."""
    taken = cycle(amounts)
    labour = [
        BuildUpLine("labour", part.key, part.label, next(taken), part.hours, "h") for part in labour_parts(worked.hours)
    ]
    bought = [BuildUpLine("material", key, key, next(taken)) for key in MATERIALS]
    return [
        *labour,
        BuildUpLine("overhead", "overhead", "Overhead", next(taken)),
        *bought,
        BuildUpLine("consumables", "consumables", "Consumables", next(taken)),
        BuildUpLine("sent_out", "extra_7", "Haulage", next(taken)),
        BuildUpLine("profit", "profit", "Profit", next(taken)),
    ]


@given(st.lists(st.integers(0, 10**9), min_size=1, max_size=40))
def test_the_rows_sum_to_the_lines_to_the_minor_unit(amounts: list[int]) -> None:
    lines = lines_of(PEAR, amounts)
    rows = budget_rows(PEAR, lines)
    for kind, part in zip(BUDGETED, ("labour_minor", "material_minor", "sent_out_minor"), strict=True):
        assert sum(getattr(row, part) for row in rows) == sum(line.amount_minor for line in lines if line.kind == kind)


def test_each_section_has_a_row_for_each_of_its_stages_and_the_whole_job_has_the_last() -> None:
    rows = budget_rows(PEAR, lines_of(PEAR, [12_345]))
    places = [(row.section, row.stage) for row in rows]
    needed = {(line.section, line.stage) for line in (*PEAR.lines, *PEAR.hours)}
    assert set(places[:-1]) == needed
    assert places[-1] == ("", "job")
    assert rows[-1].sent_out_minor == 12_345
    assert [name for name, _ in places[:2]] == ["Base", "Base"]


def test_minutes_are_those_of_the_likely_hours() -> None:
    rows = budget_rows(PEAR, lines_of(PEAR, [100]))
    for figures in PEAR.sections:
        hours = sum(line.likely for line in PEAR.hours if line.section == figures.name)
        minutes = sum(row.minutes for row in rows if row.section == figures.name)
        # Each stage is rounded to the minute once.
        assert minutes == pytest.approx(hours * 60, abs=6)


def test_hours_of_an_extra_belong_to_the_whole_job() -> None:
    rows = budget_rows(PEAR, [BuildUpLine("labour", "extra_3", "Fitting on site", 40_000, Decimal(16), "h")])
    assert [(row.section, row.stage, row.minutes, row.labour_minor) for row in rows] == [("", "job", 960, 40_000)]


def test_labour_is_parted_by_hours_and_materials_by_what_is_bought() -> None:
    worked = replace(
        PEAR,
        lines=(line("Base", "cast", 3.0), line("Belly", "cast", 1.0)),
        hours=(hours("Base", "cast", 10.0), hours("Belly", "cast", 30.0)),
    )
    lines = [
        BuildUpLine("labour", "labour_cast", "Cast", 4_000, Decimal(40), "h"),
        BuildUpLine("material", "gel_coat", "Gel coat", 4_000),
    ]
    rows = budget_rows(worked, lines)
    assert [(row.section, row.labour_minor, row.material_minor) for row in rows] == [
        ("Base", 1_000, 3_000),
        ("Belly", 3_000, 1_000),
    ]


def test_it_refuses_labour_of_a_stage_that_has_no_hours() -> None:
    with pytest.raises(EstimatorError, match="no hours of the stage 'gilding'"):
        budget_rows(PEAR, [BuildUpLine("labour", "labour_gilding", "Gilding", 1, Decimal(1), "h")])


def line(section: str, stage: str, buy: float) -> Line:
    return Line(section, stage, "gel_coat", buy, buy, "kg", "", ())


def hours(section: str, stage: str, likely: float) -> HourLine:
    return HourLine(section, stage, "lay up", likely, likely, likely, "", ())
