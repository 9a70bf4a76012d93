"""The cutting plan of rolls of glass: every cut in the order it comes off, with the number of its layer."""

from collections.abc import Sequence
from dataclasses import dataclass

from materials.drawing.svg import FAINT, FONT, INK, PAPER, TEXT, THIN, element, escaped, label
from materials.estimator.errors import Missing

_WIDE = 460.0
_METRES_A_ROW = 12.0
_MOST_TO_A_M = 60.0
_WORDS, _GAP = 22.0, 6.0
# So that a drawing of many layers still fits a page, what comes after is left to the words over it.
_MOST_ROWS = 12


@dataclass(frozen=True, slots=True)
class Roll:
    """One glass off its roll: words over it, layers, cuts in a layer, length of a cut and width of the roll [m]."""

    words: str
    layers: int
    cuts: int
    cut_m: float
    width_m: float


def rolls_svg(rolls: Sequence[Roll], *, title: str) -> str:
    """Rolls below one another, each unrolled in rows, all to one scale.

    Parameters
    ----------
    rolls : sequence of Roll
    title : str

    Returns
    -------
    str
        SVG with presentation attributes only.

    Raises
    ------
    Missing
        When there is no roll.
    """
    if not rolls:
        raise Missing("rolls of the cutting plan", "give at least one glass.")
    longest_m = max(min(roll.cut_m * roll.cuts * roll.layers, max(_METRES_A_ROW, roll.cut_m)) for roll in rolls)
    to_a_m = min(_WIDE / longest_m, _MOST_TO_A_M)
    drawn, top = [], 0.0
    for roll in rolls:
        drawn.append(label(0, top + TEXT, roll.words, anchor="start"))
        shapes, top = _unrolled(roll, top + _WORDS, to_a_m)
        drawn += shapes
    return element(
        "svg",
        f"<title>{escaped(title)}</title>",
        *drawn,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"-1 0 {_WIDE + 2:g} {top:g}",
        role="img",
        font_family=FONT,
        font_size=TEXT,
        fill=INK,
    )


def _unrolled(roll: Roll, top: float, to_a_m: float) -> tuple[list[str], float]:
    """Every cut of a roll in rows, and where the next roll begins."""
    long, high = roll.cut_m * to_a_m, roll.width_m * to_a_m
    a_row = max(1, int((_WIDE + 0.01) / long))
    shapes = []
    many = min(roll.layers * roll.cuts, a_row * _MOST_ROWS)
    for number in range(many):
        row, place = divmod(number, a_row)
        layer, x, y = number // roll.cuts + 1, place * long, top + row * (high + 2)
        fill = FAINT if layer % 2 else PAPER
        shapes.append(element("rect", x=x, y=y, width=long, height=high, fill=fill, stroke=INK, stroke_width=THIN))
        if long > TEXT and high > TEXT:
            shapes.append(label(x + long / 2, y + high / 2 + TEXT / 3, str(layer)))
    rows = -(-many // a_row)
    return shapes, top + rows * (high + 2) + _GAP
