"""What cutting works on: a closed solid, or the bare skin of an open model. Both split, and both tell their seams."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol, Self

import numpy as np

from materials.mesh.planes import Plane
from materials.mesh.solid import mesh_of
from materials.mesh.topology import edges_of
from materials.mesh.triangles import BoolArray, FloatArray, Mesh
from materials.mesh.welding import weld

if TYPE_CHECKING:
    from manifold3d import Manifold

# Seam lines of each plane, by its place in the list of planes: segments of shape (s, 2, 3).
SeamLines = dict[int, FloatArray]


class Piece(Protocol):
    """Something that a plane can split."""

    def is_empty(self) -> bool:
        """Whether nothing is left.

        Returns
        -------
        bool
        """

    def reach(self, plane: Plane) -> tuple[float, float]:
        """Return bounds of how far the piece lies below and above the plane [m].

        Parameters
        ----------
        plane : Plane

        Returns
        -------
        tuple of (float, float)
            Distances along the normal [m].
        """

    def split(self, plane: Plane, index: int) -> tuple[Self, Self]:
        """Return what lies above the plane and what lies below.

        Parameters
        ----------
        plane : Plane
        index : int
            Which of the planes it is [dimensionless].

        Returns
        -------
        tuple of two pieces
        """

    def finish(self, planes: tuple[Plane, ...]) -> tuple[Mesh, SeamLines]:
        """Return the piece as a mesh, and the lines in which its skin meets each plane.

        Parameters
        ----------
        planes : tuple of Plane

        Returns
        -------
        tuple of (Mesh, dict)
            Lines by the plane's place in the list, each of shape (s, 2, 3) [m].
        """


@dataclass(frozen=True, slots=True)
class SolidPiece:
    """A closed piece; cuts close it again. What has less than ``least_volume`` [m^3] is nothing but rounding."""

    solid: "Manifold"
    skin: int
    least_volume: float

    def is_empty(self) -> bool:
        """Whether nothing is left but rounding.

        Returns
        -------
        bool
        """
        return bool(self.solid.is_empty() or self.solid.volume() < self.least_volume)

    def reach(self, plane: Plane) -> tuple[float, float]:
        """Return bounds of how far the piece lies below and above the plane [m].

        Parameters
        ----------
        plane : Plane

        Returns
        -------
        tuple of (float, float)
            Distances along the normal [m].
        """
        box = np.array(self.solid.bounding_box()).reshape(2, 3)
        corners = np.stack(np.meshgrid(*box.T), axis=-1).reshape(-1, 3)
        distances = plane.distances(corners)
        return float(distances.min()), float(distances.max())

    def split(self, plane: Plane, index: int) -> tuple["SolidPiece", "SolidPiece"]:
        """Return what lies above the plane and what lies below, both closed.

        Parameters
        ----------
        plane : Plane
        index : int
            Which of the planes it is [dimensionless].

        Returns
        -------
        tuple of two pieces
        """
        above, below = self.solid.split_by_plane(plane.normal, plane.offset_m)
        return SolidPiece(above, self.skin, self.least_volume), SolidPiece(below, self.skin, self.least_volume)

    def finish(self, planes: tuple[Plane, ...]) -> tuple[Mesh, SeamLines]:
        """Return the piece as a mesh, and the lines in which its skin meets each plane.

        Parameters
        ----------
        planes : tuple of Plane

        Returns
        -------
        tuple of (Mesh, dict)
            Lines by the plane's place in the list, each of shape (s, 2, 3) [m].
        """
        mesh, fresh = mesh_of(self.solid, self.skin)
        return mesh, _lines_between(mesh, fresh, planes)


def _lines_between(mesh: Mesh, fresh: BoolArray, planes: tuple[Plane, ...]) -> SeamLines:
    """Return the edges at which skin meets a fresh face, by the plane that the fresh face lies in."""
    if not fresh.any() or mesh.joint is None:
        return {}
    made = mesh.vertices[mesh.faces[fresh]]
    away = np.stack([np.abs(plane.distances(made)).max(axis=1) for plane in planes], axis=1)
    plane_of_face = np.full(len(mesh.faces), -1, dtype=np.int64)
    plane_of_face[fresh] = away.argmin(axis=1)
    at_cut = np.zeros(len(mesh.vertices), dtype=bool)
    at_cut[mesh.faces[fresh]] = True
    near = np.flatnonzero(at_cut[mesh.faces].sum(axis=1) >= 2)
    edges = edges_of(mesh.faces[near])
    faces = near[edges.face]
    skins = np.add.reduceat((~mesh.joint[faces]).astype(np.int64), edges.starts)
    lines: SeamLines = {}
    for index in np.unique(plane_of_face[fresh]):
        cuts = np.add.reduceat((plane_of_face[faces] == index).astype(np.int64), edges.starts)
        at = np.repeat(edges.starts, np.minimum(skins, cuts))
        lines[int(index)] = mesh.vertices[np.stack([edges.low[at], edges.high[at]], axis=1)]
    return lines


@dataclass(frozen=True, slots=True, eq=False)
class SkinPiece:
    """A piece of an open model: skin alone, as corners of shape (m, 3, 3); cuts leave it open."""

    corners: FloatArray
    lines: SeamLines

    def is_empty(self) -> bool:
        """Whether no skin is left.

        Returns
        -------
        bool
        """
        return not len(self.corners)

    def reach(self, plane: Plane) -> tuple[float, float]:
        """Return how far the piece lies below and above the plane [m].

        Parameters
        ----------
        plane : Plane

        Returns
        -------
        tuple of (float, float)
            Distances along the normal [m].
        """
        distances = plane.distances(self.corners)
        return float(distances.min()), float(distances.max())

    def split(self, plane: Plane, index: int) -> tuple["SkinPiece", "SkinPiece"]:
        """Return what lies above the plane and what lies below.

        Parameters
        ----------
        plane : Plane
        index : int
            Which of the planes it is [dimensionless].

        Returns
        -------
        tuple of two pieces
        """
        above, below, line = clip(self.corners, plane)
        lines = {old: clip_lines(segments, plane) for old, segments in self.lines.items()}
        return (
            SkinPiece(above, {old: pair[0] for old, pair in lines.items()} | {index: line}),
            SkinPiece(below, {old: pair[1] for old, pair in lines.items()} | {index: line}),
        )

    def finish(self, planes: tuple[Plane, ...]) -> tuple[Mesh, SeamLines]:
        """Return the piece as a mesh, and the lines in which it meets each plane.

        Parameters
        ----------
        planes : tuple of Plane

        Returns
        -------
        tuple of (Mesh, dict)
            Lines by the plane's place in the list, each of shape (s, 2, 3) [m].
        """
        return weld(self.corners.reshape(-1, 3), None), {k: line for k, line in self.lines.items() if len(line)}


def clip(corners: FloatArray, plane: Plane) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Split triangles, shape (m, 3, 3), into those above and below a plane, and the lines between, shape (s, 2, 3).

    A point in the plane counts as above it, so a face in the plane is not lost.

    Parameters
    ----------
    corners : ndarray of float64, shape (m, 3, 3)
        Triangles [m].
    plane : Plane

    Returns
    -------
    tuple of (ndarray, ndarray, ndarray)
        Above, below and between [m].
    """
    distance = plane.distances(corners)
    high = distance >= 0
    count = high.sum(axis=1)
    crossing = (count == 1) | (count == 2)
    lone_is_above = count[crossing] == 1
    lone = np.where(lone_is_above, high[crossing].argmax(axis=1), high[crossing].argmin(axis=1))
    order = (lone[:, None] + np.arange(3)) % 3
    a, b, c = np.take_along_axis(corners[crossing], order[:, :, None], axis=1).transpose(1, 0, 2)
    da, db, dc = np.take_along_axis(distance[crossing], order, axis=1).T
    p = a + (da / (da - db))[:, None] * (b - a)
    q = a + (da / (da - dc))[:, None] * (c - a)
    tip = np.stack([a, p, q], axis=1)
    rest = np.stack([np.stack([p, b, c], axis=1), np.stack([p, c, q], axis=1)], axis=1)
    above = [corners[count == 3], tip[lone_is_above], rest[~lone_is_above].reshape(-1, 3, 3)]
    below = [corners[count == 0], tip[~lone_is_above], rest[lone_is_above].reshape(-1, 3, 3)]
    line = np.stack([p, q], axis=1)
    return _with_area(above), _with_area(below), line[(p != q).any(axis=1)]


def clip_lines(lines: FloatArray, plane: Plane) -> tuple[FloatArray, FloatArray]:
    """Split line segments, shape (s, 2, 3), into those above and below a plane.

    Parameters
    ----------
    lines : ndarray of float64, shape (s, 2, 3)
        Ends of the segments [m].
    plane : Plane

    Returns
    -------
    tuple of (ndarray, ndarray)
        Above and below [m].
    """
    distance = plane.distances(lines)
    high = distance >= 0
    crossing = high[:, 0] != high[:, 1]
    start, end = lines[crossing].transpose(1, 0, 2)
    share = distance[crossing, 0] / (distance[crossing, 0] - distance[crossing, 1])
    middle = start + share[:, None] * (end - start)
    first, second = np.stack([start, middle], axis=1), np.stack([middle, end], axis=1)
    rises = high[crossing, 1]
    above = np.concatenate([lines[high.all(axis=1)], first[~rises], second[rises]])
    below = np.concatenate([lines[~high.any(axis=1)], first[rises], second[~rises]])
    return above, below


def _with_area(parts: list[FloatArray]) -> FloatArray:
    corners = np.concatenate(parts)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return np.asarray(corners[(normals != 0).any(axis=1)])
