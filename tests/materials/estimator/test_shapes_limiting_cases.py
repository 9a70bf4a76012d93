"""Where one shape becomes another, and where axes meet."""

import math

import pytest

from materials.estimator.form import Form
from materials.estimator.shapes import (
    Box,
    Cap,
    Cylinder,
    Ellipsoid,
    Frustum,
    Measured,
    Prism,
    Sphere,
    Superellipsoid,
    Torus,
    ellipse_perimeter_m,
    form_of,
    superellipse_area_m2,
)


def assert_same(one: Form, other: Form, within: float) -> None:
    assert one.area_m2 == pytest.approx(other.area_m2, rel=within)
    assert one.volume_m3 == pytest.approx(other.volume_m3, rel=within)
    assert (one.length_m, one.width_m, one.height_m) == pytest.approx(
        (other.length_m, other.width_m, other.height_m), rel=within
    )
    assert one.centre_of_mass_m == pytest.approx(other.centre_of_mass_m, rel=within)


def test_an_ellipsoid_of_equal_axes_is_a_sphere() -> None:
    assert_same(form_of(Ellipsoid(0.8, 0.8, 0.8)), form_of(Sphere(1.6)), 1e-12)


@pytest.mark.parametrize("ratio", [1.0001, 1.5, 4.0, 50.0])
def test_a_long_ellipsoid_has_the_prolate_closed_form(ratio: float) -> None:
    a, c = 0.5, 0.5 * ratio
    eccentricity = math.sqrt(1 - (a / c) ** 2)
    area = 2 * math.pi * a * a * (1 + c / a / eccentricity * math.asin(eccentricity))
    # The closed form itself loses digits as the axes meet: about 1e-16 over the square of the eccentricity.
    assert form_of(Ellipsoid(a, a, c)).area_m2 == pytest.approx(area, rel=1e-11)


@pytest.mark.parametrize("ratio", [1.0001, 1.5, 4.0, 50.0])
def test_a_flat_ellipsoid_has_the_oblate_closed_form(ratio: float) -> None:
    a, c = 0.5 * ratio, 0.5
    eccentricity = math.sqrt(1 - (c / a) ** 2)
    area = 2 * math.pi * a * a * (1 + (1 - eccentricity**2) / eccentricity * math.atanh(eccentricity))
    assert form_of(Ellipsoid(a, a, c)).area_m2 == pytest.approx(area, rel=1e-11)


@pytest.mark.parametrize("spread", [1e-3, 1e-6, 1e-9, 1e-12, 1e-15])
def test_nearly_equal_axes_lose_no_digits(spread: float) -> None:
    # To first order the area follows the mean axis; the second order is 0.4 spread^2 or less.
    area = form_of(Ellipsoid(1 + spread, 1.0, 1 - spread)).area_m2
    assert area == pytest.approx(4 * math.pi, rel=1e-14 + spread**2)


def test_a_very_thin_ellipsoid_has_two_faces_of_its_ellipse() -> None:
    assert form_of(Ellipsoid(50.0, 20.0, 0.001)).area_m2 == pytest.approx(2 * math.pi * 50 * 20, rel=1e-6)


def test_a_square_superellipsoid_comes_near_its_box() -> None:
    near, box = form_of(Superellipsoid(0.6, 0.4, 0.5, 0.1, 0.1)), form_of(Box(1.2, 0.8, 1.0))
    assert box.area_m2 * 0.93 < near.area_m2 < box.area_m2
    assert near.volume_m3 is not None
    assert box.volume_m3 is not None
    assert box.volume_m3 * 0.97 < near.volume_m3 < box.volume_m3


def test_a_superellipsoid_of_exponent_two_is_an_octahedron() -> None:
    form = form_of(Superellipsoid(1.0, 1.0, 1.0, 2.0, 2.0))
    # Eight equilateral triangles of edge sqrt 2, and volume 4/3.
    assert form.area_m2 == pytest.approx(8 * math.sqrt(3) / 2, rel=1e-12)
    assert form.volume_m3 == pytest.approx(4 / 3, rel=1e-12)


def test_a_superellipsoid_with_a_plan_of_exponent_two_is_flat_sided_all_round() -> None:
    # Both profiles straight on unequal axes: the octahedron of those axes, one face by its three corners.
    a, b, c = 1.2, 0.7, 0.9
    face = math.sqrt((a * b) ** 2 + (b * c) ** 2 + (a * c) ** 2) / 2
    assert form_of(Superellipsoid(a, b, c, 2.0, 2.0)).area_m2 == pytest.approx(8 * face, rel=1e-12)


def test_a_superellipsoid_straight_upright_and_round_in_plan_is_two_cones() -> None:
    cone = form_of(Frustum(1.4, 0.0, 0.9))
    form = form_of(Superellipsoid(0.7, 0.7, 0.9, 2.0, 1.0))
    assert form.area_m2 == pytest.approx(2 * (cone.area_m2 - math.pi * 0.7**2), rel=1e-12)
    assert cone.volume_m3 is not None
    assert form.volume_m3 == pytest.approx(2 * cone.volume_m3, rel=1e-12)


def test_a_frustum_of_equal_diameters_is_a_cylinder() -> None:
    assert_same(form_of(Frustum(0.7, 0.7, 1.3)), form_of(Cylinder(0.7, 1.3)), 1e-12)


def test_a_frustum_turned_over_keeps_its_skin_and_turns_its_balance() -> None:
    up, down = form_of(Frustum(1.0, 0.4, 1.5)), form_of(Frustum(0.4, 1.0, 1.5))
    assert up.area_m2 == pytest.approx(down.area_m2, rel=1e-14)
    assert up.centre_of_mass_m is not None
    assert down.centre_of_mass_m is not None
    assert up.centre_of_mass_m[2] + down.centre_of_mass_m[2] == pytest.approx(1.5, rel=1e-14)


