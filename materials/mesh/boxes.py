"""The least box that a model fits into, however it is turned."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from materials.mesh.triangles import FloatArray, extremes

_SAMPLE = 10_000
_MOST_HULL_POINTS = 400
_MOST_FINE_POINTS = 2000
_COARSE_TURNS = 600
_FINE_TURNS = 100
_STARTS = 6
_ANGLES = (0.3, 0.15, 0.07, 0.035, 0.015, 7e-3, 3e-3, 1e-3, 3e-4, 1e-4, 3e-5, 1e-5)


@dataclass(frozen=True, slots=True)
class LeastBox:
    """A box round the model, turned so that it is small.

    Attributes
    ----------
    length_m, width_m, height_m : float
        Its sides, longest first [m].
    """

    length_m: float
    width_m: float
    height_m: float

    @property
    def volume_m3(self) -> float:
        """Volume of the box [m^3]."""
        return self.length_m * self.width_m * self.height_m


def least_box(points: NDArray[Any]) -> LeastBox:
    """Return a least box round the points.

    The turn is searched on the hull of a sample, from many starts, finer and
    finer; the sides are then taken over every point, so the box always holds
    all of them. It is within about 1 % of the least there is.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        Points [m].

    Returns
    -------
    LeastBox

    References
    ----------
    Common practice, no source.
    """
    fine, hull = _hulls(points[:: max(1, len(points) // _SAMPLE)].astype(np.float64))
    rng = np.random.default_rng(1)
    _, _, principal = np.linalg.svd(hull - hull.mean(axis=0), full_matrices=False)
    turns = np.concatenate([np.eye(3)[None], _proper(principal)[None], _turns(rng, _COARSE_TURNS, np.pi)])
    starts = turns[np.argsort(_volumes(hull, turns))[:_STARTS]]
    found = [_refine(hull, start, rng, _ANGLES) for start in starts]
    best = min(found, key=lambda turn: float(_volumes(hull, turn[None])[0]))
    best = _refine(fine[:: max(1, len(fine) // _MOST_FINE_POINTS)], best, rng, _ANGLES[3:])
    low, high = extremes(points, best)
    sides = np.sort(high - low)
    return LeastBox(float(sides[2]), float(sides[1]), float(sides[0]))


def _hulls(points: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the points of the hull, and those of a rough one that has few."""
    from manifold3d import Manifold

    hull = Manifold.hull_points(np.ascontiguousarray(points))
    if hull.is_empty():
        # All in one plane: no hull, and few enough points of the sample do.
        few = points[:: max(1, len(points) // _MOST_HULL_POINTS)]
        return few, few
    fine = np.array(hull.to_mesh64().vert_properties[:, :3])
    step = 1e-4 * float(np.ptp(points, axis=0).max())
    while hull.num_vert() > _MOST_HULL_POINTS:
        hull, step = hull.simplify(step), 1.5 * step
    return fine, np.array(hull.to_mesh64().vert_properties[:, :3])


def _refine(hull: FloatArray, turn: FloatArray, rng: np.random.Generator, angles: tuple[float, ...]) -> FloatArray:
    for angle in angles:
        tries = np.concatenate([turn[None], _turns(rng, _FINE_TURNS, angle) @ turn])
        turn = tries[int(_volumes(hull, tries).argmin())]
    return turn


def _volumes(hull: FloatArray, turns: FloatArray) -> FloatArray:
    turned = np.einsum("tij,jp->tip", turns, hull.T)
    return np.asarray((turned.max(axis=2) - turned.min(axis=2)).prod(axis=1))


def _turns(rng: np.random.Generator, count: int, most: float) -> FloatArray:
    """Return turns about random axes by up to ``most``, shape (count, 3, 3)."""
    axes = rng.normal(size=(count, 3))
    x, y, z = (axes / np.linalg.norm(axes, axis=1)[:, None]).T
    angles = rng.uniform(0, most, count)
    zero = np.zeros(count)
    cross = np.stack([zero, -z, y, z, zero, -x, -y, x, zero], axis=1).reshape(-1, 3, 3)
    return np.asarray(
        np.eye(3) + np.sin(angles)[:, None, None] * cross + (1 - np.cos(angles))[:, None, None] * (cross @ cross)
    )


def _proper(turn: FloatArray) -> FloatArray:
    return turn if np.linalg.det(turn) > 0 else -turn
