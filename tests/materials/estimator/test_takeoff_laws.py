"""Laws that hold for every form: larger needs more, scale goes by its powers, sections add up."""

from collections import defaultdict
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.lines import TakeOff
from materials.estimator.shapes import Ellipsoid, Shape, form_of, scaled
from materials.estimator.takeoff import take_off
from tests.materials.estimator.specs import figures, job, line, section, worked
from tests.materials.estimator.strategies import lengths, shapes

LAWS = settings(derandomize=True, deadline=None, database=None)


def needs(taken: TakeOff) -> dict[tuple[str, str], float]:
    """Everything a job needs, by stage and key: what is bought, and likely hours."""
    found: dict[tuple[str, str], float] = defaultdict(float)
    for material in taken.lines:
        found[material.stage, material.material] += material.buy
    for hours in taken.hours:
        found[hours.stage, hours.step] += hours.likely
    return found


@settings(LAWS, max_examples=1000)
@given(shape=shapes, factor=st.floats(min_value=1.0, max_value=3.0), pieces=st.sampled_from([1, 2, 4]))
def test_a_larger_section_never_needs_less_of_anything(shape: Shape, factor: float, pieces: int) -> None:
    small, large = (needs(worked(each, pieces=pieces, metal_kg=9.0)) for each in (shape, scaled(shape, factor)))
    for key, amount in small.items():
        assert large[key] >= amount * (1 - 1e-9), key


@settings(LAWS, max_examples=500)
@given(axes=st.tuples(lengths, lengths, lengths), grown=st.integers(0, 2), by=st.floats(min_value=0.0, max_value=2.0))
def test_a_section_grown_one_way_alone_needs_no_less(axes: tuple[float, float, float], grown: int, by: float) -> None:
    longer = [axis + by * (place == grown) for place, axis in enumerate(axes)]
    small, large = (needs(worked(Ellipsoid(*each), pieces=4)) for each in (axes, longer))
    for key, amount in small.items():
        assert large[key] >= amount * (1 - 1e-9), key


@settings(LAWS, max_examples=600)
@given(shape=shapes, factor=st.floats(min_value=0.3, max_value=3.0))
def test_skins_go_with_the_square_seams_with_the_length_and_foam_with_the_cube(shape: Shape, factor: float) -> None:
    one, other = worked(shape), worked(scaled(shape, factor))
    for stage, material in (("pattern", "plaster_filler"), ("cast", "gel_coat"), ("finish", "topcoat")):
        ratio = line(other, stage, material).buy / line(one, stage, material).buy
        assert ratio == pytest.approx(factor**2, rel=1e-9)
    assert figures(other).seam_m / figures(one).seam_m == pytest.approx(factor, rel=1e-9)
    assert line(other, "mould", "parting_sheet").buy / line(one, "mould", "parting_sheet").buy == pytest.approx(factor)
    if form_of(shape).volume_m3 is not None:
        assert figures(other).pattern.solid_m3 / figures(one).pattern.solid_m3 == pytest.approx(factor**3, rel=1e-9)
    assert figures(other).cast.thickness_mm == figures(one).cast.thickness_mm


@settings(LAWS, max_examples=150)
@given(several=st.lists(shapes, min_size=1, max_size=4))
def test_sections_together_need_what_they_need_apart(several: list[Shape]) -> None:
    sections = [section(shape, name=f"Section {place}") for place, shape in enumerate(several)]
    together = take_off(job(*sections))
    apart = [take_off(job(each)) for each in sections]
    assert together.lines == tuple(line for taken in apart for line in taken.lines)
    assert together.hours == tuple(hours for taken in apart for hours in taken.hours)
    assert together.sections == tuple(figures for taken in apart for figures in taken.sections)
    assert together.warnings == tuple(caution for taken in apart for caution in taken.warnings)


@settings(LAWS, max_examples=100)
@given(shape=shapes, count=st.integers(1, 9))
def test_what_is_made_several_times_or_left_and_right_needs_so_much_more(shape: Shape, count: int) -> None:
    once, often = needs(worked(shape)), needs(worked(shape, count=count, mirrored=True))
    for key, amount in once.items():
        assert often[key] == pytest.approx(2 * count * amount, rel=1e-12), key


def test_a_job_does_not_depend_on_the_order_of_its_sections() -> None:
    first, second = section(), section(Ellipsoid(1.5, 1.1, 0.55), name="Second")
    one, other = take_off(job(first, second)), take_off(job(second, first))
    assert sorted(one.lines, key=repr) == sorted(other.lines, key=repr)


def test_doubled_allowances_never_change_what_ends_in_the_work() -> None:
    spec = job()
    more = replace(spec, allowances=replace(spec.allowances, gel_coat=0.3, glass=0.3, resin=0.2))
    assert [each.net for each in take_off(more).lines] == [each.net for each in take_off(spec).lines]
    assert take_off(more).sections == take_off(spec).sections
