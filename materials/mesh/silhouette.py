"""The outer shape of a model seen from one side, closed or open alike.

Every triangle is laid flat and turned the same way round. The sides that then
do not cancel run round all that is covered, and filling them gives the shape.
A heap of loose faces has as many rings as faces, all across each other; its
shape is traced from the depth map instead, to a spot of the picture.
"""

import numpy as np

from materials.mesh.depth import DepthMap
from materials.mesh.topology import edges_of
from materials.mesh.triangles import FloatArray, IntArray

_FINEST = 1 / 2000
_SMALLEST = 1e-5
_MOST_RINGS = 400
_MOST_POINTS = 40_000

Ring = tuple[tuple[float, float], ...]


def silhouette_of(flat: FloatArray, faces: IntArray, depths: DepthMap) -> tuple[Ring, ...]:
    """Return the rings of the shape that triangles cover, outer ones and holes alike, to be filled even-odd.

    Parameters
    ----------
    flat : ndarray of float64, shape (n, 2)
        Points as seen [m].
    faces : ndarray of int32, shape (m, 3)
    depths : DepthMap
        Of the same triangles.

    Returns
    -------
    tuple of tuple of (float, float)

    References
    ----------
    Boundary of a sum of triangles; the fineness is common practice, no source.
    """
    from manifold3d import CrossSection, FillRule

    a, b, c = (flat[faces[:, corner]] for corner in range(3))
    doubled = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    laid = np.where((doubled < 0)[:, None], faces[:, ::-1], faces)[doubled != 0]
    if not len(laid):
        return ()
    size = float(np.ptp(flat, axis=0).max())
    rings = [flat[ring] for ring in _rings(laid.astype(np.int32))]
    rings = [ring for ring in rings if abs(_area(ring)) > _SMALLEST / 10 * size**2]
    if len(rings) > _MOST_RINGS or sum(len(ring) for ring in rings) > _MOST_POINTS:
        return _traced(depths)
    shape = CrossSection(rings, FillRule.Positive).simplify(_FINEST * size)
    kept = [ring for ring in shape.to_polygons() if abs(_area(ring)) > _SMALLEST * size**2]
    return tuple(tuple((round(float(x), 5), round(float(y), 5)) for x, y in ring) for ring in kept)


def _traced(depths: DepthMap) -> tuple[Ring, ...]:
    """Return the rings round all spots of the picture that a triangle covers."""
    import shapely

    shape = shapely.union_all(shapely.box(*depths.strips().T)).simplify(depths.spot)
    rings = []
    for part in shapely.get_parts(shape):
        for ring in (part.exterior, *part.interiors):
            rings.append(tuple((round(x, 5), round(y, 5)) for x, y in ring.coords[:-1]))
    return tuple(rings)


def _rings(faces: IntArray) -> list[IntArray]:
    """Return the sides that do not cancel as closed runs of points."""
    edges = edges_of(faces)
    surplus = edges.surplus
    at = np.repeat(edges.starts, np.abs(surplus))
    forth = np.repeat(surplus > 0, np.abs(surplus))
    tails, heads = np.where(forth, edges.low[at], edges.high[at]), np.where(forth, edges.high[at], edges.low[at])
    onward: dict[int, list[int]] = {}
    for tail, head in zip(tails.tolist(), heads.tolist(), strict=True):
        onward.setdefault(tail, []).append(head)
    rings = []
    for first in list(onward):
        while onward[first]:
            ring = [first]
            while (here := onward[ring[-1]].pop()) != first:
                ring.append(here)
            rings.append(np.array(ring, dtype=np.int32))
    return rings


def _area(ring: FloatArray) -> float:
    x, y = np.asarray(ring, dtype=np.float64).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
