"""Parting planes: by axis and height, through three points, or by normal and offset."""

from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice
from materials.mesh.triangles import FloatArray

Point = tuple[float, float, float]

_AXES = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}
_FARTHEST_M = 1000.0
# Three points whose triangle is flatter than this give no plane.
_FLATTEST = 1e-6


class NotAPlane(EstimatorError):
    """Numbers that describe no parting plane."""

    def __init__(self, value: object, message: str) -> None:
        super().__init__("parting plane", value, message)


@dataclass(frozen=True, slots=True)
class Plane:
    """The points p with normal . p = offset.

    Attributes
    ----------
    normal : tuple of float
        Unit vector; it points to the side called above [dimensionless].
    offset_m : float
        Distance from the origin along the normal [m].
    """

    normal: Point
    offset_m: float

    def distances(self, points: FloatArray) -> FloatArray:
        """Return how far each point lies above the plane, shape (n,) [m].

        Parameters
        ----------
        points : ndarray of float64, shape (..., 3)
            Points [m].

        Returns
        -------
        ndarray of float64
            Distances, negative below [m].
        """
        return np.asarray(points @ np.array(self.normal) - self.offset_m)

    @property
    def words(self) -> str:
        """The plane as a message names it."""
        for axis, unit in _AXES.items():
            if self.normal == unit:
                return f"the plane at {axis} = {self.offset_m:.3f} m"
        x, y, z = self.normal
        return f"the plane with normal ({x:.3f}, {y:.3f}, {z:.3f}) at {self.offset_m:.3f} m"


def plane_at(axis: str, offset_m: float) -> Plane:
    """Return the plane square to an axis.

    Parameters
    ----------
    axis : str
        "x", "y" or "z".
    offset_m : float
        Where it meets the axis [m].

    Returns
    -------
    Plane

    Raises
    ------
    UnknownChoice, OutOfRange
        For another axis, or an offset that is not within 1 000 m.
    """
    if axis not in _AXES:
        raise UnknownChoice("axis", axis, _AXES)
    return plane_of(_AXES[axis], offset_m)


def plane_of(normal: Point, offset_m: float) -> Plane:
    """Return the plane with a normal of any length, at a distance from the origin along it.

    Parameters
    ----------
    normal : tuple of float
        Direction the plane faces [dimensionless].
    offset_m : float
        Distance from the origin [m].

    Returns
    -------
    Plane

    Raises
    ------
    NotAPlane, OutOfRange
        For a normal without direction, or an offset that is not within 1 000 m.
    """
    vector = np.array(normal, dtype=np.float64)
    length = float(np.linalg.norm(vector)) if vector.shape == (3,) else 0.0
    if not (np.isfinite(length) and length > 0):
        raise NotAPlane(normal, f"The normal {normal} has no direction; give three numbers that are not all 0.")
    if not abs(offset_m) <= _FARTHEST_M:
        raise OutOfRange("offset of the plane", offset_m, "m", -_FARTHEST_M, _FARTHEST_M)
    x, y, z = (float(value) for value in vector / length)
    return Plane((x, y, z), float(offset_m))


def plane_through(first: Point, second: Point, third: Point) -> Plane:
    """Return the plane through three picked points.

    Parameters
    ----------
    first, second, third : tuple of float
        Points [m]; seen from above they run counter-clockwise.

    Returns
    -------
    Plane

    Raises
    ------
    NotAPlane
        Where the points lie in one line.
    """
    a, b, c = (np.array(point, dtype=np.float64) for point in (first, second, third))
    normal = np.cross(b - a, c - a)
    spread = max(float(np.linalg.norm(b - a)), float(np.linalg.norm(c - a)), float(np.linalg.norm(c - b)))
    if not float(np.linalg.norm(normal)) > _FLATTEST * spread**2:
        raise NotAPlane((first, second, third), "The three points lie in one line; pick one of them beside it.")
    unit = normal / np.linalg.norm(normal)
    x, y, z = (float(value) for value in unit)
    return plane_of((x, y, z), float(unit @ a))
