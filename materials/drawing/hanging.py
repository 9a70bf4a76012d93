"""A load from the front: where it balances, and how it hangs from its points."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from materials.drawing.svg import FAINT, FONT, INK, TEXT, THICK, THIN, element, escaped, label, line, number, path
from materials.estimator.errors import Missing
from materials.estimator.outline import Point

_WIDE = 460.0
_HIGH = 300.0
_ROOM = 26.0
_MARK = 9.0


@dataclass(frozen=True, slots=True)
class Hung:
    """How a load hangs: its points, left and right, and the hook, each from the middle and above the foot [m]."""

    points: tuple[Point, ...]
    hook: Point
    angle_words: str


def hanging_svg(
    rings: Sequence[Sequence[Point]], balance: Point, *, balance_words: str, title: str, hung: Hung | None = None
) -> str:
    """The outline with the mark of its balance point, and slings where it hangs.

    Parameters
    ----------
    rings : sequence of sequences of (float, float)
        Closed outlines from the front, even-odd filled: from the middle, and above the foot [m].
    balance : tuple of (float, float)
        Where it balances [m].
    balance_words : str
        Beside the mark.
    title : str
    hung : Hung or None

    Returns
    -------
    str
        SVG with presentation attributes only.

    Raises
    ------
    Missing
        When there is no outline.
    """
    if not any(rings):
        raise Missing("Outline", "give the section its dimensions first.")
    above = [hung.hook] if hung else []
    seen = [point for ring in rings for point in ring] + [balance, *above, *(hung.points if hung else ())]
    left, right = min(x for x, _ in seen), max(x for x, _ in seen)
    low, high = min(0.0, *(z for _, z in seen)), max(z for _, z in seen)
    scale = min((_WIDE - 2 * _ROOM) / max(right - left, 1e-6), (_HIGH - 2 * _ROOM) / max(high - low, 1e-6))
    middle = (left + right) / 2

    def at(point: Point) -> Point:
        return _WIDE / 2 + (point[0] - middle) * scale, _ROOM + (high - point[1]) * scale

    tall = 2 * _ROOM + (high - low) * scale
    outline = path([[at(point) for point in ring] for ring in rings if ring], closed=True)
    floor = at((0.0, 0.0))[1]
    return element(
        "svg",
        element("title", escaped(title)),
        element("path", d=outline, fill=FAINT, stroke=INK, stroke_width=THICK, fill_rule="evenodd"),
        element("path", d=line(_ROOM / 2, floor, _WIDE - _ROOM / 2, floor), stroke=INK, stroke_width=THIN),
        _slings(hung, at) if hung else "",
        _mark(at(balance), balance_words),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {_WIDE:g} {number(tall)}",
        role="img",
        font_family=FONT,
        font_size=TEXT,
        fill=INK,
    )


def _mark(at: Point, words: str) -> str:
    """The mark of a centre of mass: a disc with two of its quarters filled."""
    x, y = at
    quarter = f"M{number(x)} {number(y)}"
    filled = (
        f"{quarter}V{number(y - _MARK)}A{_MARK} {_MARK} 0 0 1 {number(x + _MARK)} {number(y)}Z"
        f"{quarter}V{number(y + _MARK)}A{_MARK} {_MARK} 0 0 1 {number(x - _MARK)} {number(y)}Z"
    )
    return (
        element("circle", cx=x, cy=y, r=_MARK, fill="#fffdf6", stroke=INK, stroke_width=THICK)
        + element("path", d=filled)
        + label(x + _MARK + 5, y + 4.5, words, anchor="start")
    )


def _slings(hung: Hung, at: Callable[[Point], Point]) -> str:
    hook = at(hung.hook)
    legs = [at(point) for point in hung.points]
    return "".join(
        (
            *(element("path", d=line(*hook, *leg), stroke=INK, stroke_width=2) for leg in legs),
            *(element("circle", cx=x, cy=y, r=4) for x, y in legs),
            element("circle", cx=hook[0], cy=hook[1] - 6, r=6, fill="none", stroke=INK, stroke_width=2),
            label(hook[0] + 14, hook[1] + 2, hung.angle_words, anchor="start"),
        )
    )
