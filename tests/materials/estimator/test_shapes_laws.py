"""What holds for every shape at every size."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.shapes import Ellipsoid, Measured, Prism, Shape, Superellipsoid, form_of, outline_of, scaled
from tests.materials.estimator import strategies

laws = settings(max_examples=150, derandomize=True, deadline=None)
factors = st.floats(min_value=0.25, max_value=4.0)


@laws
@given(strategies.shapes, factors)
def test_area_grows_with_the_square_and_volume_with_the_cube(shape: Shape, factor: float) -> None:
    small, large = form_of(shape), form_of(scaled(shape, factor))
    assert large.area_m2 == pytest.approx(small.area_m2 * factor**2, rel=1e-9)
    assert large.height_m == pytest.approx(small.height_m * factor, rel=1e-12)
    assert large.largest_flat_m2 == pytest.approx(small.largest_flat_m2 * factor**2, rel=1e-9)
    if small.volume_m3 is None:
        assert large.volume_m3 is None
    else:
        assert large.volume_m3 == pytest.approx(small.volume_m3 * factor**3, rel=1e-9)


@laws
@given(strategies.shapes, factors)
def test_scaling_there_and_back_gives_the_same_shape(shape: Shape, factor: float) -> None:
    back = form_of(scaled(scaled(shape, factor), 1 / factor))
    assert back.area_m2 == pytest.approx(form_of(shape).area_m2, rel=1e-9)


@laws
@given(strategies.closed)
def test_no_closed_shape_has_less_skin_than_a_ball_of_its_volume(shape: Shape) -> None:
    form = form_of(shape)
    assert form.volume_m3 is not None
    assert form.area_m2 >= (36 * math.pi * form.volume_m3**2) ** (1 / 3) * (1 - 1e-9)


@laws
@given(strategies.solids)
def test_every_solid_fits_the_box_round_it(shape: Shape) -> None:
    form = form_of(shape)
    assert form.volume_m3 is not None
    assert form.volume_m3 <= form.length_m * form.width_m * form.height_m * (1 + 1e-9)
    assert form.largest_flat_m2 <= form.area_m2


@laws
@given(strategies.shapes)
def test_stations_climb_from_foot_to_top_and_reach_the_extents(shape: Shape) -> None:
    form = form_of(shape)
    heights = [station.z_m for station in form.stations]
    assert heights[0] == 0
    assert heights[-1] == form.height_m
    assert heights == sorted(heights)
    assert max(station.length_m for station in form.stations) == pytest.approx(form.length_m, rel=1e-12)
    assert max(station.width_m for station in form.stations) == pytest.approx(form.width_m, rel=1e-12)


@laws
@given(strategies.solids)
def test_the_balance_lies_within_the_extents(shape: Shape) -> None:
    form = form_of(shape)
    assert form.centre_of_mass_m is not None
    x, y, z = form.centre_of_mass_m
    assert abs(x) < form.length_m / 2
    assert abs(y) < form.width_m / 2
    assert 0 < z < form.height_m


@laws
@given(strategies.shapes, st.sampled_from(["front", "side", "plan"]))
def test_every_outline_fills_the_extents_of_its_view(shape: Shape, view: str) -> None:
    form, outline = form_of(shape), outline_of(shape, view)  # type: ignore[arg-type]
    xs = [x for ring in outline.silhouette for x, _ in ring]
    ys = [y for ring in outline.silhouette for _, y in ring]
    across = form.width_m if view == "side" else form.length_m
    bottom, top = (-form.width_m / 2, form.width_m / 2) if view == "plan" else (0.0, form.height_m)
    assert (min(xs), max(xs)) == pytest.approx((-across / 2, across / 2), rel=1e-9)
    assert (min(ys), max(ys)) == pytest.approx((bottom, top), rel=1e-9, abs=1e-12)
    assert all(abs(x) <= across / 2 * (1 + 1e-9) for edge in outline.edges for x, _ in edge)


@laws
@given(strategies.lengths, strategies.lengths, strategies.lengths)
def test_turning_an_ellipsoid_changes_no_figure(a: float, b: float, c: float) -> None:
    assert form_of(Ellipsoid(a, b, c)).area_m2 == pytest.approx(form_of(Ellipsoid(c, a, b)).area_m2, rel=1e-12)


@laws
@given(strategies.lengths, strategies.lengths, strategies.lengths)
def test_a_superellipsoid_of_exponent_one_is_an_ellipsoid(a: float, b: float, c: float) -> None:
    rounded, plain = form_of(Superellipsoid(a, b, c, 1, 1)), form_of(Ellipsoid(a, b, c))
    assert rounded.area_m2 == pytest.approx(plain.area_m2, rel=1e-11)
    assert rounded.volume_m3 == pytest.approx(plain.volume_m3, rel=1e-12)
    for one, other in zip(rounded.stations, plain.stations, strict=True):
        assert (one.z_m, one.length_m, one.width_m) == pytest.approx(
            (other.z_m, other.length_m, other.width_m), abs=1e-12
        )


@laws
@given(strategies.prisms, st.floats(-20, 20), st.floats(-20, 20), st.integers(0, 11))
def test_a_plan_may_be_moved_turned_round_and_begun_anywhere(
    prism: Prism, along: float, across: float, start: int
) -> None:
    corners = prism.polygon
    start %= len(corners)
    moved = tuple((x + along, y + across) for x, y in (corners[start:] + corners[:start])[::-1])
    one, other = form_of(prism), form_of(Prism(moved, prism.height_m))
    assert other.area_m2 == pytest.approx(one.area_m2, rel=1e-9)
    assert other.volume_m3 == pytest.approx(one.volume_m3, rel=1e-9)
    assert other.centre_of_mass_m == pytest.approx(one.centre_of_mass_m, abs=1e-9)


@laws
@given(strategies.lengths, strategies.lengths, strategies.lengths, st.floats(1.0, 3.0))
def test_a_larger_ellipsoid_never_has_less_skin(a: float, b: float, c: float, growth: float) -> None:
    assert form_of(Ellipsoid(a * growth, b, c)).area_m2 >= form_of(Ellipsoid(a, b, c)).area_m2 * (1 - 1e-12)


@laws
@given(strategies.measured())
def test_measured_figures_come_out_as_they_went_in(shape: Measured) -> None:
    form = form_of(shape)
    assert (form.area_m2, form.volume_m3) == (shape.area_m2, shape.volume_m3)
    assert (form.length_m, form.width_m, form.height_m) == (shape.length_m, shape.width_m, shape.height_m)
    assert form.centre_of_mass_m is None
