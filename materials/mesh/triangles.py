"""The mesh type, and the sums over its triangles: area, enclosed volume and their centres.

Area is half the sum of |e1 x e2|, volume one sixth of the sum of v1.(v2 x v3).
Both come from the triangles as they are, in blocks that stay in the
processor's cache, so that a large model costs little more than reading it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int32]
BoolArray = NDArray[np.bool_]

_BLOCK = 8192


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Triangles over shared points.

    Attributes
    ----------
    vertices : ndarray of float64, shape (n, 3)
        Points [m] once the mesh stands; before that in the file's unit.
    faces : ndarray of int32, shape (m, 3)
        Rows of ``vertices``, counter-clockwise seen from outside.
    joint : ndarray of bool, shape (m,), or None
        True for faces that a cut made: they are not skin. None where there are none.
    """

    vertices: FloatArray
    faces: IntArray
    joint: BoolArray | None = None

    @property
    def skin(self) -> "Mesh":
        """The mesh without the faces that a cut made."""
        if self.joint is None or not self.joint.any():
            return self
        return Mesh(self.vertices, self.faces[~self.joint])


@dataclass(frozen=True, slots=True)
class Sums:
    """What the triangles add up to, in the mesh's own unit of length.

    Attributes
    ----------
    area : float
        Area of all triangles, in the square of the unit.
    area_centre : tuple of float
        Centre of the area, in the unit.
    volume : float
        Signed volume, in the cube of the unit: positive where the faces look outwards. Only a closed mesh has one.
    volume_centre : tuple of float or None
        Centre of the volume, in the unit; None where it is 0.
    """

    area: float
    area_centre: tuple[float, float, float]
    volume: float
    volume_centre: tuple[float, float, float] | None


def corner_blocks(points: NDArray[Any], faces: IntArray | None, origin: FloatArray) -> Iterator[FloatArray]:
    """Yield the corners block by block as rows ax, ay, az, bx ... cz, measured from ``origin``.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
    faces : ndarray of int32, shape (m, 3), or None
        Rows of ``points``; None where each three points in turn are one triangle.
    origin : ndarray of float64, shape (3,)
        In the unit of the points.

    Yields
    ------
    ndarray of float64, shape (9, k)
    """
    count = len(points) // 3 if faces is None else len(faces)
    shift = np.tile(origin, 3)[:, None]
    for start in range(0, count, _BLOCK):
        if faces is None:
            rows = points[3 * start : 3 * (start + _BLOCK)]
        else:
            rows = points[faces[start : start + _BLOCK].reshape(-1)]
        block = np.ascontiguousarray(rows.reshape(-1, 9).T).astype(np.float64)
        block -= shift
        yield block


def add_up(points: NDArray[Any], faces: IntArray | None) -> Sums:
    """Return area, signed volume and their centres.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
    faces : ndarray of int32, shape (m, 3), or None
        Rows of ``points``; None where each three points in turn are one triangle.

    Returns
    -------
    Sums

    References
    ----------
    Divergence theorem over triangles; the determinant form is a definition.
    """
    # Near the model, so that one far from its origin loses no digits.
    origin = points[0].astype(np.float64)
    area = volume = 0.0
    area_moment, volume_moment = np.zeros(3), np.zeros(3)
    for ax, ay, az, bx, by, bz, cx, cy, cz in corner_blocks(points, faces, origin):
        ux, uy, uz, vx, vy, vz = bx - ax, by - ay, bz - az, cx - ax, cy - ay, cz - az
        nx, ny, nz = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        doubled = np.sqrt(nx * nx + ny * ny + nz * nz)
        sixfold = nx * ax + ny * ay + nz * az
        sx, sy, sz = ax + bx + cx, ay + by + cy, az + bz + cz
        area += float(doubled.sum())
        volume += float(sixfold.sum())
        area_moment += (doubled @ sx, doubled @ sy, doubled @ sz)
        volume_moment += (sixfold @ sx, sixfold @ sy, sixfold @ sz)
    area_centre = origin + area_moment / (3 * area) if area else origin
    volume_centre = _triple(origin + volume_moment / (4 * volume)) if volume else None
    return Sums(area / 2, _triple(area_centre), volume / 6, volume_centre)


def areas_and_normals(mesh: Mesh) -> tuple[FloatArray, FloatArray]:
    """Return each face's area, shape (m,), and unit normal, shape (m, 3); a face without area has normal 0.

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    tuple of (ndarray of float64, ndarray of float64)
    """
    a, b, c = (mesh.vertices[mesh.faces[:, corner]] for corner in range(3))
    normals = np.cross(b - a, c - a)
    lengths = np.sqrt((normals * normals).sum(axis=1))
    normals /= np.where(lengths > 0, lengths, 1)[:, None]
    return lengths / 2, normals


def extremes(points: NDArray[Any], turn: FloatArray | None = None) -> tuple[FloatArray, FloatArray]:
    """Return the least and the greatest coordinates of the points, each of shape (3,), after ``turn`` if given.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
    turn : ndarray of float64, shape (3, 3), optional

    Returns
    -------
    tuple of (ndarray of float64, ndarray of float64)
    """
    matrix = None if turn is None else turn.astype(points.dtype)
    lows, highs = [], []
    for start in range(0, len(points), _BLOCK):
        columns = np.ascontiguousarray(points[start : start + _BLOCK].T)
        if matrix is not None:
            columns = matrix @ columns
        lows.append(columns.min(axis=1))
        highs.append(columns.max(axis=1))
    return np.min(lows, axis=0).astype(np.float64), np.max(highs, axis=0).astype(np.float64)


def used_points(mesh: Mesh) -> FloatArray:
    """Return those of the mesh's points that a face uses, shape (k, 3).

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    ndarray of float64, shape (k, 3)
    """
    used = np.zeros(len(mesh.vertices), dtype=bool)
    used[mesh.faces] = True
    return mesh.vertices[used]


def box_of(mesh: Mesh) -> tuple[FloatArray, FloatArray]:
    """Return the lowest and highest corner of the box round the mesh's faces, each of shape (3,).

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    tuple of (ndarray of float64, ndarray of float64)
    """
    return extremes(used_points(mesh))


def _triple(values: FloatArray) -> tuple[float, float, float]:
    x, y, z = (float(value) for value in values)
    return x, y, z
