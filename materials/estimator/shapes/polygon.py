"""The plan of a prism: checked, measured, and seen from the side."""

import math
from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import EstimatorError
from materials.estimator.outline import Point
from materials.estimator.shapes.limits import LONGEST_M, SHORTEST_M, check_between

Polygon = tuple[Point, ...]

MOST_CORNERS = 200

# Corners nearer to a side than this share of the outline's size are taken as lying on it.
_TOUCHING = 1e-9


def check_polygon(polygon: Polygon) -> None:
    """Refuse an outline that is not one simple loop enclosing an area.

    Parameters
    ----------
    polygon : tuple of (float, float)
        Corners in order, either way round, the first not repeated at the end [m].

    Raises
    ------
    OutOfRange
        If a coordinate is not finite or further than 100 m from the origin.
    EstimatorError
        If there are fewer than 3 or more than 200 corners, the outline is smaller than 1 mm,
        encloses nothing, touches itself or crosses itself.
    """
    if not 3 <= len(polygon) <= MOST_CORNERS:
        raise _bad(polygon, f"has {_corners(len(polygon))}; it must have between 3 and {MOST_CORNERS}.")
    for number, corner in enumerate(polygon, start=1):
        for axis, value in zip("xy", corner, strict=True):
            check_between(f"{axis} of corner {number}", value, "m", -LONGEST_M, LONGEST_M)
    points = np.array(polygon)
    size = float(np.ptp(points, axis=0).max())
    if size < SHORTEST_M:
        raise _bad(polygon, f"is {size:g} m across; it must be at least {SHORTEST_M:g} m.")
    _check_loop(polygon, points, _TOUCHING * size)


def _check_loop(polygon: Polygon, points: np.ndarray[tuple[int, int], np.dtype[np.float64]], near: float) -> None:
    count = len(points)
    ends = np.roll(points, -1, axis=0)
    sides = ends - points
    lengths = np.hypot(*sides.T)
    if lengths.min() <= near:
        first = int(lengths.argmin())
        raise _bad(
            polygon,
            f"has corners {first + 1} and {(first + 1) % count + 1} in one place; give each corner once, "
            "the first not again at the end.",
        )
    from_start = points[None, :, :] - points[:, None, :]
    along = np.einsum("ijk,ik->ij", from_start, sides) / lengths[:, None]
    aside = (sides[:, None, 0] * from_start[:, :, 1] - sides[:, None, 1] * from_start[:, :, 0]) / lengths[:, None]
    if np.abs(aside[int(lengths.argmax())]).max() <= near:
        raise _bad(polygon, "has all its corners on one line; it must enclose an area.")
    beyond = np.maximum(np.maximum(-along, along - lengths[:, None]), 0)
    touches = np.hypot(beyond, aside) <= near
    index = np.arange(count)
    touches[index, index] = touches[index, (index + 1) % count] = False
    if touches.any():
        side, corner = (int(number) for number in np.argwhere(touches)[0])
        raise _bad(polygon, f"touches itself where corner {corner + 1} lies on side {side + 1}; move them apart.")
    divided = aside * np.roll(aside, -1, axis=1) < 0
    crosses = divided & divided.T
    if crosses.any():
        first, second = (int(number) for number in np.argwhere(crosses)[0])
        raise _bad(
            polygon,
            f"crosses itself where sides {first + 1} and {second + 1} meet; give the corners in order round it.",
        )


def _bad(polygon: Polygon, what: str) -> EstimatorError:
    return EstimatorError("outline", polygon, f"the outline {what}")


def _corners(count: int) -> str:
    return "1 corner" if count == 1 else f"{count} corners"


@dataclass(frozen=True, slots=True)
class PlanFigures:
    """What a prism needs of its plan.

    Attributes
    ----------
    area_m2 : float
        Enclosed area [m^2].
    length_m, width_m, perimeter_m, longest_side_m : float
        Extents along x and y, length round it, longest side [m].
    centroid_m, rim_centre_m : tuple of float
        Centre of the enclosed area, and of the line round it, from the middle of the extents [m].
    """

    area_m2: float
    length_m: float
    width_m: float
    perimeter_m: float
    longest_side_m: float
    centroid_m: Point
    rim_centre_m: Point


def plan_figures(polygon: Polygon) -> PlanFigures:
    """Measure an outline by the surveyor's formula.

    Parameters
    ----------
    polygon : tuple of (float, float)
        Corners of a simple outline, either way round [m].

    Returns
    -------
    PlanFigures
    """
    corners = centred(polygon)
    pairs = list(zip(corners, corners[1:] + corners[:1], strict=True))
    doubled = along = across = 0.0
    for (x0, y0), (x1, y1) in pairs:
        cross = x0 * y1 - x1 * y0
        doubled += cross
        along += (x0 + x1) * cross
        across += (y0 + y1) * cross
    lengths = [math.dist(p, q) for p, q in pairs]
    perimeter_m = math.fsum(lengths)
    rim_along, rim_across = (
        math.fsum(length * (p[axis] + q[axis]) / 2 for length, (p, q) in zip(lengths, pairs, strict=True)) / perimeter_m
        for axis in (0, 1)
    )
    xs, ys = zip(*corners, strict=True)
    return PlanFigures(
        area_m2=abs(doubled) / 2,
        length_m=max(xs) - min(xs),
        width_m=max(ys) - min(ys),
        perimeter_m=perimeter_m,
        longest_side_m=max(lengths),
        centroid_m=(along / (3 * doubled), across / (3 * doubled)),
        rim_centre_m=(rim_along, rim_across),
    )


def centred(polygon: Polygon) -> Polygon:
    """The same outline with the middle of its extents at the origin.

    Parameters
    ----------
    polygon : tuple of (float, float)
        Corners [m].

    Returns
    -------
    tuple of (float, float)
        Corners [m].
    """
    xs, ys = zip(*polygon, strict=True)
    middle_x, middle_y = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
    return tuple((x - middle_x, y - middle_y) for x, y in polygon)


def visible_corners(polygon: Polygon) -> list[float]:
    """Where upright edges show between the two ends of a view that looks along +y.

    Parameters
    ----------
    polygon : tuple of (float, float)
        Corners of a simple outline [m].

    Returns
    -------
    list of float
        x of each edge that no nearer side hides and that is a true corner [m].
    """
    xs = [x for x, _ in polygon]
    least = _TOUCHING * (max(xs) - min(xs))
    seen: list[float] = []
    for index, (x, y) in enumerate(polygon):
        if min(x - min(xs), max(xs) - x) <= least or any(abs(x - other) <= least for other in seen):
            continue
        if not _is_straight(polygon, index) and not _is_hidden(polygon, x, y):
            seen.append(x)
    return sorted(seen)


def _is_straight(polygon: Polygon, index: int) -> bool:
    (x0, y0), (x1, y1), (x2, y2) = polygon[index - 1], polygon[index], polygon[(index + 1) % len(polygon)]
    cross = (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1)
    return abs(cross) <= _TOUCHING * math.dist((x0, y0), (x1, y1)) * math.dist((x1, y1), (x2, y2))


def _is_hidden(polygon: Polygon, x: float, y: float) -> bool:
    for (x0, y0), (x1, y1) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        if min(x0, x1) <= x < max(x0, x1) and y0 + (x - x0) / (x1 - x0) * (y1 - y0) < y - _TOUCHING:
            return True
    return False
