"""How far points lie from a surface."""

import numpy as np
from numpy.typing import NDArray

from materials.mesh.triangles import FloatArray, Mesh, areas_and_normals, extremes

_MARKS = 60_000
_MOST_PARTS = 1024
_MOST_MARKS = 4_000_000
_MOST_WITHIN = 400
_FINEST = 1e-3
_NEAREST = 6


def spread_points(mesh: Mesh, count: int) -> tuple[FloatArray, NDArray[np.int64]]:
    """Return ``count`` points spread evenly over the mesh, shape (count, 3), and each one's face, shape (count,).

    Parameters
    ----------
    mesh : Mesh
    count : int
        How many points [dimensionless].

    Returns
    -------
    tuple of (ndarray of float64, ndarray of int64)
        Points [m] and rows of faces.
    """
    rng = np.random.default_rng(1)
    areas, _ = areas_and_normals(mesh)
    ends = np.cumsum(areas)
    # One in each equal share of the area, so that the points are spread and not heaped.
    face = np.searchsorted(ends, (np.arange(count) + rng.uniform(size=count)) / count * ends[-1])
    face = np.minimum(face, len(areas) - 1)
    u, v = rng.uniform(size=(2, count))
    over = u + v > 1
    u[over], v[over] = 1 - u[over], 1 - v[over]
    a, b, c = (mesh.vertices[mesh.faces[face, corner]] for corner in range(3))
    return a + u[:, None] * (b - a) + v[:, None] * (c - a), face


class Surface:
    """A mesh made ready for asking how far points lie from it.

    Marks on the surface say which faces to look at; the distance to those is exact.
    """

    def __init__(self, mesh: Mesh) -> None:
        from scipy.spatial import KDTree

        self._corners = mesh.vertices[mesh.faces]
        areas, _ = areas_and_normals(mesh)
        low, high = extremes(self._corners.reshape(-1, 3))
        self._step = max(float(np.sqrt(areas.sum() / _MARKS)), _FINEST * float(np.linalg.norm(high - low)))
        while _parts(self._corners, areas, self._step).prod(axis=1).sum() > _MOST_MARKS:
            # Very many long thin faces: marks farther apart serve.
            self._step *= 1.5
        marks, self._face = _marks(self._corners, areas, self._step)
        self._tree = KDTree(marks)

    def rough_distances(self, points: FloatArray) -> FloatArray:
        """Return each point's distance from the faces of the nearest marks: beside an edge it may be too large.

        Parameters
        ----------
        points : ndarray of float64, shape (n, 3)
            Points [m].

        Returns
        -------
        ndarray of float64, shape (n,)
            Distances [m].
        """
        _, marks = self._tree.query(points, k=_NEAREST)
        # A tree of fewer marks fills up with one that is not there.
        marks = np.minimum(marks, len(self._face) - 1)
        return self._least(points, marks.reshape(-1), np.full(len(points), _NEAREST))

    def distances(self, points: FloatArray) -> FloatArray:
        """Return each point's distance from the surface, shape (n,) [m].

        Parameters
        ----------
        points : ndarray of float64, shape (n, 3)
            Points [m].

        Returns
        -------
        ndarray of float64, shape (n,)
            Distances [m].
        """
        away = self.rough_distances(points)
        # Beside an edge the nearest marks may all be of the wrong face; every face within reach is looked at there.
        close = np.flatnonzero(away < 2 * self._step)
        reach = away + 1.2 * self._step
        count = self._tree.query_ball_point(points[close], reach[close], return_length=True)
        # Where sheets lie layer upon layer there are too many, and the nearest marks have to do.
        close, count = close[(count > 0) & (count <= _MOST_WITHIN)], count[(count > 0) & (count <= _MOST_WITHIN)]
        if len(close):
            within = self._tree.query_ball_point(points[close], reach[close], return_sorted=False)
            marks = np.concatenate(within).astype(np.int64)
            away[close] = np.minimum(away[close], self._least(points[close], marks, count))
        return away

    def _least(self, points: FloatArray, marks: NDArray[np.int64], count: NDArray[np.int64]) -> FloatArray:
        """Return each point's least distance from the faces of its ``count`` marks."""
        a, b, c = self._corners[self._face[marks]].transpose(1, 0, 2)
        here = np.repeat(points, count, axis=0)
        away = np.linalg.norm(here - _nearest(here, a, b, c), axis=1)
        return np.asarray(np.minimum.reduceat(away, np.cumsum(count) - count))