def test_a_cone_balances_at_a_quarter_of_its_height() -> None:
    assert form_of(Frustum(1.0, 0.0, 2.0)).centre_of_mass_m == pytest.approx((0.0, 0.0, 0.5))


def test_a_cap_as_high_as_the_radius_is_half_a_sphere() -> None:
    cap, sphere = form_of(Cap(1.6, 0.8)), form_of(Sphere(1.6))
    assert sphere.volume_m3 is not None
    assert cap.area_m2 == pytest.approx(sphere.area_m2 / 2, rel=1e-12)
    assert cap.volume_m3 == pytest.approx(sphere.volume_m3 / 2, rel=1e-12)
    assert cap.length_m == pytest.approx(1.6, rel=1e-12)
    assert cap.centre_of_mass_m == pytest.approx((0.0, 0.0, 3 / 8 * 0.8), rel=1e-12)


def test_a_cap_as_high_as_the_diameter_is_the_whole_sphere() -> None:
    assert_same(form_of(Cap(1.6, 1.6)), form_of(Sphere(1.6)), 1e-12)


def test_two_caps_make_the_sphere_they_were_cut_from() -> None:
    low, high = form_of(Cap(2.0, 0.6)), form_of(Cap(2.0, 1.4))
    sphere = form_of(Sphere(2.0))
    assert low.volume_m3 is not None
    assert high.volume_m3 is not None
    assert low.area_m2 + high.area_m2 == pytest.approx(sphere.area_m2, rel=1e-12)
    assert low.volume_m3 + high.volume_m3 == pytest.approx(sphere.volume_m3, rel=1e-12)
    assert low.length_m == pytest.approx(high.stations[0].length_m, rel=1e-12)


def test_a_cap_past_its_middle_has_a_station_at_its_widest() -> None:
    assert max(station.length_m for station in form_of(Cap(2.0, 1.37)).stations) == 2.0


def test_a_square_prism_is_a_box() -> None:
    plan = ((0.0, 0.0), (1.2, 0.0), (1.2, 0.8), (0.0, 0.8))
    prism, box = form_of(Prism(plan, 2.0)), form_of(Box(1.2, 0.8, 2.0))
    assert_same(prism, box, 1e-12)
    assert prism.largest_flat_m2 == pytest.approx(box.largest_flat_m2, rel=1e-12)


def test_a_thin_torus_is_a_rolled_up_cylinder() -> None:
    torus, rod = form_of(Torus(10.0, 0.01)), form_of(Cylinder(0.01, math.pi * 10.0))
    assert torus.area_m2 == pytest.approx(rod.area_m2, rel=1e-3)
    assert torus.volume_m3 == pytest.approx(rod.volume_m3, rel=1e-12)


def test_a_round_ellipse_has_a_circles_perimeter_and_a_flat_one_twice_its_length() -> None:
    assert ellipse_perimeter_m(0.7, 0.7) == pytest.approx(2 * math.pi * 0.7, rel=1e-14)
    assert ellipse_perimeter_m(100.0, 0.001) == pytest.approx(400.0, rel=1e-8)


def test_a_superellipse_runs_from_a_diamond_through_an_ellipse_to_a_rectangle() -> None:
    assert superellipse_area_m2(1.0, 0.6, 1) == pytest.approx(2 * 0.6, rel=1e-13)
    assert superellipse_area_m2(1.0, 0.6, 2) == pytest.approx(math.pi * 0.6, rel=1e-13)
    assert superellipse_area_m2(1.0, 0.6, 1e6) == pytest.approx(4 * 0.6, rel=1e-6)


def test_the_largest_flat_is_the_largest_face_and_only_a_true_one() -> None:
    assert form_of(Box(1.2, 0.8, 2.0)).largest_flat_m2 == 2.4
    assert form_of(Cylinder(1.0, 3.0)).largest_flat_m2 == pytest.approx(math.pi / 4)
    assert form_of(Frustum(0.4, 1.0, 3.0)).largest_flat_m2 == pytest.approx(math.pi / 4)
    assert form_of(Cap(2.0, 0.4)).largest_flat_m2 == 0
    assert form_of(Sphere(1.0)).largest_flat_m2 == 0
    assert form_of(Measured(4.0, None, 1.0, 1.0, 1.0)).largest_flat_m2 == 0


@pytest.mark.parametrize(
    ("shape", "origin"),
    [
        (Sphere(1.0), "sphere, from its dimensions"),
        (Ellipsoid(1.0, 1.0, 1.0), "ellipsoid, from its dimensions"),
        (Superellipsoid(1.0, 1.0, 1.0, 0.5, 0.5), "superellipsoid, from its dimensions"),
        (Cylinder(1.0, 1.0), "cylinder, from its dimensions, both ends included"),
        (Frustum(1.0, 0.5, 1.0), "frustum, from its dimensions, both ends included"),
        (Box(1.0, 1.0, 1.0), "box, from its dimensions, all six faces"),
        (Torus(1.0, 0.5), "torus, from its dimensions"),
        (Cap(1.0, 0.3), "cap of a sphere, from its dimensions, curved skin only"),
        (Prism(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), 1.0), "prism, from its dimensions, both ends included"),
        (Measured(1.0, None, 1.0, 1.0, 1.0), "measured, as entered"),
    ],
)
def test_a_form_says_what_its_area_counts(shape: Sphere, origin: str) -> None:
    assert form_of(shape).origin == origin
