"""The shadow of a piece on a wall: how large, and how high its middle stands.

Sections that hide one another are counted once. The area is summed over thin
level strips; by geometry.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import Missing
from materials.estimator.outline import Point

_STRIPS = 600

Rings = Sequence[Sequence[Point]]


@dataclass(frozen=True, slots=True)
class Shadow:
    """A silhouette seen against the wind.

    Attributes
    ----------
    area_m2 : float
        [m^2]
    middle_m : float
        Height of its centre of area [m].
    top_m, breadth_m : float
        Height of its highest point, and how far it reaches across [m].
    low_m : float
        Height of its lowest point [m].
    widths_m : tuple of float
        How wide it is in each of equal level strips, from the lowest point up [m].
    """

    area_m2: float
    middle_m: float
    top_m: float
    breadth_m: float
    low_m: float
    widths_m: tuple[float, ...]

    def between(self, low_m: float, high_m: float) -> tuple[float, float]:
        """What of it lies between two heights.

        Parameters
        ----------
        low_m, high_m : float
            [m]

        Returns
        -------
        tuple of float
            Its area [m^2], and the height of its middle [m]; of nothing the lower height.
        """
        edges = np.linspace(self.low_m, self.top_m, len(self.widths_m) + 1)
        feet, heads = np.clip(edges[:-1], low_m, high_m), np.clip(edges[1:], low_m, high_m)
        areas = np.array(self.widths_m) * (heads - feet)
        area_m2 = float(areas.sum())
        return area_m2, float((areas * (feet + heads)).sum()) / (2 * area_m2) if area_m2 > 0 else low_m


def shadow(silhouettes: Sequence[Rings]) -> Shadow:
    """The shadow of several silhouettes together.

    Parameters
    ----------
    silhouettes : sequence of sequences of rings
        Of each section its closed rings in their place, even-odd filled [m].

    Returns
    -------
    Shadow

    Raises
    ------
    Missing
        Where there is no silhouette, or all of them together have no height.
    """
    edges = [_edges(rings) for rings in silhouettes if rings]
    heights = np.concatenate([each[:, 1::2].ravel() for each in edges]) if edges else np.zeros(1)
    low, high = float(heights.min()), float(heights.max())
    if high - low <= 0:
        raise Missing("Silhouette", "the sections have no outline from this side.")
    strip_m = (high - low) / _STRIPS
    middles = low + strip_m * (np.arange(_STRIPS) + 0.5)
    widths = np.array([_covered([span for each in edges for span in _spans(each, z)]) for z in middles])
    area_m2 = float(widths.sum()) * strip_m
    across = np.concatenate([each[:, ::2].ravel() for each in edges])
    return Shadow(
        area_m2=area_m2,
        middle_m=float((widths * middles).sum() / widths.sum()),
        top_m=high,
        breadth_m=float(across.max() - across.min()),
        low_m=low,
        widths_m=tuple(widths.tolist()),
    )


def _edges(rings: Rings) -> np.ndarray:
    """Every side of every ring as a row: from x, from z, to x, to z."""
    sides = [np.hstack([points, np.roll(points, -1, axis=0)]) for points in (np.array(ring, float) for ring in rings)]
    return np.vstack(sides)


def _spans(edges: np.ndarray, z: float) -> list[tuple[float, float]]:
    """What a level line has inside the rings."""
    crossing = edges[(edges[:, 1] <= z) != (edges[:, 3] <= z)]
    share = (z - crossing[:, 1]) / (crossing[:, 3] - crossing[:, 1])
    places = np.sort(crossing[:, 0] + share * (crossing[:, 2] - crossing[:, 0])).tolist()
    return list(zip(places[::2], places[1::2], strict=True))


def _covered(spans: Sequence[tuple[float, float]]) -> float:
    """How much of a line several spans cover together."""
    covered, reached = 0.0, -np.inf
    for begin, end in sorted(spans):
        covered += max(0.0, end - max(begin, reached))
        reached = max(reached, end)
    return covered
