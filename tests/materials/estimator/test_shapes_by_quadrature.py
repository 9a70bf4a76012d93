"""Closed forms against integrals of the surfaces themselves, worked by another library."""

import math
from collections.abc import Callable

import pytest
from scipy.integrate import dblquad, quad

from materials.estimator.shapes import (
    Cap,
    Ellipsoid,
    Frustum,
    Sphere,
    Superellipsoid,
    Torus,
    ellipse_perimeter_m,
    form_of,
    superellipse_area_m2,
)


def revolved_area(radius: Callable[[float], float], height: Callable[[float], float], end: float) -> float:
    """Area swept by a profile turned about its axis, with slopes by central differences."""
    step = 1e-6

    def ring(t: float) -> float:
        rise = (height(t + step) - height(t - step)) / (2 * step)
        run = (radius(t + step) - radius(t - step)) / (2 * step)
        return 2 * math.pi * radius(t) * math.hypot(rise, run)

    return quad(ring, 0, end, epsabs=1e-11)[0]


def ellipsoid_area(a: float, b: float, c: float) -> float:
    """Parametric surface integral over one eighth."""

    def element(turn: float, tilt: float) -> float:
        sin, cos = math.sin(tilt), math.cos(tilt)
        spread = (b * c * sin * math.cos(turn)) ** 2 + (a * c * sin * math.sin(turn)) ** 2
        return sin * math.sqrt(spread + (a * b * cos) ** 2)

    return 8 * dblquad(element, 0, math.pi / 2, 0, math.pi / 2, epsabs=1e-11)[0]


@pytest.mark.parametrize("axes", [(1.5, 1.1, 0.55), (0.2, 2.0, 0.7), (1.0, 1.0, 0.3), (0.4, 0.4, 3.0)])
def test_an_ellipsoid_agrees_with_its_surface_integral(axes: tuple[float, float, float]) -> None:
    assert form_of(Ellipsoid(*axes)).area_m2 == pytest.approx(ellipsoid_area(*axes), rel=1e-9)


def test_a_sphere_agrees_with_a_turned_half_circle() -> None:
    area = revolved_area(lambda t: 0.8 * math.sin(t), lambda t: 0.8 * math.cos(t), math.pi)
    assert form_of(Sphere(1.6)).area_m2 == pytest.approx(area, rel=1e-8)


def test_a_torus_agrees_with_a_turned_circle() -> None:
    area = revolved_area(lambda t: 0.9 + 0.25 * math.cos(t), lambda t: 0.25 * math.sin(t), 2 * math.pi)
    volume = quad(lambda z: 4 * math.pi * 0.9 * math.sqrt(0.25**2 - z * z), -0.25, 0.25, epsabs=1e-12)[0]
    form = form_of(Torus(1.8, 0.5))
    assert form.area_m2 == pytest.approx(area, rel=1e-8)
    assert form.volume_m3 == pytest.approx(volume, rel=1e-8)


@pytest.mark.parametrize("height_m", [0.1, 0.4, 1.0, 1.7, 2.0])
def test_a_cap_agrees_with_slices_of_its_sphere(height_m: float) -> None:
    bottom = 1.0 - height_m
    volume, _ = quad(lambda z: math.pi * (1 - z * z), bottom, 1.0, epsabs=1e-13)
    moment, _ = quad(lambda z: math.pi * (1 - z * z) * (z - bottom), bottom, 1.0, epsabs=1e-13)
    area = revolved_area(math.sin, math.cos, math.acos(bottom))
    form = form_of(Cap(2.0, height_m))
    assert form.area_m2 == pytest.approx(area, rel=1e-8)
    assert form.volume_m3 == pytest.approx(volume, rel=1e-10)
    assert form.centre_of_mass_m == pytest.approx((0.0, 0.0, moment / volume), abs=1e-10)


