"""Geometry of forms against figures worked elsewhere."""

import math

import pytest

from materials.estimator.figure import body_surface_m2, body_volume_m3, figure_area
from materials.estimator.shapes import (
    Box,
    Cap,
    Ellipsoid,
    Frustum,
    Measured,
    ellipse_perimeter_m,
    form_of,
    scaled,
    superellipse_area_m2,
)


def test_an_ellipsoid_of_three_axes() -> None:
    # Legendre's form with incomplete elliptic integrals, verified by direct quadrature.
    form = form_of(Ellipsoid(1.5, 1.1, 0.55))
    assert form.area_m2 == pytest.approx(13.5997887383, rel=1e-11)
    assert form.volume_m3 == pytest.approx(3.80132711084, rel=1e-11)


def test_an_ellipsoid_differs_from_thomsens_approximation_by_what_that_is_known_to_miss() -> None:
    # Thomsen's approximation, largest error 1.061 %: from memory.
    p, (a, b, c) = 1.6075, (1.5, 1.1, 0.55)
    thomsen = 4 * math.pi * (((a * b) ** p + (a * c) ** p + (b * c) ** p) / 3) ** (1 / p)
    assert thomsen == pytest.approx(13.6249513014, rel=1e-11)
    assert thomsen / form_of(Ellipsoid(a, b, c)).area_m2 - 1 == pytest.approx(0.00185021720971, rel=1e-6)


@pytest.mark.parametrize("axes", [(1.5, 1.1, 0.55), (0.2, 0.2, 3.0), (2.0, 2.0, 0.02), (1.0, 0.1, 0.01)])
def test_an_ellipsoid_lies_between_its_inscribed_sphere_and_its_box(axes: tuple[float, float, float]) -> None:
    # Geometry: a convex body has more surface than any convex body within it.
    a, b, c = axes
    assert 4 * math.pi * min(axes) ** 2 < form_of(Ellipsoid(*axes)).area_m2 < 8 * (a * b + b * c + c * a)


def test_a_frustum() -> None:
    # Closed form: pi (r1 + r2) s on the side, the ends added.
    form = form_of(Frustum(1.0, 0.6, 1.2))
    ends = math.pi * (0.5**2 + 0.3**2)
    assert form.area_m2 - ends == pytest.approx(3.05752993259, rel=1e-11)
    assert form.area_m2 == pytest.approx(4.12567143482, rel=1e-11)
    assert form.volume_m3 == pytest.approx(0.615752160104, rel=1e-11)


def test_a_cap_of_a_sphere() -> None:
    # Closed form: 2 pi R h, pi h^2 (3 R - h) / 3, base radius sqrt(2 R h - h^2).
    form = form_of(Cap(2.0, 0.4))
    assert form.area_m2 == pytest.approx(2.51327412287, rel=1e-11)
    assert form.volume_m3 == pytest.approx(0.435634181298, rel=1e-11)
    assert form.stations[0].length_m / 2 == pytest.approx(0.8, rel=1e-11)


def test_an_ellipses_perimeter() -> None:
    # 4 a E(m), exact.
    assert ellipse_perimeter_m(1.1, 0.55) == pytest.approx(5.3286465213, rel=1e-11)


def test_an_ellipses_perimeter_meets_ramanujans_second_approximation() -> None:
    # Ramanujan's second approximation, from memory; it falls short by 5e-10 of this ellipse.
    a, b = 1.1, 0.55
    h = 3 * ((a - b) / (a + b)) ** 2
    ramanujan = math.pi * (a + b) * (1 + h / (10 + math.sqrt(4 - h)))
    assert ramanujan == pytest.approx(5.32864651887, rel=1e-11)
    assert ellipse_perimeter_m(a, b) == pytest.approx(ramanujan, rel=1e-9)


def test_a_superellipse() -> None:
    # Closed form: 4 a b gamma(1 + 1/n)^2 / gamma(1 + 2/n).
    assert superellipse_area_m2(1.0, 0.6, 2.5) == pytest.approx(2.02856121752, rel=1e-11)


def test_a_maquette_scaled_up() -> None:
    # By definition s, s^2 and s^3: 0.45 m, 0.31 m^2 and 4.1 l taken to 3.6 m.
    factor = 3.6 / 0.45
    assert factor == pytest.approx(8.0, rel=1e-12)
    form = form_of(scaled(Measured(0.31, 0.0041, 0.20, 0.18, 0.45), factor))
    assert form.height_m == pytest.approx(3.6, rel=1e-12)
    assert form.area_m2 == pytest.approx(19.84, rel=1e-12)
    assert form.volume_m3 == pytest.approx(2.0992, rel=1e-12)
    # A skin of 4.5 kg/m^2 goes with the square only because the lay-up stays as it is.
    assert form.area_m2 * 4.5 == pytest.approx(89.28, rel=1e-12)


def test_a_unit_cube() -> None:
    # By definition.
    form = form_of(Box(1.0, 1.0, 1.0))
    assert form.area_m2 == 6.0
    assert form.volume_m3 == 1.0


def test_a_life_size_figure() -> None:
    # R. D. Mosteller, 1987, body surface area: from memory. Density of the body 1.01: from memory.
    assert body_surface_m2(1.75, 75.0) == pytest.approx(1.90940653956, rel=1e-11)
    assert body_volume_m3(75.0) * 1000 == pytest.approx(74.2574257426, rel=1e-11)


def test_a_figure_twice_life_size() -> None:
    # Mosteller's area times the square of the scale; drapery 1.2 to 1.6: common practice, no source.
    area = figure_area(3.5)
    assert area.bare_m2 == pytest.approx(7.63762615826, rel=1e-11)
    assert (area.draped_low_m2, area.draped_high_m2) == pytest.approx((9.165, 12.220), abs=1e-3)
