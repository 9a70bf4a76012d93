"""The cutting plan of a roll of glass: a strip to each layer, with its cuts."""

from collections.abc import Sequence
from dataclasses import dataclass

from materials.drawing.svg import FAINT, FONT, INK, TEXT, THICK, THIN, element, escaped, label, line
from materials.estimator.errors import Missing

_WIDE = 460.0
_MOST_TO_A_M = 60.0
_LABEL = 20.0
_GAP = 8.0


@dataclass(frozen=True, slots=True)
class Strip:
    """What one layer takes off a roll: words over it, length of each cut [m], how many."""

    words: str
    cut_m: float
    cuts: int

    @property
    def length_m(self) -> float:
        """Off the roll [m]."""
        return self.cut_m * self.cuts


def roll_svg(strips: Sequence[Strip], width_m: float, *, title: str) -> str:
    """Strips below one another, all to one scale.

    Parameters
    ----------
    strips : sequence of Strip
    width_m : float
        Width of the roll [m].
    title : str

    Returns
    -------
    str
        SVG with presentation attributes only.

    Raises
    ------
    Missing
        When there is no strip.
    """
    if not strips:
        raise Missing("strips of the cutting plan", "give at least one layer.")
    to_a_m = min(_WIDE / max(strip.length_m for strip in strips), _MOST_TO_A_M)
    high, top, drawn = width_m * to_a_m, 0.0, []
    for strip in strips:
        drawn.append(_strip(strip, top + _LABEL, high, to_a_m))
        top += _LABEL + high + _GAP
    words = escaped(title)
    return element(
        "svg",
        f"<title>{words}</title>",
        *drawn,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"-2 0 {_WIDE + 4:g} {top:g}",
        role="img",
        font_family=FONT,
        font_size=TEXT,
        fill=INK,
    )


def _strip(strip: Strip, top: float, high: float, to_a_m: float) -> str:
    long = strip.length_m * to_a_m
    ends = [strip.cut_m * to_a_m * cut for cut in range(1, strip.cuts)]
    cuts = [element("path", d=line(x, top, x, top + high), stroke=INK, stroke_width=THIN) for x in ends]
    sheet = element("rect", x=0, y=top, width=long, height=high, fill=FAINT, stroke=INK, stroke_width=THICK)
    return element("g", label(0, top - 5, strip.words, anchor="start"), sheet, *cuts)
