"""The plane about which a model is most nearly the same on both sides, and how nearly."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from materials.mesh.cutting import cut
from materials.mesh.planes import Plane, plane_of
from materials.mesh.preview import preview_of
from materials.mesh.surface import Surface, spread_points
from materials.mesh.triangles import FloatArray, Mesh, add_up, extremes, used_points

_FACES = 5_000
_POINTS = 250
_TURNS = 36
_ROUNDS = 8
# Mean distance, as a share of the diagonal, above which nobody would call the two sides alike.
_UNLIKE = 0.03
# The plane across x or y through the middle is taken unless another is this much nearer.
_CLEARLY = 0.8
_NOTHING = 1e-4
_COMPARED = 5_000


@dataclass(frozen=True, slots=True)
class Mirror:
    """An upright plane that nearly mirrors the model.

    Attributes
    ----------
    plane : Plane
    mean_mm : float
        Mean distance between one side and the other's reflection [mm].
    """

    plane: Plane
    mean_mm: float


@dataclass(frozen=True, slots=True)
class Sides:
    """The two sides of a plane compared.

    Attributes
    ----------
    left_area_m2, right_area_m2 : float
        Skin below and above the plane [m^2].
    left_volume_m3, right_volume_m3 : float or None
        Volume below and above it [m^3]; None where the model is open.
    mean_mm, largest_mm : float
        Distance between one side and the other's reflection [mm].
    """

    left_area_m2: float
    right_area_m2: float
    left_volume_m3: float | None
    right_volume_m3: float | None
    mean_mm: float
    largest_mm: float

    @property
    def area_percent(self) -> float:
        """Difference of area in percent of the mean [percent]."""
        return _percent(self.left_area_m2, self.right_area_m2)

    @property
    def volume_percent(self) -> float | None:
        """Difference of volume in percent of the mean [percent]; None where the model is open."""
        if self.left_volume_m3 is None or self.right_volume_m3 is None:
            return None
        return _percent(self.left_volume_m3, self.right_volume_m3)


def mirror_of(mesh: Mesh) -> Mirror | None:
    """Suggest the upright plane about which the model is most nearly the same on both sides.

    Parameters
    ----------
    mesh : Mesh
        In metres, z up.

    Returns
    -------
    Mirror or None
        None where no plane comes near.

    References
    ----------
    Common practice, no source.
    """
    mesh = preview_of(mesh.skin, _FACES)
    points, _ = spread_points(mesh, _POINTS)
    surface = Surface(mesh)
    centre = np.array(add_up(mesh.vertices, mesh.faces).area_centre)
    low, high = extremes(used_points(mesh))
    size = float(np.linalg.norm(high - low))

    def mirrored(angle: float, shift: float) -> FloatArray:
        normal = np.array([np.cos(angle), np.sin(angle), 0])
        return _reflected(points, normal, float(normal @ centre) + shift)

    def away(angle: float, shift: float) -> float:
        return float(surface.rough_distances(mirrored(angle, shift)).mean())

    middle = ((low + high) / 2 - centre)[:2]
    natural = min(((0.0, float(middle[0])), (np.pi / 2, float(middle[1]))), key=lambda pair: away(*pair))
    best = (*natural, away(*natural))
    angles = np.arange(_TURNS) * np.pi / _TURNS
    found = _refined(away, float(min(angles, key=lambda angle: away(float(angle), 0.0))), size)
    if found[2] < _CLEARLY * best[2] - _NOTHING * size:
        best = found
    angle, shift, mean = best
    if mean > _UNLIKE * size:
        return None
    normal = np.round([np.cos(angle), np.sin(angle), 0], 12)
    plane = plane_of((float(normal[0]), float(normal[1]), 0.0), float(normal @ centre) + shift)
    return Mirror(plane, mean * 1000)


def compare_sides(mesh: Mesh, plane: Plane) -> Sides:
    """Compare the two sides of a plane.

    Parameters
    ----------
    mesh : Mesh
        Tidied, in metres.
    plane : Plane

    Returns
    -------
    Sides

    Raises
    ------
    BadCut
        Where the plane misses the model.

    References
    ----------
    Common practice, no source.
    """
    below, above = (_side(mesh, plane, is_above) for is_above in (False, True))
    normal = np.array(plane.normal)
    left, right = Surface(below[0]), Surface(above[0])
    away = np.concatenate(
        [
            right.distances(_reflected(spread_points(below[0], _COMPARED)[0], normal, plane.offset_m)),
            left.distances(_reflected(spread_points(above[0], _COMPARED)[0], normal, plane.offset_m)),
        ]
    )
    return Sides(
        left_area_m2=below[1],
        right_area_m2=above[1],
        left_volume_m3=below[2],
        right_volume_m3=above[2],
        mean_mm=float(away.mean()) * 1000,
        largest_mm=float(away.max()) * 1000,
    )


def _side(mesh: Mesh, plane: Plane, is_above: bool) -> tuple[Mesh, float, float | None]:
    section = next(part for part in cut(mesh, (plane,)).sections if part.above == (is_above,))
    return section.mesh.skin, section.area_m2, section.volume_m3


def _refined(away: Callable[[float, float], float], angle: float, size: float) -> tuple[float, float, float]:
    """Return angle, shift and mean distance of the best plane near an angle, by ever smaller steps."""
    best = (angle, 0.0, away(angle, 0.0))
    turn, shift = np.pi / _TURNS, 0.05 * size
    for _ in range(_ROUNDS):
        for there in (-turn, 0.0, turn):
            for aside in (-shift, 0.0, shift):
                tried = (best[0] + there, best[1] + aside)
                mean = away(*tried)
                if mean < best[2]:
                    best = (*tried, mean)
        turn, shift = turn / 2, shift / 2
    return best


def _reflected(points: FloatArray, normal: FloatArray, offset_m: float) -> FloatArray:
    return points - 2 * (points @ normal - offset_m)[:, None] * normal


def _percent(one: float, other: float) -> float:
    return 200 * abs(one - other) / (one + other)
