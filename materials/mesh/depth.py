"""A depth map of a model seen from one side, and which parts of a line stand in front of it."""

import numpy as np
from numpy.typing import NDArray

from materials.mesh.triangles import BoolArray, FloatArray

PIXELS = 512
_COARSEST = 64
_MOST_SPOTS = 6_000_000
_MOST_LOOKS = 4_000_000
_AT_ONCE = 4096
# How far, as a share of the model's size, a line may lie behind the surface it runs on.
_BEHIND = 0.004

Int64Array = NDArray[np.int64]


class DepthMap:
    """How near the model comes at each spot of a picture.

    Parameters
    ----------
    corners : ndarray of float64, shape (m, 3, 3)
        Triangles as seen: right, up, and towards the viewer.
    """

    def __init__(self, corners: FloatArray) -> None:
        flat = corners[:, :, :2].reshape(-1, 2)
        self._low = flat.min(axis=0)
        self.size = float(max(np.ptp(flat, axis=0).max(), 1e-9))
        pixels = PIXELS
        covered = np.abs(_doubled(corners)).sum() / 2 / self.size**2
        while covered * pixels**2 > _MOST_SPOTS and pixels > _COARSEST:
            # Very many layers behind one another: a coarser picture serves.
            pixels //= 2
        self._scale = pixels / self.size
        self._depths = np.full((pixels + 4, pixels + 4), -np.inf)
        self._fill(corners)
        self._farthest = _least_around(self._depths)

    def _fill(self, corners: FloatArray) -> None:
        """Lay every triangle down row by row, keeping the nearest depth of each spot."""
        spots = corners.copy()
        spots[:, :, :2] = (spots[:, :, :2] - self._low) * self._scale + 1.5
        spots = spots[np.abs(_doubled(spots)) > 1e-9]
        for start in range(0, len(spots), _AT_ONCE):
            self._lay(spots[start : start + _AT_ONCE])

    def _lay(self, spots: FloatArray) -> None:
        triangle, row = _runs(spots[:, :, 1].min(axis=1), spots[:, :, 1].max(axis=1))
        left, right = _spans(spots[triangle], row)
        span, column = _runs(left, right)
        triangle, row = triangle[span], row[span]
        depth = _depths_at(spots, triangle, column, row)
        np.maximum.at(self._depths.reshape(-1), row * self._depths.shape[1] + column, depth)

    def visible(self, points: FloatArray) -> tuple[BoolArray, BoolArray]:
        """Tell which points, shape (n, 3), nothing hides, and which of them lie on the outline, each of shape (n,).

        Parameters
        ----------
        points : ndarray of float64, shape (n, 3)
            Points as seen: right, up, towards the viewer [m].

        Returns
        -------
        tuple of (ndarray of bool, ndarray of bool)
            Each of shape (n,).
        """
        column, row = ((points[:, :2] - self._low) * self._scale + 1.5).astype(np.int64).T
        column, row = (np.clip(index, 0, len(self._depths) - 1) for index in (column, row))
        farthest = self._farthest[row, column]
        on_outline: BoolArray = np.isneginf(farthest)
        return points[:, 2] >= farthest - _BEHIND * self.size, on_outline

    @property
    def spot(self) -> float:
        """Side of one spot of the picture, in the unit of the corners."""
        return 1 / self._scale

    def strips(self) -> FloatArray:
        """Return the covered stretches of every row as left, low, right, high.

        Returns
        -------
        ndarray of float64, shape (k, 4)
            In the unit of the corners.
        """
        covered = np.pad(np.isfinite(self._depths), ((0, 0), (1, 1))).astype(np.int8)
        change = np.diff(covered, axis=1)
        row, left = np.nonzero(change > 0)
        _, right = np.nonzero(change < 0)
        spots = np.stack([left, row, right, row + 1], axis=1) - 1.5
        return np.asarray(spots / self._scale + np.tile(self._low, 2))

    def steps(self, lengths: FloatArray) -> Int64Array:
        """Return how many points a line of each length is looked at in, so that none of the picture is stepped over.

        Parameters
        ----------
        lengths : ndarray of float64, shape (s,)
            Lengths as seen [m].

        Returns
        -------
        ndarray of int64, shape (s,)
        """
        steps = lengths * self._scale
        # Very many long lines: looked at less closely.
        steps *= min(1.0, _MOST_LOOKS / max(float(steps.sum()), 1.0))
        return np.asarray(np.ceil(steps), dtype=np.int64) + 1


def _doubled(corners: FloatArray) -> FloatArray:
    """Return twice each triangle's area as seen, negative where its back is seen, shape (m,)."""
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return np.asarray(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])


def _runs(low: FloatArray, high: FloatArray) -> tuple[Int64Array, Int64Array]:
    """Return every whole spot whose middle lies between ``low`` and ``high``, and which pair it belongs to."""
    first = np.ceil(low - 0.5).astype(np.int64)
    counts = np.maximum(np.floor(high - 0.5).astype(np.int64) - first + 1, 0)
    which = np.repeat(np.arange(len(counts)), counts)
    return which, first[which] + np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)


def _spans(corners: FloatArray, row: Int64Array) -> tuple[FloatArray, FloatArray]:
    """Return where the middle of a row enters and leaves each triangle, both of shape (k,)."""
    height = row + 0.5
    left, right = np.full(len(corners), np.inf), np.full(len(corners), -np.inf)
    for start, end in ((0, 1), (1, 2), (2, 0)):
        p, q = corners[:, start], corners[:, end]
        crossed = (p[:, 1] <= height) != (q[:, 1] <= height)
        rise = np.where(crossed, q[:, 1] - p[:, 1], 1)
        place = p[:, 0] + (height - p[:, 1]) / rise * (q[:, 0] - p[:, 0])
        left = np.where(crossed, np.minimum(left, place), left)
        right = np.where(crossed, np.maximum(right, place), right)
    # A line that only grazes a corner enters nowhere.
    grazed = left > right
    return np.where(grazed, 0.0, left), np.where(grazed, -1.0, right)


def _depths_at(spots: FloatArray, triangle: Int64Array, column: Int64Array, row: Int64Array) -> FloatArray:
    one, two = spots[:, 1] - spots[:, 0], spots[:, 2] - spots[:, 0]
    doubled = _doubled(spots)
    along_x = (one[:, 2] * two[:, 1] - two[:, 2] * one[:, 1]) / doubled
    along_y = (two[:, 2] * one[:, 0] - one[:, 2] * two[:, 0]) / doubled
    origin = spots[triangle, 0]
    aside, rise = column + 0.5 - origin[:, 0], row + 0.5 - origin[:, 1]
    depth = origin[:, 2] + along_x[triangle] * aside + along_y[triangle] * rise
    # A face seen nearly edge on rises so steeply that rounding could carry it out of itself.
    low, high = spots[:, :, 2].min(axis=1), spots[:, :, 2].max(axis=1)
    return np.asarray(np.clip(depth, low[triangle], high[triangle]))


def _least_around(depths: FloatArray) -> FloatArray:
    """Return the least of each spot and its eight neighbours."""
    wide = np.pad(depths, 1, constant_values=-np.inf)
    rows = np.minimum(np.minimum(wide[:-2], wide[1:-1]), wide[2:])
    return np.asarray(np.minimum(np.minimum(rows[:, :-2], rows[:, 1:-1]), rows[:, 2:]))
