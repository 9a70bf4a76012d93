"""Faces of more than three corners made into triangles."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from materials.mesh.formats.parsed import Refusal, check_counts, check_indices


def triangles_of(
    points: NDArray[np.float64], corners: NDArray[np.int64], sizes: NDArray[np.int64]
) -> NDArray[np.int32]:
    """Return the triangles of faces given as one run of corners and the number of corners of each.

    Parameters
    ----------
    points : ndarray of float64, shape (n, 3)
    corners : ndarray of int64
        The corners of all faces in one run.
    sizes : ndarray of int64
        How many corners each face has [dimensionless].

    Returns
    -------
    ndarray of int32, shape (m, 3)

    Raises
    ------
    Refusal
        Where a face has fewer than three corners or names a point that is not there.
    """
    if len(sizes) and int(sizes.min()) < 3:
        raise Refusal("A face in the file has fewer than three corners; the file is damaged, export it again.")
    check_counts(len(points), int((sizes - 2).sum()))
    corners = check_indices(corners, len(points)).astype(np.int64)
    starts = np.cumsum(sizes) - sizes
    made: list[NDArray[np.int64]] = []
    for size in np.unique(sizes):
        rows = corners[starts[sizes == size][:, None] + np.arange(size)]
        fan = np.stack([np.stack([rows[:, 0], rows[:, i], rows[:, i + 1]], axis=1) for i in range(1, size - 1)], axis=1)
        if size > 3:
            _mend_hollow_ones(points, rows, fan)
        made.append(fan.reshape(-1, 3))
    if not made:
        return np.empty((0, 3), dtype=np.int32)
    return np.concatenate(made).astype(np.int32)


def _mend_hollow_ones(points: NDArray[np.float64], rows: NDArray[np.int64], fan: NDArray[np.int64]) -> None:
    """Replace the fan of each polygon that turns inwards somewhere: its triangles would lie outside it."""
    a, b, c = points[fan[:, :, 0]], points[fan[:, :, 1]], points[fan[:, :, 2]]
    normals = np.cross(b - a, c - a)
    whole = normals.sum(axis=1)
    hollow = np.flatnonzero((np.einsum("nkj,nj->nk", normals, whole) < 0).any(axis=1))
    for index in hollow:
        cut = _ears(points[rows[index]], whole[index])
        if cut is not None:
            fan[index] = rows[index][cut]


def _ears(ring: NDArray[np.float64], normal: NDArray[np.float64]) -> NDArray[Any] | None:
    from manifold3d import triangulate

    drop = int(np.abs(normal).argmax())
    axes = [(1, 2), (2, 0), (0, 1)][drop]
    flat = ring[:, axes]
    order = np.arange(len(ring)) if normal[drop] > 0 else np.arange(len(ring))[::-1]
    cut = order[np.asarray(triangulate([np.ascontiguousarray(flat[order])]), dtype=np.int64)]
    if len(cut) != len(ring) - 2:
        return None
    return cut if normal[drop] > 0 else cut[:, ::-1]
