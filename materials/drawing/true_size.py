"""A base in true size over several pages, and the map of those pages. One user unit is one millimetre."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from materials.drawing.svg import FAINT, FONT, INK, RULE, SOFT, element, escaped, line, number, path

_THICK = 0.5
_THIN = 0.2
_CROSS = 4.0


@dataclass(frozen=True, slots=True)
class Round:
    """A hole or a leg: its middle, diameter, a dashed ring round it (0 for none) [mm], what is said of it.

    ``towards_deg`` is the way it leans in plan [deg], None where it stands upright.
    """

    x_mm: float
    y_mm: float
    across_mm: float
    ring_mm: float
    words: str
    towards_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Plate:
    """What is drawn: a rectangle about the middle [mm], its holes and its legs; y runs up the page."""

    length_mm: float
    width_mm: float
    holes: tuple[Round, ...]
    legs: tuple[Round, ...]


@dataclass(frozen=True, slots=True)
class Window:
    """What one page draws: its name, and its upper left corner and size on the plate [mm]."""

    name: str
    left_mm: float
    top_mm: float
    wide_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True)
class Page:
    """The sheet of paper, its blank margin, how far drawings overlap and the check bar [mm]."""

    width_mm: float
    height_mm: float
    margin_mm: float
    overlap_mm: float
    bar_mm: float


def page_svg(plate: Plate, window: Window, page: Page, *, title: str, foot: Sequence[str]) -> str:
    """One page in true size, with register marks where it meets its neighbours, and the check bar.

    Parameters
    ----------
    plate : Plate
    window : Window
    page : Page
    title : str
        What is drawn, for those who do not see it.
    foot : sequence of str
        Lines below the drawing.

    Returns
    -------
    str
        SVG as large as the paper [mm].
    """
    inset = page.overlap_mm / 2
    corners = [
        (page.margin_mm + x, page.margin_mm + y)
        for x in (inset, window.wide_mm - inset)
        for y in (inset, window.high_mm - inset)
    ]
    below = page.margin_mm + window.high_mm
    return element(
        "svg",
        element("title", escaped(title)),
        element(
            "svg",
            _plate(plate, text_mm=3.2),
            x=page.margin_mm,
            y=page.margin_mm,
            width=window.wide_mm,
            height=window.high_mm,
            viewBox=_box(window.left_mm, -window.top_mm, window.wide_mm, window.high_mm),
        ),
        element("rect", **_rect(page.margin_mm, page.margin_mm, window), fill="none", stroke=SOFT, stroke_width=_THIN),
        *(_cross(x, y) for x, y in corners),
        _text(page.margin_mm + window.wide_mm - 3, page.margin_mm + window.high_mm - 3, window.name, 9, anchor="end"),
        _bar(page.margin_mm, below + 5, page.bar_mm),
        *(
            _text(page.margin_mm + page.bar_mm + 6, below + 4.5 + 4.2 * row, words, 3.2)
            for row, words in enumerate(foot)
        ),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=_box(0, 0, page.width_mm, page.height_mm),
        width=f"{number(page.width_mm)}mm",
        height=f"{number(page.height_mm)}mm",
        role="img",
        font_family=FONT,
        fill=INK,
    )


def map_svg(plate: Plate, windows: Sequence[Window], *, title: str) -> str:
    """The plate small, with the pages it is spread over.

    Parameters
    ----------
    plate : Plate
    windows : sequence of Window
    title : str

    Returns
    -------
    str
        SVG with presentation attributes only.
    """
    left = min([window.left_mm for window in windows] + [-plate.length_mm / 2]) - 8
    right = max([window.left_mm + window.wide_mm for window in windows] + [plate.length_mm / 2]) + 8
    top = max([window.top_mm for window in windows] + [plate.width_mm / 2]) + 8
    foot = min([window.top_mm - window.high_mm for window in windows] + [-plate.width_mm / 2]) - 8
    # About 13 units of text where 460 units are wide.
    text_mm = 13 / 460 * max(right - left, (top - foot) * 0.8)
    return element(
        "svg",
        element("title", escaped(title)),
        _plate(plate, text_mm=text_mm),
        *(
            element(
                "rect",
                **_rect(window.left_mm, -window.top_mm, window),
                fill="none",
                stroke=SOFT,
                stroke_width=text_mm / 13,
            )
            + _text(window.left_mm + text_mm / 2, -window.top_mm + 1.3 * text_mm, window.name, 1.3 * text_mm, fill=SOFT)
            for window in windows
        ),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=_box(left, -top, right - left, top - foot),
        role="img",
        font_family=FONT,
        fill=INK,
    )


def _plate(plate: Plate, *, text_mm: float) -> str:
    """The plate with everything on it, y turned down as SVG has it."""
    x, y = plate.length_mm / 2, plate.width_mm / 2
    axes = path([[(-x - 5, 0), (x + 5, 0)], [(0, -y - 5), (0, y + 5)]], closed=False)
    thin = min(_THIN * text_mm / 3.2, _THIN * 4)
    return "".join(
        (
            element(
                "rect", x=-x, y=-y, width=2 * x, height=2 * y, fill="none", stroke=INK, stroke_width=2 * thin + 0.1
            ),
            element("path", d=axes, stroke=RULE, stroke_width=thin, stroke_dasharray="8 2 1 2"),
            _text(-x / 2, y - text_mm * 0.6, "front", text_mm, anchor="middle"),
            *(_leg(leg, text_mm, thin) for leg in plate.legs),
            *(_hole(hole, text_mm, thin) for hole in plate.holes),
        )
    )


def _hole(hole: Round, text_mm: float, thin: float) -> str:
    x, y, half = hole.x_mm, -hole.y_mm, hole.across_mm / 2 + 3
    cross = path([[(x - half, y), (x + half, y)], [(x, y - half), (x, y + half)]], closed=False)
    return "".join(
        (
            element("circle", cx=x, cy=y, r=hole.across_mm / 2, fill="none", stroke=INK, stroke_width=2 * thin),
            element("path", d=cross, stroke=INK, stroke_width=thin),
            element(
                "circle",
                cx=x,
                cy=y,
                r=hole.ring_mm / 2,
                fill="none",
                stroke=SOFT,
                stroke_width=thin,
                stroke_dasharray="2 1.5",
            ),
            _text(x + hole.across_mm / 2 + 1.5, y - hole.across_mm / 2 - 1, hole.words, text_mm),
        )
    )


def _leg(leg: Round, text_mm: float, thin: float) -> str:
    x, y, radius = leg.x_mm, -leg.y_mm, leg.across_mm / 2
    drawn = element("circle", cx=x, cy=y, r=radius, fill=FAINT, stroke=INK, stroke_width=2 * thin)
    if leg.towards_deg is not None:
        way = math.radians(leg.towards_deg)
        tip = (x + (radius + 14) * math.cos(way), y - (radius + 14) * math.sin(way))
        sides = [
            (tip[0] - 5 * math.cos(way + turn), tip[1] + 5 * math.sin(way + turn))
            for turn in (math.radians(25), -math.radians(25))
        ]
        drawn += element("path", d=line(x, y, *tip), stroke=INK, stroke_width=2 * thin)
        drawn += element("path", d=path([[tip, *sides]], closed=True))
    return drawn + _text(x, y + radius + text_mm, leg.words, text_mm, anchor="middle")


def _cross(x: float, y: float) -> str:
    arms = path([[(x - _CROSS, y), (x + _CROSS, y)], [(x, y - _CROSS), (x, y + _CROSS)]], closed=False)
    return element("path", d=arms, stroke=INK, stroke_width=_THIN) + element(
        "circle", cx=x, cy=y, r=_CROSS / 2, fill="none", stroke=INK, stroke_width=_THIN
    )


def _bar(x: float, y: float, long: float) -> str:
    ticks: Iterable[float] = (x + 10 * each for each in range(int(long // 10) + 1))
    ends = path([[(x, y - 2), (x, y + 2)], [(x + long, y - 2), (x + long, y + 2)]], closed=False)
    return "".join(
        (
            element("path", d=line(x, y, x + long, y), stroke=INK, stroke_width=_THICK),
            element("path", d=ends, stroke=INK, stroke_width=_THICK),
            element(
                "path",
                d=path([[(each, y), (each, y + 1.5)] for each in ticks], closed=False),
                stroke=INK,
                stroke_width=_THIN,
            ),
            _text(x, y + 6, f"{number(long)} mm: measure this bar before you drill", 3.2),
        )
    )


def _text(x: float, y: float, words: str, size: float, *, anchor: str = "start", fill: str = INK) -> str:
    return element("text", escaped(words), x=x, y=y, font_size=size, text_anchor=anchor, fill=fill)


def _rect(x: float, y: float, window: Window) -> dict[str, str | float]:
    return {"x": x, "y": y, "width": window.wide_mm, "height": window.high_mm}


def _box(left: float, top: float, wide: float, high: float) -> str:
    return f"{number(left)} {number(top)} {number(wide)} {number(high)}"
