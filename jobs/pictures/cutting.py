"""One sheet or block of a cutting plan: its parts by letter, its cuts by number, what is left over."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from jobs.delivery.cutting import Cut, CuttingPlan, Laid, Offcut, Part, SheetPlan, Stock
from materials.drawing.sizes import Units, size_text, spoken_size
from materials.drawing.svg import FAINT, INK, PAPER, SOFT, TEXT, THICK, element, label, line, text_width, titled

_WIDE = 460.0
_EDGE = 12.0
_NUMBER = 11.0
_LETTER = 26.0
_SIZE = 15.0

_At = Callable[[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class PartShown:
    """A part as the list of parts has it: letter, name, sides in words, how many on this sheet."""

    letter: str
    name: str
    sides: str
    count: int


def letters(plan: CuttingPlan) -> dict[Part, str]:
    """A letter for each part that differs, in the order of the sheets: A to Z, then AA."""
    parts = dict.fromkeys(each.part for sheet in plan.sheets for each in sheet.laid)
    return {part: _letter(number) for number, part in enumerate(parts)}


def _letter(number: int) -> str:
    first, last = divmod(number, 26)
    return (chr(ord("A") + first - 1) if first else "") + chr(ord("A") + last)


def parts_of(sheet: SheetPlan, lettered: Mapping[Part, str], units: Units) -> tuple[PartShown, ...]:
    """The parts of one sheet, each once."""
    counts: dict[Part, int] = {}
    for each in sheet.laid:
        counts[each.part] = counts.get(each.part, 0) + 1
    return tuple(
        PartShown(lettered[part], part.name, sides_text(part.length_m, part.width_m, units), count)
        for part, count in counts.items()
    )


def sides_text(length_m: float, width_m: float, units: Units) -> str:
    """Two sides in words."""
    if units == "metric":
        return f"{size_text(length_m, units)} × {size_text(width_m, units)} mm"
    return f"{size_text(length_m, units)} × {size_text(width_m, units)}"


def cut_text(cut: Cut, units: Units) -> str:
    """One cut as the saw is set for it."""
    edge = "left" if cut.across else "lower"
    return f"{'across' if cut.across else 'along'}, {spoken_size(cut.at_m, units)} from the {edge} edge of the piece"


def sheet_svg(
    sheet: SheetPlan, stock: Stock, lettered: Mapping[Part, str], units: Units, *, name: str
) -> tuple[str, str]:
    """The drawing, and what it shows in words."""
    scale = (_WIDE - 2 * _EDGE) / stock.length_m
    high = stock.width_m * scale

    def at(x_m: float, y_m: float) -> tuple[float, float]:
        return _EDGE + x_m * scale, _EDGE + high - y_m * scale

    drawn = _box(at(0.0, stock.width_m), stock.length_m * scale, high, FAINT, THICK)
    drawn += "".join(_offcut(each, at, scale, units) for each in sheet.offcuts)
    drawn += "".join(_part(each, at, scale, lettered[each.part], units) for each in sheet.laid)
    drawn += "".join(_cut(number, cut, at, scale) for number, cut in enumerate(sheet.cuts, start=1))
    shown = "; ".join(f"{each.letter} {each.sides}" for each in parts_of(sheet, lettered, units))
    words = f"{name}, {sides_text(stock.length_m, stock.width_m, units)}: {shown}; {len(sheet.cuts)} cuts"
    return titled(words, drawn, width=_WIDE, height=high + 2 * _EDGE, size=_SIZE), words


def _box(corner: tuple[float, float], width: float, height: float, fill: str, stroke: float) -> str:
    x, y = corner
    return element("rect", x=x, y=y, width=width, height=height, fill=fill, stroke=INK, stroke_width=stroke)


def _part(laid: Laid, at: _At, scale: float, letter: str, units: Units) -> str:
    wide, high = laid.length_m * scale, laid.width_m * scale
    left, top = at(laid.x_m, laid.y_m + laid.width_m)
    sides = f"{size_text(laid.length_m, units)} × {size_text(laid.width_m, units)}"
    middle, centre = left + wide / 2, top + high / 2
    drawn = _box((left, top), wide, high, PAPER, THICK)
    both = high > _LETTER + _SIZE + 8 and wide > _width(sides)
    drawn += element(
        "text",
        letter,
        x=middle,
        y=centre + (0 if both else 8),
        text_anchor="middle",
        font_size=_LETTER,
        font_weight="600",
    )
    return drawn + (label(middle, centre + _SIZE + 4, sides) if both else "")


def _width(sides: str) -> float:
    return text_width(sides) * _SIZE / TEXT


def _offcut(offcut: Offcut, at: _At, scale: float, units: Units) -> str:
    """Only what is worth keeping is named."""
    wide, high = offcut.length_m * scale, offcut.width_m * scale
    sides = f"{size_text(offcut.length_m, units)} × {size_text(offcut.width_m, units)}"
    middle = at(offcut.x_m + offcut.length_m / 2, offcut.y_m + offcut.width_m / 2)
    if high > _SIZE + 2 and wide > _width(sides) + 4:
        return label(middle[0], middle[1] + _SIZE / 3, sides, fill=SOFT)
    if wide > _SIZE + 2 and high > _width(sides) + 4:
        return label(middle[0] + _SIZE / 3, middle[1], sides, fill=SOFT, upright=True)
    return ""


def _cut(number: int, cut: Cut, at: _At, scale: float) -> str:
    x, y = at(cut.x_m, cut.y_m)
    long = cut.length_m * scale
    ends = (x, y, x, y - long) if cut.across else (x, y, x + long, y)
    # The number stands at the cut's beginning, on the edge of the piece.
    drawn = element("path", d=line(*ends), stroke=INK, stroke_width=THICK, stroke_dasharray="6 3")
    drawn += element("circle", cx=x, cy=y, r=_NUMBER, fill=INK)
    return drawn + element(
        "text", f"{number}", x=x, y=y + 4.5, text_anchor="middle", fill=PAPER, font_size=TEXT, font_weight="600"
    )
