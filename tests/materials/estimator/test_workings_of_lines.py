"""Every line and every hour line can be worked again from its own formula and terms."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.catalogue import STEPS, entry_of
from materials.estimator.lines import STAGES, TakeOff
from materials.estimator.shapes import Box, Ellipsoid, Shape
from materials.estimator.spec import Coat, Joining, LayUp, Ply
from materials.estimator.takeoff import take_off
from tests.materials.estimator.specs import STUDIO, job, section, worked
from tests.materials.estimator.strategies import shapes
from tests.materials.estimator.workings import number_of, quantity_of

RICH = LayUp(
    "Rich",
    0.7,
    (Ply("tissue", 0.03, 0.10), Ply("csm", 0.3, 0.28), Ply("csm", 0.45, 0.30, 2), Ply("woven", 0.6, 0.48)),
    return_extra_layers=2,
)
TWICE = (Coat("primer", 0.6, 75, 1, 0.5, 0.25, 0.1), Coat("primer", 0.5, 60, 2, 0.3), Coat("topcoat", 0.5, 50, 2, 0.4))


def rich(shape: Shape) -> TakeOff:
    """A section with something in every line."""
    return worked(
        shape,
        pulls=17,
        mirrored=True,
        count=2,
        metal_kg=35.0,
        method="milled",
        mould_layup=RICH,
        cast_layup=RICH,
        joining=Joining(0.15, 2, Ply("csm", 0.45, 0.30), bolt_pitch_m=0.2),
        coats=(*STUDIO.paint_systems["Gallery gloss"], Coat("primer", 0.5, 60, 2, 0.3)),
        grade="A",
    )


@settings(max_examples=150, derandomize=True, deadline=None, database=None)
@given(shape=shapes, pieces=st.sampled_from([1, 2, 4, 7]), closed=st.booleans())
def test_every_line_is_what_its_formula_comes_to(shape: Shape, pieces: int, closed: bool) -> None:
    for taken in (worked(shape, pieces=pieces, seam_closed=closed), rich(shape)):
        for line in taken.lines:
            assert number_of(line.formula, line.terms) == pytest.approx(line.buy, rel=1e-12), line.material
        for hours in taken.hours:
            assert number_of(hours.formula, hours.terms) == pytest.approx(hours.likely, rel=1e-12), hours.step


@pytest.mark.parametrize("taken", [worked(), rich(Ellipsoid(1.5, 1.1, 0.55)), worked(Box(1, 1, 1), pieces=1)])
def test_the_units_of_the_terms_make_the_unit_of_the_line(taken: TakeOff) -> None:
    for line in taken.lines:
        assert quantity_of(line.formula, line.terms, line.unit) == pytest.approx(line.buy, rel=1e-12), line.material
    for hours in taken.hours:
        assert quantity_of(hours.formula, hours.terms, "h") == pytest.approx(hours.likely, rel=1e-12), hours.step


def test_a_paint_that_stands_twice_in_a_system_is_summed_and_told_apart() -> None:
    taken = worked(coats=TWICE)
    (primer,) = [line for line in taken.lines if line.material == "primer"]
    area = taken.sections[0].area_m2
    first, second = area * 1 * 75 / 600 / 0.5 * 0.8, area * 2 * 60 / 500 / 0.7
    assert primer.buy == pytest.approx(first + second, rel=1e-12)
    assert {"primer loss", "primer 2 loss"} <= {term.label for term in primer.terms}


def test_a_material_has_one_line_in_a_stage_of_a_section() -> None:
    taken = rich(Ellipsoid(1.5, 1.1, 0.55))
    counted = Counter((line.section, line.stage, line.material) for line in taken.lines)
    assert set(counted.values()) == {1}
    assert len(counted) > 35


def test_lines_and_hours_stand_by_section_and_then_by_stage() -> None:
    taken = take_off(job(section(), section(name="Second", metal_kg=5.0)))
    for listed in (taken.lines, taken.hours):
        places = [(line.section != "Ball", STAGES.index(line.stage)) for line in listed]
        assert places == sorted(places)


def test_every_material_and_step_has_a_name_and_the_unit_of_the_catalogue() -> None:
    taken = rich(Ellipsoid(1.5, 1.1, 0.55))
    for line in (*taken.lines, *worked().lines):
        assert entry_of(line.material).unit == line.unit
    assert {(hours.stage, hours.step) for hours in taken.hours} <= {
        (stage, step) for stage, steps in STEPS.items() for step in steps
    }


def test_every_term_says_where_it_comes_from() -> None:
    for line in (*rich(Ellipsoid(1.5, 1.1, 0.55)).lines, *worked().hours):
        assert all(term.origin for term in line.terms)


def test_what_is_bought_is_never_less_than_what_ends_in_the_work() -> None:
    for line in rich(Ellipsoid(1.5, 1.1, 0.55)).lines:
        assert line.buy >= line.net > 0, line.material


def test_a_job_without_norms_is_worked_without_hours() -> None:
    taken = take_off(replace(job(), norms=()))
    assert taken.hours == ()
    assert taken.lines
