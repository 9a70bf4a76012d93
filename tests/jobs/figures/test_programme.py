"""Weeks: people shorten the work and never a hold. All figures: common practice, no source."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.figures.programme import SectionHolds, programme, section_holds
from jobs.figures.reference import COEFFICIENTS
from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.form import Form
from materials.estimator.lines import Term
from materials.estimator.spec import Block, CastSpec, Coat, Joining, LayUp, MouldSpec, PatternSpec, Ply, SectionSpec

laws = settings(derandomize=True, deadline=None)

PLY = Ply("csm", 0.45, 0.3, 3)
LAYUP = LayUp("Skin", 0.6, (PLY,))
FORM = Form(12.0, 4.0, 2.0, 2.0, 2.0, (), None, "entered")
SECTION = SectionSpec(
    "Body",
    FORM,
    "B",
    PatternSpec("carved", Block(2.4, 1.2, 0.6), 4.0, 3, 5),
    MouldSpec(4, None, 0.09, LAYUP, 6.0),
    CastSpec(6, LAYUP, Joining(0.15, 2, PLY)),
    (Coat("topcoat", 0.5, 50, 2, 0.5),),
)


def waits(section):
    return [(term.label, term.value) for term in section_holds(section, COEFFICIENTS).terms]


def test_a_section_waits_for_filler_mould_every_cast_and_paint():
    assert waits(SECTION) == [
        ("plaster filler on foam, to a millimetre", 2.0),
        ("mould stays on the pattern", 3.0),
        ("new mould rests before the first cast", 2.0),
        ("cast stays in the mould", 6.0),
        ("topcoat hardens before it is wrapped", 7.0),
    ]


def test_bare_casts_wait_for_no_paint_and_thin_filler_dries_overnight():
    pattern = dataclasses.replace(SECTION.pattern, filler_mm=1.0)
    bare = dataclasses.replace(SECTION, pattern=pattern, coats=())
    assert [label for label, _ in waits(bare)] == [
        "mould stays on the pattern",
        "new mould rests before the first cast",
        "cast stays in the mould",
    ]


def test_a_hold_figure_that_is_gone_is_named():
    with pytest.raises(Missing, match="Studio figure hold_filler is missing; restore it among the studio's figures"):
        section_holds(SECTION, {})


def held(name, days):
    return SectionHolds(name, (Term("wait", days, "day", "test"),))


def test_weeks_are_the_crews_work_and_the_longest_sections_holds():
    # 240 h of two people at 30 h a week are 4 weeks; 20 days more are 6.86 weeks; rounded up.
    found = programme(240.0, 2, 30.0, [held("Leaf", 5.0), held("Body", 20.0)])
    assert (found.weeks, found.working_weeks, found.hold_days, found.longest) == (7, 4.0, 20.0, "Body")
    assert [(term.label, term.value, term.unit) for term in found.terms] == [
        ("hours of the job", 240.0, "h"),
        ("crew", 2, ""),
        ("hours of a week", 30.0, "h"),
        ("wait", 20.0, "day"),
    ]


def test_whole_weeks_are_not_rounded_up_by_the_noise_of_floats():
    assert programme(0.1 * 3 * 100, 1, 10.0, []).weeks == 3


def test_a_job_of_nothing_takes_a_week():
    assert programme(0.0, 3, 37.5, []).weeks == 1


@laws
@given(st.floats(0, 5000), st.integers(1, 20), st.floats(0, 120))
def test_more_people_never_take_longer_and_never_shorten_a_hold(hours, crew, days):
    few, many = (programme(hours, people, 37.5, [held("Body", days)]) for people in (crew, crew + 1))
    assert many.weeks <= few.weeks
    assert many.hold_days == few.hold_days
    assert 7 * many.weeks >= days - 1e-5


@pytest.mark.parametrize(
    ("hours", "crew", "week"), [(-1.0, 1, 30.0), (1.0, 0, 30.0), (1.0, 1, 0.0), (float("nan"), 1, 30.0)]
)
def test_it_refuses_a_crew_or_week_of_nothing(hours, crew, week):
    with pytest.raises(OutOfRange, match="it must be"):
        programme(hours, crew, week, [])
