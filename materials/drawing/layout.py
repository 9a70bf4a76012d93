"""Where views stand on the sheet, and the one scale that lets them all in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from materials.drawing import person
from materials.drawing.dimensions import AWAY
from materials.drawing.svg import TEXT, text_width
from materials.drawing.views import View
from materials.estimator.errors import EstimatorError

# A sheet this wide, shown in a column of 360 pixels, keeps its lettering near 12 pixels.
WIDTH = 400.0
MARGIN = 8.0
_BETWEEN = 26.0
_TALLEST = 300.0
_DEEPEST = 220.0
_NARROWEST = 30.0

GUTTER = AWAY + TEXT + 4.0


@dataclass(frozen=True, slots=True)
class Layout:
    """Scale and places of one drawing.

    Attributes
    ----------
    scale : float
        User units to the metre.
    lefts : tuple of float
        Left end of each elevation, in user units.
    person : float or None
        Middle of the person, in user units; None where there is none.
    left, right : float
        Ends of the floor line, in user units.
    middle : float
        Middle of the room between the margins and beside the gutter, in user units.
    floor : float
        The floor, from the top of the sheet, in user units.
    bottom : float
        Lowest line of the elevations, in user units.
    """

    scale: float
    lefts: tuple[float, ...]
    person: float | None
    left: float
    right: float
    middle: float
    floor: float
    bottom: float


def lay_out(
    elevations: Sequence[View], plan: View | None, labels: Sequence[str], *, gutter: bool, figure: bool
) -> Layout:
    """Find the largest scale at which everything fits, and stand the elevations on one floor.

    Parameters
    ----------
    elevations : sequence of View
        Front and side, in order; none where only the plan is drawn.
    plan : View or None
        What will be drawn under them.
    labels : sequence of str
        What stands under each elevation; none is made narrower than its label.
    gutter : bool
        Whether an upright dimension stands on the left.
    figure : bool
        Whether a person stands on the right.

    Returns
    -------
    Layout

    Raises
    ------
    EstimatorError
        If nothing that is drawn has any extent.
    """
    stands = figure and bool(elevations)
    widths = [view.across_m for view in elevations] + ([person.WIDTH_M] if stands else [])
    least = [max(text_width(label), _NARROWEST) for label in labels] + ([_NARROWEST] if stands else [])
    top_m = max([view.top_m for view in elevations] + ([person.HEIGHT_M] if stands else []) + [0.0])
    bottom_m = min([view.bottom_m for view in elevations] + [0.0])
    room = WIDTH - 2 * MARGIN - (GUTTER if gutter else 0.0) - _BETWEEN * max(len(widths) - 1, 0)
    limits = []
    if elevations:
        limits += [_fit(_TALLEST, top_m - bottom_m), _scale_across(widths, least, room)]
    if plan is not None:
        limits += [_fit(_DEEPEST, plan.up_m), _fit(room, plan.across_m)]
    scale = min(limits)
    if scale == math.inf:
        raise EstimatorError("outline", None, "the outlines have no extent; draw at least one section with a size.")
    columns = [max(width * scale, low) for width, low in zip(widths, least, strict=True)]
    taken = sum(columns) + _BETWEEN * max(len(columns) - 1, 0)
    middle = (WIDTH + (GUTTER if gutter else 0.0)) / 2
    lefts = []
    x = middle - taken / 2
    for column, width in zip(columns, widths, strict=True):
        lefts.append(x + (column - width * scale) / 2)
        x += column + _BETWEEN
    floor = MARGIN + top_m * scale
    return Layout(
        scale=scale,
        lefts=tuple(lefts[: len(elevations)]),
        person=lefts[-1] + person.WIDTH_M * scale / 2 if stands else None,
        left=middle - taken / 2,
        right=middle + taken / 2,
        middle=middle,
        floor=floor,
        bottom=floor - bottom_m * scale,
    )


def _fit(room: float, extent_m: float) -> float:
    return room / extent_m if extent_m else math.inf


def _scale_across(widths: Sequence[float], least: Sequence[float], room: float) -> float:
    """The scale that fills the room, where a column too narrow for its label keeps the label's width."""
    kept: set[int] = set()
    while True:
        free = [index for index in range(len(widths)) if index not in kept]
        if not free:
            return _fit(room, sum(widths))
        left = room - sum(least[index] for index in kept)
        scale = _fit(left, sum(widths[index] for index in free))
        narrow = [index for index in free if widths[index] * scale < least[index]]
        if not narrow:
            return scale
        kept.update(narrow)
