"""Edges: which are open, which faces they join, and into how many bodies the faces fall."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from materials.mesh.triangles import IntArray, Mesh

Int64Array = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """The sides of all faces, sorted so that sides over the same two points lie together.

    Attributes
    ----------
    low, high : ndarray of int64, shape (3 m,)
        The two points of each side, the lower row first.
    forward : ndarray of bool, shape (3 m,)
        Whether the face runs from ``low`` to ``high``.
    face : ndarray of int64, shape (3 m,)
        The face each side belongs to.
    starts : ndarray of int64
        Where each edge's sides begin.
    counts : ndarray of int64
        How many sides each edge has: 2 on a plain closed surface.
    """

    low: Int64Array
    high: Int64Array
    forward: NDArray[np.bool_]
    face: Int64Array
    starts: Int64Array
    counts: Int64Array

    @property
    def surplus(self) -> Int64Array:
        """Sides running forward less those running back, for each edge: 0 where it is closed."""
        return np.add.reduceat(np.where(self.forward, 1, -1), self.starts) if len(self.starts) else self.counts


def edges_of(faces: IntArray) -> Edges:
    """Return the sides of all faces, sorted by edge.

    Parameters
    ----------
    faces : ndarray of int32, shape (m, 3)

    Returns
    -------
    Edges
    """
    tail = faces.reshape(-1).astype(np.int64)
    head = faces[:, [1, 2, 0]].reshape(-1).astype(np.int64)
    low, high = np.minimum(tail, head), np.maximum(tail, head)
    order = np.argsort((low << 32) | high, kind="stable")
    low, high = low[order], high[order]
    fresh = np.ones(len(low), dtype=bool)
    fresh[1:] = (low[1:] != low[:-1]) | (high[1:] != high[:-1])
    starts = np.flatnonzero(fresh)
    counts = np.diff(np.append(starts, len(low)))
    return Edges(low, high, (tail < head)[order], order // 3, starts, counts)


def neighbours(edges: Edges) -> tuple[Int64Array, Int64Array, NDArray[np.bool_]]:
    """Return the pairs of faces over edges of exactly two sides, and whether each pair runs the same way round.

    Parameters
    ----------
    edges : Edges

    Returns
    -------
    tuple of (ndarray of int64, ndarray of int64, ndarray of bool)
    """
    at = edges.starts[edges.counts == 2]
    return edges.face[at], edges.face[at + 1], edges.forward[at] != edges.forward[at + 1]


def bodies_of(mesh: Mesh) -> tuple[int, IntArray]:
    """Return the number of bodies and each face's body, shape (m,); faces that share a point are one body.

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    tuple of (int, ndarray of int32)
        How many [dimensionless], and which each face belongs to.
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    # Two sides of each face link all its corners.
    tail = mesh.faces[:, :2].reshape(-1)
    head = mesh.faces[:, 1:].reshape(-1)
    size = len(mesh.vertices)
    links = coo_array((np.ones(len(tail), np.int8), (tail, head)), shape=(size, size))
    _, label = connected_components(links, directed=False)
    # Points that no face uses are not bodies.
    used = np.zeros(label.max(initial=0) + 1, dtype=bool)
    used[label[mesh.faces[:, 0]]] = True
    number = np.cumsum(used, dtype=np.int32) - 1
    return int(used.sum()), number[label[mesh.faces[:, 0]]]


def crowded_edges_of(faces: IntArray) -> int:
    """Return at how many edges more than two faces meet.

    Parameters
    ----------
    faces : ndarray of int32, shape (m, 3)

    Returns
    -------
    int
        How many [dimensionless].
    """
    tail = faces.reshape(-1).astype(np.int64)
    head = faces[:, [1, 2, 0]].reshape(-1).astype(np.int64)
    edges = (np.minimum(tail, head) << 32) | np.maximum(tail, head)
    edges.sort()
    third = edges[2:] == edges[:-2]
    # Of a run of equal edges only the first third side counts.
    return int(third.sum() - (third[1:] & third[:-1]).sum())


def open_loops(edges: Edges) -> list[Int64Array]:
    """Return the open edges as closed runs of points, each against the way its faces run.

    Every run, joined by new faces in its own order, closes the surface; where
    several meet in one point they are taken apart there.

    Parameters
    ----------
    edges : Edges

    Returns
    -------
    list of ndarray of int64
        Rows of points.
    """
    surplus = edges.surplus
    at = edges.starts[surplus != 0]
    times = np.repeat(np.arange(len(at)), np.abs(surplus[surplus != 0]))
    rises = (surplus[surplus != 0] > 0)[times]
    low, high = edges.low[at][times], edges.high[at][times]
    tails, heads = np.where(rises, high, low), np.where(rises, low, high)
    onward: dict[int, list[int]] = {}
    for tail, head in zip(tails.tolist(), heads.tolist(), strict=True):
        onward.setdefault(tail, []).append(head)
    loops: list[Int64Array] = []
    for first in list(onward):
        while onward.get(first):
            loops.extend(_walk(first, onward))
    return loops


def _walk(first: int, onward: dict[int, list[int]]) -> list[Int64Array]:
    """Follow open edges from a point until none leads on, cutting a loop off whenever a point comes again."""
    loops: list[Int64Array] = []
    path, position = [first], {first: 0}
    while onward.get(path[-1]):
        point = onward[path[-1]].pop()
        if point not in position:
            position[point] = len(path)
            path.append(point)
            continue
        start = position[point]
        loops.append(np.array(path[start:], dtype=np.int64))
        for dropped in path[start + 1 :]:
            del position[dropped]
        del path[start + 1 :]
    return loops
