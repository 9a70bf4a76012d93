"""How a model is brought to size and stood up: metres, z up, foot at 0, x and y from the middle of its extents."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from materials.estimator.errors import Missing, OutOfRange, UnknownChoice
from materials.mesh.reading import Model
from materials.mesh.triangles import FloatArray, extremes

UNITS_M = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048, "um": 1e-6}
SMALLEST_M = 0.001
LARGEST_M = 50.0

# Proper turns that bring the named axis up; none mirrors the model.
_TURNS = {
    "z": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "-z": ((1, 0, 0), (0, -1, 0), (0, 0, -1)),
    "y": ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
    "-y": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "x": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "-x": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
}
UPS = tuple(_TURNS)


@dataclass(frozen=True, slots=True, eq=False)
class Placing:
    """Where a model's points go.

    Attributes
    ----------
    turn : ndarray of float64, shape (3, 3)
        A turn by quarters.
    scale : float
        Metres for one unit of the file [m].
    shift : ndarray of float64, shape (3,)
        What is added after turn and scale [m].
    """

    turn: FloatArray
    scale: float
    shift: FloatArray

    def points(self, points: NDArray[Any]) -> FloatArray:
        """Return the points as they stand, shape (n, 3) [m].

        Parameters
        ----------
        points : ndarray, shape (n, 3)
            In the file's own unit.

        Returns
        -------
        ndarray of float64, shape (n, 3)
            Points [m].
        """
        axes, signs = np.abs(self.turn).argmax(axis=1), self.turn.sum(axis=1)
        return np.asarray(points[:, axes].astype(np.float64) * (signs * self.scale) + self.shift)


def placing_of(model: Model, *, up: str, unit: str | None = None, finished_height_m: float | None = None) -> Placing:
    """Return where the model's points go, to size, the right way up and on the floor.

    Parameters
    ----------
    model : Model
    up : str
        The file's axis that points up: "x", "-x", "y", "-y", "z" or "-z".
    unit : str, optional
        The unit of the file's numbers, where the file does not state it: "mm", "cm", "m", "in", "ft", "um".
    finished_height_m : float, optional
        Height that the model is brought to, whatever its unit [m].

    Returns
    -------
    Placing

    Raises
    ------
    Missing
        Where neither the file nor the caller gives a unit or a height.
    UnknownChoice, OutOfRange
        For a word that is not known, or a size outside 1 mm to 50 m.

    References
    ----------
    The limits are common practice, no source.
    """
    if up not in _TURNS:
        raise UnknownChoice("up", up, UPS)
    turn = np.array(_TURNS[up], dtype=np.float64)
    ends = np.stack(extremes(model.points)) @ turn.T
    low, high = ends.min(axis=0), ends.max(axis=0)
    scale = _scale(model, float(high[2] - low[2]), unit, finished_height_m)
    largest = float((high - low).max()) * scale
    if not SMALLEST_M <= largest <= LARGEST_M:
        hint = "Give the unit of the file or the finished height."
        raise OutOfRange("largest side of the model", largest, "m", SMALLEST_M, LARGEST_M, hint)
    middle = (low + high) / 2
    return Placing(turn, scale, -np.array([middle[0], middle[1], low[2]]) * scale)


def _scale(model: Model, height: float, unit: str | None, finished_height_m: float | None) -> float:
    if finished_height_m is not None:
        if not SMALLEST_M <= finished_height_m <= LARGEST_M:
            raise OutOfRange("finished height", finished_height_m, "m", SMALLEST_M, LARGEST_M)
        if height <= 0:
            raise OutOfRange("height of the model", height, "", hint="It lies flat; say which way is up.")
        return finished_height_m / height
    named = unit or model.unit
    if named is None:
        raise Missing("unit of the model", "the file does not state one: give its unit or the finished height.")
    if named not in UNITS_M:
        raise UnknownChoice("unit of the model", named, UNITS_M)
    return UNITS_M[named]