def _marks(corners: FloatArray, areas: FloatArray, step: float) -> tuple[FloatArray, NDArray[np.int64]]:
    """Return points on every face, none of it farther than 1.2 ``step`` from one of its own, and their faces."""
    sides = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2)
    order = (sides.argmax(axis=1)[:, None] + np.arange(3)) % 3
    start, end, tip = np.take_along_axis(corners, order[:, :, None], axis=1).transpose(1, 0, 2)
    parts = _parts(corners, areas, step)
    marks, faces = [], []
    for pair in np.unique(parts, axis=0).tolist():
        which = np.flatnonzero((parts == pair).all(axis=1))
        s, t = _rows(*pair)
        base = (1 - s) * start[which, None] + s * end[which, None]
        marks.append(((1 - t) * base + t * tip[which, None]).reshape(-1, 3))
        faces.append(np.repeat(which, len(s)))
    return np.concatenate(marks), np.concatenate(faces)


def _rows(along: int, across: int) -> tuple[FloatArray, FloatArray]:
    """Return the places of the marks on a face, along its longest side and up to its tip, each of shape (w, 1)."""
    heights = np.arange(across) / across
    counts = np.ceil(along * (1 - heights)).astype(np.int64)
    row = np.repeat(np.arange(across), counts)
    place = np.arange(len(row)) - np.repeat(np.cumsum(counts) - counts, counts)
    return ((place + 0.5) / counts[row])[:, None], heights[row][:, None]


def _parts(corners: FloatArray, areas: FloatArray, step: float) -> NDArray[np.int64]:
    """Return how many marks each face gets along its longest side and how many rows of them, shape (m, 2)."""
    longest = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2).max(axis=1)
    # In rows along the longest side, the first upon it: a long thin face gets marks all along and few across.
    across = 2 * areas / np.where(longest > 0, longest, 1)
    return np.stack([_doublings(longest / step), _doublings(across / step)], axis=1)


def _doublings(parts: FloatArray) -> NDArray[np.int64]:
    """Return the powers of two at or above the numbers, so that faces fall into few kinds."""
    return np.asarray(2 ** np.ceil(np.log2(np.clip(parts, 1, _MOST_PARTS))), dtype=np.int64)


def _nearest(p: FloatArray, a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """Return the point of each triangle nearest to p: inside it, or else on the nearest of its sides."""
    normal = np.cross(b - a, c - a)
    square = (normal * normal).sum(axis=-1, keepdims=True)
    foot = p - normal * (((p - a) * normal).sum(axis=-1, keepdims=True) / np.where(square > 0, square, 1))
    inside = square[..., 0] > 0
    for start, end in ((a, b), (b, c), (c, a)):
        inside &= (np.cross(end - start, foot - start) * normal).sum(axis=-1) >= 0
    sides = np.stack([_on_side(p, start, end) for start, end in ((a, b), (b, c), (c, a))])
    best = np.linalg.norm(sides - p, axis=-1).argmin(axis=0)
    on_side = np.take_along_axis(sides, best[None, ..., None], axis=0)[0]
    return np.asarray(np.where(inside[..., None], foot, on_side))


def _on_side(p: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    along = end - start
    square = (along * along).sum(axis=-1, keepdims=True)
    share = ((p - start) * along).sum(axis=-1, keepdims=True) / np.where(square > 0, square, 1)
    return np.asarray(start + np.clip(share, 0, 1) * along)
