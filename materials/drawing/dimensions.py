"""Dimension lines after ISO 129: thin, with oblique strokes, read from below or from the right."""

from dataclasses import dataclass

from materials.drawing.svg import INK, THIN, element, label, line, text_width

# Gap between outline and extension line, distance of the dimension line, and what passes beyond it.
_GAP = 4.0
AWAY = 24.0
_BEYOND = 4.0
_STROKE = 3.5
_LIFT = 4.5

DEPTH = AWAY + _BEYOND


@dataclass(frozen=True, slots=True)
class End:
    """One end of what is measured.

    Attributes
    ----------
    at : float
        Where it is along the dimension line, in user units.
    led_from : float
        Where the outline reaches it, across the dimension line, in user units.
    """

    at: float
    led_from: float


def across(left: End, right: End, below: float, text: str) -> str:
    """A dimension under a view.

    Parameters
    ----------
    left, right : End
        What is measured.
    below : float
        The lowest line of the view, in user units.
    text : str
        The size.

    Returns
    -------
    str
        Markup.
    """
    y = below + AWAY
    # A label wider than its line stands between the view and short extension lines.
    is_wide = text_width(text) + 4 > right.at - left.at
    drawn = line(left.at, y, right.at, y)
    for end in (left, right):
        start = y - _LIFT if is_wide else end.led_from + _GAP
        drawn += line(end.at, start, end.at, y + _BEYOND) + _oblique(end.at, y)
    return _thin(drawn) + label((left.at + right.at) / 2, y - _LIFT - (2 if is_wide else 0), text)


def upright(bottom: End, top: End, left: float, text: str) -> str:
    """A dimension on the left of a view.

    Parameters
    ----------
    bottom, top : End
        What is measured.
    left : float
        The leftmost line of the view, in user units.
    text : str
        The size.

    Returns
    -------
    str
        Markup.
    """
    x = left - AWAY
    drawn = line(x, bottom.at, x, top.at)
    for end in (bottom, top):
        drawn += line(end.led_from - _GAP, end.at, x - _BEYOND, end.at) + _oblique(x, end.at)
    return _thin(drawn) + label(x - _LIFT, (bottom.at + top.at) / 2, text, upright=True)


def _oblique(x: float, y: float) -> str:
    return line(x - _STROKE, y + _STROKE, x + _STROKE, y - _STROKE)


def _thin(drawn: str) -> str:
    return element("path", d=drawn, fill="none", stroke=INK, stroke_width=THIN)