@pytest.mark.parametrize("diameters", [(1.0, 0.6), (0.3, 1.4), (0.8, 0.0)])
def test_a_frustum_agrees_with_slices_of_a_cone(diameters: tuple[float, float]) -> None:
    foot, top = diameters[0] / 2, diameters[1] / 2

    def cut(z: float) -> float:
        return math.pi * (foot + (top - foot) * z / 1.2) ** 2

    volume, _ = quad(cut, 0, 1.2)
    moment, _ = quad(lambda z: z * cut(z), 0, 1.2)
    lateral = revolved_area(lambda z: foot + (top - foot) * z / 1.2, lambda z: z, 1.2)
    form = form_of(Frustum(*diameters, 1.2))
    assert form.area_m2 == pytest.approx(lateral + math.pi * (foot**2 + top**2), rel=1e-8)
    assert form.volume_m3 == pytest.approx(volume, rel=1e-12)
    assert form.centre_of_mass_m == pytest.approx((0.0, 0.0, moment / volume), rel=1e-12)


def superellipsoid_volume(a: float, b: float, c: float, e1: float, e2: float) -> float:
    """Cuts of a superellipse stacked up, by quadrature both ways."""
    plan, _ = quad(lambda x: (1 - x ** (2 / e2)) ** (e2 / 2), 0, 1, epsabs=1e-12)
    stack, _ = quad(lambda z: (1 - z ** (2 / e1)) ** e1, 0, 1, epsabs=1e-12)
    return 4 * a * b * plan * 2 * c * stack


def superellipsoid_area(a: float, b: float, c: float, e1: float, e2: float) -> float:
    """Height over the plan, ``sqrt(1 + slopes^2)``, in the plan's own polar coordinates.

    A point of the plan is s times the point of its rim at turn w; z depends on s alone.
    """

    def element(w: float, s: float) -> float:
        p, q = math.cos(w) ** e2, math.sin(w) ** e2
        dp = -e2 * math.cos(w) ** (e2 - 1) * math.sin(w)
        dq = e2 * math.sin(w) ** (e2 - 1) * math.cos(w)
        swept = p * dq - q * dp
        slope = -c * s ** (2 / e1 - 1) * (1 - s ** (2 / e1)) ** (e1 / 2 - 1)
        return s * math.sqrt((a * b * swept) ** 2 + slope**2 * ((b * dq) ** 2 + (a * dp) ** 2))

    return 8 * dblquad(element, 0, 1, 0, math.pi / 2, epsabs=1e-10, epsrel=1e-10)[0]


@pytest.mark.parametrize(("e1", "e2"), [(1.0, 1.0), (0.8, 1.4), (1.6, 1.2), (1.9, 1.1), (1.3, 1.0)])
def test_a_superellipsoid_agrees_with_its_surface_integral(e1: float, e2: float) -> None:
    # quad itself stands to about 1e-8 here: the slope is unbounded at the rim.
    form = form_of(Superellipsoid(1.2, 0.7, 0.9, e1, e2))
    assert form.area_m2 == pytest.approx(superellipsoid_area(1.2, 0.7, 0.9, e1, e2), rel=1e-7)


@pytest.mark.parametrize(("e1", "e2"), [(0.1, 0.1), (0.1, 2.0), (0.5, 0.8), (1.0, 1.0), (2.0, 0.3), (2.0, 2.0)])
def test_a_superellipsoid_holds_the_stack_of_its_cuts(e1: float, e2: float) -> None:
    form = form_of(Superellipsoid(1.2, 0.7, 0.9, e1, e2))
    assert form.volume_m3 == pytest.approx(superellipsoid_volume(1.2, 0.7, 0.9, e1, e2), rel=1e-9)


@pytest.mark.parametrize("n", [1.0, 1.3, 2.0, 2.5, 8.0, 20.0])
def test_a_superellipse_agrees_with_its_integral(n: float) -> None:
    quarter, _ = quad(lambda x: (1 - x**n) ** (1 / n), 0, 1, epsabs=1e-12)
    assert superellipse_area_m2(1.0, 0.6, n) == pytest.approx(4 * 0.6 * quarter, rel=1e-9)


@pytest.mark.parametrize("axes", [(1.1, 0.55), (0.3, 2.0), (1.0, 0.01), (1.0, 1.0)])
def test_an_ellipse_agrees_with_its_arc_integral(axes: tuple[float, float]) -> None:
    a, b = axes
    quarter, _ = quad(lambda t: math.hypot(a * math.sin(t), b * math.cos(t)), 0, math.pi / 2, epsabs=1e-13, limit=400)
    assert ellipse_perimeter_m(a, b) == pytest.approx(4 * quarter, rel=1e-10)
