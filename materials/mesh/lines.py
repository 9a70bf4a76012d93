"""The lines that a draughtsman would draw on a model: sharp edges, rims, and where a rounding turns away."""

import numpy as np

from materials.mesh.topology import edges_of
from materials.mesh.triangles import BoolArray, FloatArray, IntArray, Mesh, areas_and_normals

_SHARP = np.cos(np.radians(32.0))


class FeatureLines:
    """A mesh's lines that do not depend on the view, and what is needed for those that do."""

    def __init__(self, mesh: Mesh) -> None:
        self._mesh = mesh
        areas, self._normals = areas_and_normals(mesh)
        edges = edges_of(mesh.faces)
        pairs = edges.starts[edges.counts == 2]
        one, other = edges.face[pairs], edges.face[pairs + 1]
        sharp = np.einsum("ij,ij->i", self._normals[one], self._normals[other]) < _SHARP
        rims = edges.starts[edges.counts != 2]
        drawn = np.concatenate([pairs[sharp], rims])
        self.fixed = mesh.vertices[np.stack([edges.low[drawn], edges.high[drawn]], axis=1)]
        self._on_fixed = np.zeros(len(mesh.vertices), dtype=bool)
        self._on_fixed[edges.low[drawn]] = self._on_fixed[edges.high[drawn]] = True
        self._smooth = np.stack([edges.low[pairs[~sharp]], edges.high[pairs[~sharp]]], axis=1)
        self._beside = np.stack([one[~sharp], other[~sharp]], axis=1)
        self._point_normals = _point_normals(mesh, areas, self._normals)

    def turning_away(self, towards: FloatArray) -> FloatArray:
        """Return where the surface turns away from who looks, as segments of shape (s, 2, 3).

        Across plain roundings the line runs through the faces, where the
        surface's evened-out direction stands square to the view; beside sharp
        edges, where there is no such direction, it follows the edges.

        Parameters
        ----------
        towards : ndarray of float64, shape (3,)
            Unit vector to the viewer [dimensionless].

        Returns
        -------
        ndarray of float64, shape (s, 2, 3)
            Ends of the segments [m].
        """
        facing = self._point_normals @ towards
        rounded: BoolArray = np.logical_not(self._on_fixed[self._mesh.faces].any(axis=1))
        return np.concatenate([self._through_faces(facing, rounded), self._along_edges(towards, rounded)])

    def _through_faces(self, facing: FloatArray, rounded: BoolArray) -> FloatArray:
        faces = self._mesh.faces[rounded]
        high = facing[faces] >= 0
        count = high.sum(axis=1)
        crossed = (count == 1) | (count == 2)
        faces, high, count = faces[crossed], high[crossed], count[crossed]
        lone = np.where(count == 1, high.argmax(axis=1), high.argmin(axis=1))
        order = (lone[:, None] + np.arange(3)) % 3
        tip, left, right = np.take_along_axis(faces, order, axis=1).T
        return np.stack([self._between(facing, tip, left), self._between(facing, tip, right)], axis=1)

    def _between(self, facing: FloatArray, start: IntArray, end: IntArray) -> FloatArray:
        # From the lower to the higher row, so that two faces find the very same point on their common side.
        low, high = np.minimum(start, end), np.maximum(start, end)
        share = facing[low] / (facing[low] - facing[high])
        points = self._mesh.vertices
        return np.asarray(points[low] + share[:, None] * (points[high] - points[low]))

    def _along_edges(self, towards: FloatArray, rounded: BoolArray) -> FloatArray:
        looks = self._normals @ towards >= 0
        turns = looks[self._beside[:, 0]] != looks[self._beside[:, 1]]
        plain = rounded[self._beside].any(axis=1)
        return np.asarray(self._mesh.vertices[self._smooth[turns & ~plain]])


def _point_normals(mesh: Mesh, areas: FloatArray, normals: FloatArray) -> FloatArray:
    summed = np.zeros_like(mesh.vertices)
    weighted = normals * areas[:, None]
    for corner in range(3):
        np.add.at(summed, mesh.faces[:, corner], weighted)
    return summed
