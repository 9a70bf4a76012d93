"""Curves as points: even enough for stations to be linear between, smooth enough for print."""

import math
from functools import lru_cache

from materials.estimator.form import Station
from materials.estimator.outline import Point

_STATIONS = 65
_POINTS = 96


@lru_cache(maxsize=8)
def _quarter_turns(quarters: int, steps: int) -> tuple[Point, ...]:
    """Cosine and sine at equal steps over so many quarter turns, exact at each quarter."""
    exact = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    turns: list[Point] = []
    for step in range(steps + 1):
        quarter, rest = divmod(step * quarters, steps)
        if rest == 0:
            turns.append(exact[quarter % 4])
        else:
            angle = step * quarters * math.pi / (2 * steps)
            turns.append((math.cos(angle), math.sin(angle)))
    return tuple(turns)


def _powered(value: float, exponent: float) -> float:
    return math.copysign(abs(value) ** exponent, value)


def rounded_stations(
    half_length_m: float, half_width_m: float, half_height_m: float, exponent: float = 1.0
) -> tuple[Station, ...]:
    """Stations of a body whose upright profile is an ellipse or a superellipse.

    Parameters
    ----------
    half_length_m, half_width_m, half_height_m : float
        Semi-axes [m].
    exponent : float
        Exponent of the profile, 1 for an ellipse [dimensionless].

    Returns
    -------
    tuple of Station
        Exact cuts, closer together where the extents change faster.
    """
    return tuple(
        Station(
            z_m=half_height_m * (1 - _powered(cos, exponent)),
            length_m=2 * half_length_m * sin**exponent,
            width_m=2 * half_width_m * sin**exponent,
        )
        for cos, sin in _quarter_turns(2, _STATIONS - 1)
    )


def ring_stations(ring_diameter_m: float, tube_diameter_m: float) -> tuple[Station, ...]:
    """Stations of a torus lying flat.

    Parameters
    ----------
    ring_diameter_m, tube_diameter_m : float
        Diameters, the ring's to the middle of the tube [m].

    Returns
    -------
    tuple of Station
        Exact cuts by their outer extents.
    """
    return tuple(
        Station(
            z_m=tube_diameter_m / 2 * (1 - cos),
            length_m=ring_diameter_m + tube_diameter_m * sin,
            width_m=ring_diameter_m + tube_diameter_m * sin,
        )
        for cos, sin in _quarter_turns(2, _STATIONS - 1)
    )


def cap_stations(sphere_diameter_m: float, height_m: float) -> tuple[Station, ...]:
    """Stations of a spherical cap, its flat at the foot.

    Parameters
    ----------
    sphere_diameter_m, height_m : float
        Diameter of the sphere and height of the cap [m].

    Returns
    -------
    tuple of Station
        Exact cuts at equal angles.
    """
    profile = _cap_profile(sphere_diameter_m / 2, height_m)
    return tuple(Station(z_m, 2 * across_m, 2 * across_m) for z_m, across_m in profile)


def _cap_profile(radius_m: float, height_m: float) -> list[Point]:
    """Height and half width from the foot up, at equal angles as seen from the sphere's centre."""
    widest = math.acos(1 - height_m / radius_m)
    steps = _STATIONS - 1
    angles = [widest * step / steps for step in range(1, steps)]
    if widest > math.pi / 2:
        angles = sorted({*angles, math.pi / 2})
    foot_m = math.sqrt(max(height_m * (2 * radius_m - height_m), 0.0))
    between = [(height_m - radius_m * (1 - math.cos(angle)), radius_m * math.sin(angle)) for angle in reversed(angles)]
    return [(0.0, foot_m), *between, (height_m, 0.0)]


def ellipse_outline(
    half_width_m: float, half_height_m: float, middle_m: float, exponent: float = 1.0
) -> tuple[Point, ...]:
    """Closed outline of an ellipse or superellipse.

    Parameters
    ----------
    half_width_m, half_height_m, middle_m : float
        Semi-axes, and height of the middle above the view's origin [m].
    exponent : float
        Exponent, 1 for an ellipse [dimensionless].

    Returns
    -------
    tuple of (float, float)
        Points [m].
    """
    return tuple(
        (half_width_m * _powered(cos, exponent), middle_m + half_height_m * _powered(sin, exponent))
        for cos, sin in _quarter_turns(4, _POINTS)[:-1]
    )


def stadium_outline(ring_diameter_m: float, tube_diameter_m: float) -> tuple[Point, ...]:
    """Closed outline of a torus lying flat, seen along the floor.

    Parameters
    ----------
    ring_diameter_m, tube_diameter_m : float
        Diameters, the ring's to the middle of the tube [m].

    Returns
    -------
    tuple of (float, float)
        Points [m].
    """
    half_ring, radius = ring_diameter_m / 2, tube_diameter_m / 2
    half_turn = _quarter_turns(2, _POINTS // 2)
    right = [(half_ring + radius * sin, radius * (1 - cos)) for cos, sin in half_turn]
    left = [(-half_ring - radius * sin, radius * (1 + cos)) for cos, sin in half_turn]
    return (*right, *left)


def cap_outline(sphere_diameter_m: float, height_m: float) -> tuple[Point, ...]:
    """Closed outline of a spherical cap seen along the floor.

    Parameters
    ----------
    sphere_diameter_m, height_m : float
        Diameter of the sphere and height of the cap [m].

    Returns
    -------
    tuple of (float, float)
        Points [m].
    """
    rising = _cap_profile(sphere_diameter_m / 2, height_m)
    right = [(across, z) for z, across in rising]
    left = [(-across, z) for z, across in reversed(rising[:-1])]
    return (*right, *left)


def rectangle_outline(width_m: float, bottom_m: float, top_m: float) -> tuple[Point, ...]:
    """Closed rectangle about the view's upright axis.

    Parameters
    ----------
    width_m, bottom_m, top_m : float
        Width, and heights of its lower and upper edge [m].

    Returns
    -------
    tuple of (float, float)
        Corners [m].
    """
    half = width_m / 2
    return ((-half, bottom_m), (half, bottom_m), (half, top_m), (-half, top_m))
