"""A turned form against the shapes it can be, and against quadrature."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from materials.estimator.errors import EstimatorError, OutOfRange
from materials.estimator.shapes import Cylinder, Frustum, Turned, form_of, outline_of


def test_a_straight_profile_is_the_side_of_a_frustum() -> None:
    turned, frustum = form_of(Turned(((0.5, 0.0), (0.3, 1.2)))), form_of(Frustum(1.0, 0.6, 1.2))
    ends = math.pi * (0.5**2 + 0.3**2)
    assert turned.area_m2 == pytest.approx(frustum.area_m2 - ends, rel=1e-12)
    # Lateral area of this frustum: published formula pi (r1 + r2) s, 3.05753 m2.
    assert turned.area_m2 == pytest.approx(3.05753, rel=1e-6)
    assert turned.volume_m3 == pytest.approx(frustum.volume_m3, rel=1e-12)
    assert turned.centre_of_mass_m == pytest.approx(frustum.centre_of_mass_m, rel=1e-12)


def test_the_height_of_the_foot_does_not_matter() -> None:
    low, high = form_of(Turned(((0.5, 0.0), (0.3, 1.2)))), form_of(Turned(((0.5, 3.0), (0.3, 4.2))))
    assert high.area_m2 == pytest.approx(low.area_m2, rel=1e-12)
    assert high.centre_of_mass_m == pytest.approx(low.centre_of_mass_m, rel=1e-12)
    assert high.stations[0].z_m == 0.0


def test_many_points_on_a_curve_come_to_its_surface_of_revolution() -> None:
    def radius(z: float) -> float:
        return 0.4 + 0.2 * math.sin(z)

    heights = np.linspace(0.0, 3.0, 200)
    form = form_of(Turned(tuple((radius(z), float(z)) for z in heights)))
    area, _ = quad(lambda z: 2 * math.pi * radius(z) * math.sqrt(1 + (0.2 * math.cos(z)) ** 2), 0.0, 3.0)
    volume, _ = quad(lambda z: math.pi * radius(z) ** 2, 0.0, 3.0)
    moment, _ = quad(lambda z: math.pi * radius(z) ** 2 * z, 0.0, 3.0)
    # 199 chords of a gentle curve: the error falls with the square of their length, here below 1e-5.
    assert form.area_m2 == pytest.approx(area, rel=1e-5)
    assert form.volume_m3 == pytest.approx(volume, rel=1e-4)
    assert form.centre_of_mass_m[2] == pytest.approx(moment / volume, rel=1e-4)


def test_a_ledge_counts_as_skin_and_as_a_flat() -> None:
    stepped = form_of(Turned(((0.5, 0.0), (0.5, 1.0), (0.3, 1.0), (0.3, 2.0))))
    ring = math.pi * (0.5**2 - 0.3**2)
    sides = form_of(Cylinder(1.0, 1.0)).area_m2 - 2 * math.pi * 0.25 + 2 * math.pi * 0.3
    assert stepped.area_m2 == pytest.approx(sides + ring, rel=1e-12)
    assert stepped.largest_flat_m2 == pytest.approx(ring, rel=1e-12)
    assert [station.z_m for station in stepped.stations] == [0.0, 1.0, 2.0]


def test_the_front_is_the_profile_and_its_mirror_image() -> None:
    (ring,) = outline_of(Turned(((0.5, 0.0), (0.0, 1.0))), "front").silhouette
    assert ring == ((0.5, 0.0), (0.0, 1.0), (-0.5, 0.0))


@pytest.mark.parametrize(
    ("profile", "sentence"),
    [
        (((0.5, 0.0),), "the profile has 1 points; it must have between 2 and 200."),
        (((0.5, 1.0), (0.5, 0.0)), "the profile goes down at point 2; give the points from the foot up."),
        (((0.5, 0.0), (0.5, 0.0), (0.5, 1.0)), "the profile has points 1 and 2 in one place; give each once."),
    ],
)
def test_it_refuses_a_profile_that_is_none(profile: tuple[tuple[float, float], ...], sentence: str) -> None:
    with pytest.raises(EstimatorError) as refused:
        Turned(profile)
    assert str(refused.value) == sentence


def test_it_refuses_a_radius_that_is_no_number() -> None:
    with pytest.raises(OutOfRange, match="radius of point 2"):
        Turned(((0.5, 0.0), (math.nan, 1.0)))
