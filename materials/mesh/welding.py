"""Points that coincide made one: exactly equal ones always, nearly equal ones only where the mesh is open."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from materials.mesh.balance import HashArray, hashes_of
from materials.mesh.triangles import FloatArray, IntArray, Mesh

_INDEX_BITS = np.uint64(23)
_BLOCK = 32_768
_MOST_PAIRS = 60_000_000


def weld(points: NDArray[Any], faces: IntArray | None) -> Mesh:
    """Return a mesh whose exactly equal points are shared; nothing moves.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        At most 6 million.
    faces : ndarray of int32, shape (m, 3), or None
        Rows of ``points``; None where each three points in turn are one triangle.

    Returns
    -------
    Mesh
    """
    hashes = hashes_of(points)
    rows = _order(hashes)
    ordered = hashes[rows]
    fresh = np.ones(len(rows), dtype=bool)
    fresh[1:] = ordered[1:] != ordered[:-1]
    place = np.empty(len(points), dtype=np.int32)
    place[rows] = np.cumsum(fresh, dtype=np.int32) - 1
    vertices = points[rows[fresh]]
    if not _same(points, vertices, place):
        vertices, again = np.unique(points, axis=0, return_inverse=True)
        place = again.reshape(-1).astype(np.int32)
    return Mesh(vertices.astype(np.float64), _corners(place, faces))


def _same(points: NDArray[Any], vertices: NDArray[Any], place: IntArray) -> bool:
    """Tell whether every point is where it was, as it is unless two points share a hash."""
    return all(
        np.array_equal(points[start : start + _BLOCK], vertices[place[start : start + _BLOCK]])
        for start in range(0, len(points), _BLOCK)
    )


def _order(hashes: HashArray) -> NDArray[np.int64]:
    """Return the rows in an order that keeps equal hashes together."""
    # The upper bits with the row in the lower ones: one plain sort, half the time of an indirect one.
    low = (np.uint64(1) << _INDEX_BITS) - np.uint64(1)
    keys = (hashes & ~low) | np.arange(len(hashes), dtype=np.uint64)
    keys.sort()
    rows = (keys & low).astype(np.int64)
    groups, ordered = keys >> _INDEX_BITS, hashes[rows]
    # Two hashes that share their upper bits may lie mixed.
    if ((groups[1:] == groups[:-1]) & (ordered[1:] != ordered[:-1])).any():
        return np.argsort(hashes, kind="stable")
    return rows


def _corners(place: IntArray, faces: IntArray | None) -> IntArray:
    return place.reshape(-1, 3) if faces is None else place[faces]


def weld_near(mesh: Mesh, at: NDArray[np.int64], distance: float) -> tuple[Mesh, int]:
    """Join those of the points ``at`` that lie within ``distance`` of each other, and drop faces that vanish.

    Where more than 60 million pairs lie so near, none is joined.

    Parameters
    ----------
    mesh : Mesh
    at : ndarray of int64
        Rows of points that may be joined: those on open edges.
    distance : float
        In the mesh's unit of length.

    Returns
    -------
    tuple of (Mesh, int)
        The mesh, and how many points were joined to another [dimensionless].
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import KDTree

    if not len(at):
        return mesh, 0
    spots: FloatArray = mesh.vertices[at]
    tree = KDTree(spots)
    # Counted first: a heap of points all within reach of each other would give more pairs than there is room for.
    if tree.count_neighbors(tree, distance) > _MOST_PAIRS:
        return mesh, 0
    pairs = tree.query_pairs(distance, output_type="ndarray")
    if not len(pairs):
        return mesh, 0
    links = coo_array((np.ones(len(pairs), bool), (pairs[:, 0], pairs[:, 1])), shape=(len(at), len(at)))
    count, group = connected_components(links, directed=False)
    firsts = np.full(count, -1, dtype=np.int64)
    firsts[group[::-1]] = at[::-1]
    place = np.arange(len(mesh.vertices), dtype=np.int32)
    place[at] = firsts[group]
    faces = place[mesh.faces]
    whole = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    return Mesh(mesh.vertices, faces[whole]), len(at) - count
