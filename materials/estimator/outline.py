"""Flat views of a form: closed and open paths in metres, ready to be drawn.

x runs to the right of the view, y upwards from the floor. Both shapes (by
formula) and meshes (by projection) give these; ``materials.drawing`` makes the
SVG.
"""

from dataclasses import dataclass, field
from typing import Literal

ViewName = Literal["front", "side", "plan"]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Outline:
    """One view of one section.

    Attributes
    ----------
    view : str
        "front" looks along +y (x across), "side" along -x (y across), "plan" down (x across, y up the page).
    silhouette : tuple of tuple of (float, float)
        Closed polygons, outer rings and holes alike, even-odd filled [m].
    edges : tuple of tuple of (float, float)
        Open visible feature lines [m].
    note : str
        What a reader has to know about the picture ("extents only"), "" where it shows the form itself.
    """

    view: ViewName
    silhouette: tuple[tuple[Point, ...], ...]
    edges: tuple[tuple[Point, ...], ...] = field(default=())
    note: str = ""
