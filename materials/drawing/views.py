"""Every section as one view sees it: moved to its place, the nearest last."""

from collections.abc import Sequence
from dataclasses import dataclass

from materials.drawing.placing import Placed
from materials.estimator.errors import Missing
from materials.estimator.outline import Outline, Point, ViewName

# Points nearer to an end than this share of the extent are taken as lying on it.
_SAME = 1e-6

Rings = tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Seen:
    """One section in a view.

    Attributes
    ----------
    placed : Placed
        The section.
    silhouette, edges : tuple of tuple of (float, float)
        Closed and open paths, x to the right and y up, from the middle of the view and the floor [m].
    note : str
        The outline's note.
    """

    placed: Placed
    silhouette: Rings
    edges: Rings
    note: str


@dataclass(frozen=True, slots=True)
class View:
    """All sections in one view.

    Attributes
    ----------
    name : str
        "front", "side" or "plan".
    sections : tuple of Seen
        The furthest first.
    left_m, right_m, bottom_m, top_m : float
        Extents of all together [m].
    """

    name: ViewName
    sections: tuple[Seen, ...]
    left_m: float
    right_m: float
    bottom_m: float
    top_m: float

    @property
    def across_m(self) -> float:
        """Extent to the right [m]."""
        return self.right_m - self.left_m

    @property
    def up_m(self) -> float:
        """Extent upwards, or away in a plan [m]."""
        return self.top_m - self.bottom_m

    def lowest_at_ends(self) -> tuple[float, float]:
        """Where the left and the right end are reached lowest, so that a dimension can be led from there.

        Returns
        -------
        tuple of (float, float)
            Heights [m].
        """
        near = _SAME * self.across_m
        points = self._points()
        left = min(y for x, y in points if x <= self.left_m + near)
        right = min(y for x, y in points if x >= self.right_m - near)
        return left, right

    def leftmost_at_ends(self) -> tuple[float, float]:
        """Where the bottom and the top are reached furthest left.

        Returns
        -------
        tuple of (float, float)
            Places across [m].
        """
        near = _SAME * self.up_m
        points = self._points()
        bottom = min(x for x, y in points if y <= self.bottom_m + near)
        top = min(x for x, y in points if y >= self.top_m - near)
        return bottom, top

    def _points(self) -> list[Point]:
        return [point for section in self.sections for ring in section.silhouette for point in ring]


def view_of(placed: Sequence[Placed], name: ViewName) -> View:
    """Move every section to its place as one view sees it.

    Parameters
    ----------
    placed : sequence of Placed
        The sections, those of one depth in the order they are to be drawn.
    name : str
        "front", "side" or "plan".

    Returns
    -------
    View

    Raises
    ------
    Missing
        If a section has no such view.
    """
    seen = [_seen(section, name) for section in sorted(placed, key=lambda section: _nearness(section, name))]
    xs = [x for section in seen for ring in section.silhouette for x, _ in ring]
    ys = [y for section in seen for ring in section.silhouette for _, y in ring]
    return View(name, tuple(seen), min(xs), max(xs), min(ys), max(ys))


def _seen(section: Placed, name: ViewName) -> Seen:
    outline = _outline(section, name)
    across_m = section.y_m if name == "side" else section.x_m
    up_m = section.y_m if name == "plan" else section.z_m
    # From the side a turned section covers its twin, outline for outline.
    sign = -1.0 if section.mirrored and name != "side" else 1.0

    def moved(rings: Rings) -> Rings:
        return tuple(tuple((sign * x + across_m, y + up_m) for x, y in ring) for ring in rings)

    return Seen(section, moved(outline.silhouette), moved(outline.edges), outline.note)


def _outline(section: Placed, name: ViewName) -> Outline:
    outline = section.outlines.get(name)
    if outline is None or not any(outline.silhouette):
        raise Missing(f"the {name} view of {section.name}", "draw its outline first, or leave that view out.")
    return outline


def _nearness(section: Placed, name: ViewName) -> float:
    if name == "front":
        return -section.y_m
    if name == "side":
        return section.x_m
    tops = (
        [y for ring in _outline(section, "front").silhouette for _, y in ring] if "front" in section.outlines else [0.0]
    )
    return section.z_m + max(tops)
