"""What every format module gives back, and how it says no."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

# 100 MB, with room for the head of a binary STL file of 2 million triangles.
MAX_BYTES = 100_001_000
MAX_TRIANGLES = 2_000_000
MAX_POINTS = 3 * MAX_TRIANGLES


class Refusal(Exception):
    """The file cannot be used; the text is the whole sentence for the person who sent it."""


@dataclass(frozen=True, slots=True)
class Parsed:
    """Points and triangles as the file has them.

    Attributes
    ----------
    points : ndarray of float32 or float64, shape (n, 3)
        In the file's own unit.
    faces : ndarray of int32, shape (m, 3), or None
        Rows of ``points``; None where each three points in turn are one triangle.
    unit : str or None
        The unit the file states: "mm", "cm", "m", "in", "ft" or "um".
    up : str or None
        The axis the format defines as up: "y" or "z".
    """

    points: NDArray[Any]
    faces: NDArray[np.int32] | None
    unit: str | None = None
    up: str | None = None


def check_counts(points: int, triangles: int) -> None:
    """Refuse more than is allowed, before room is made for it.

    Parameters
    ----------
    points, triangles : int
        How many there are [dimensionless].

    Raises
    ------
    Refusal
        Above 6 million points or 2 million triangles.
    """
    if triangles > MAX_TRIANGLES:
        raise Refusal(
            f"The model has {triangles:,} triangles and at most {MAX_TRIANGLES:,} are taken; "
            "reduce it in the modelling program and export it again."
        )
    if points > MAX_POINTS:
        raise Refusal(
            f"The model has {points:,} points and at most {MAX_POINTS:,} are taken; "
            "reduce it in the modelling program and export it again."
        )


def check_indices(faces: NDArray[Any], points: int) -> NDArray[np.int32]:
    """Return the faces as int32, refusing any that name a point that is not there.

    Parameters
    ----------
    faces : ndarray
        Numbers of points, of any shape.
    points : int
        How many points there are [dimensionless].

    Returns
    -------
    ndarray of int32
        In the same shape.

    Raises
    ------
    Refusal
        Where a number is below 0 or names no point.
    """
    if len(faces) and (int(faces.min()) < 0 or int(faces.max()) >= points):
        raise Refusal(
            f"A triangle in the file names a point that is not there (the file has {points:,} points); "
            "the file is damaged, export it again."
        )
    return np.ascontiguousarray(faces, dtype=np.int32)
