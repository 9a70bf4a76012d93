"""Sheets of labels in true size: one drawing a page, each label with its code, its words and which way is up."""

import base64
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.template.loader import render_to_string

from jobs.delivery.label_sheets import (
    INSET_MM,
    QUIET_MODULES,
    WRITTEN_MM,
    LabelPlace,
    LabelSheet,
    code_side_mm,
    label_places,
)
from jobs.documents.codes import code_matrix, code_path
from jobs.labels import Label
from materials.drawing.svg import FONT, element, escaped, number
from studio.pdf import render_pdf

INK = "#000000"
# How wide a sign comes out at most, on the whole, as a share of the size of type: measured on the face in use.
SIGN = 0.54


@dataclass(frozen=True, slots=True)
class LabelPage:
    """One sheet: its drawing, the same as an address that holds it, and what stands on it for those who do not see."""

    svg: str
    picture: str
    alt: str


def label_pages(sheet: LabelSheet, first: int, labels: Sequence[Label]) -> tuple[LabelPage, ...]:
    """The sheets in true size, from the first free place on.

    Raises OutOfRange where the place is not on the sheet, or the code does not fit on a label.
    """
    placed = list(zip(label_places(sheet, first, len(labels)), labels, strict=True))
    last = placed[-1][0].page if placed else -1
    return tuple(_page(sheet, page + 1, [each for each in placed if each[0].page == page]) for page in range(last + 1))


def labels_document(sheet: LabelSheet, pages: Sequence[LabelPage], *, title: str) -> bytes:
    """The sheets as a PDF, one to a page, nothing round them."""
    context = {"document_title": title, "paper": sheet.paper.key, "pages": pages}
    return render_pdf(render_to_string("documents/labels.html", context), title=title)


def _page(sheet: LabelSheet, page: int, placed: Sequence[tuple[LabelPlace, Label]]) -> LabelPage:
    alt = f"Sheet {page} of labels: " + "; ".join(
        f"{label.number}, {label.section}, {label.what}, {label.mass}, {label.code}" for _, label in placed
    )
    svg = element(
        "svg",
        element("title", escaped(alt)),
        *(_label(sheet, place, label) for place, label in placed),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(sheet.paper.width_mm)} {number(sheet.paper.height_mm)}",
        width=f"{number(sheet.paper.width_mm)}mm",
        height=f"{number(sheet.paper.height_mm)}mm",
        role="img",
        aria_label=f"Sheet {page} of labels",
        font_family=FONT,
        fill=INK,
    )
    return LabelPage(svg, f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}", alt)


def _label(sheet: LabelSheet, place: LabelPlace, label: Label) -> str:
    matrix = code_matrix(label.address)
    modules = len(matrix)
    side = code_side_mm(sheet, modules)
    module = side / modules
    whole = side + 2 * QUIET_MODULES * module
    top = (sheet.height_mm - WRITTEN_MM - whole) / 2
    size = min(2.0, sheet.height_mm / 38)
    left = INSET_MM + whole + 0.5 * size
    return element(
        "g",
        element(
            "path",
            d=code_path(matrix),
            stroke=INK,
            transform=f"translate({INSET_MM + QUIET_MODULES * module:.3f} {top + QUIET_MODULES * module:.3f}) "
            f"scale({module:.5f})",
        ),
        _text(INSET_MM + whole / 2, top + whole + 2.2, label.code, 3.0, anchor="middle", weight=600),
        *_words(label, left, sheet.width_mm - INSET_MM - 1.5, sheet.height_mm, size),
        transform=f"translate({number(place.x_mm)} {number(place.y_mm)})",
    )


def _words(label: Label, left: float, right: float, height: float, size: float) -> Iterator[str]:
    """What stands beside the code, from the top down, with an arrow that points up."""
    arrow = 7 * size
    wide = right - left
    y = 4.2 * size
    yield _text(left, y, _fitted(label.number, wide - arrow, 3.6 * size, 1)[0], 3.6 * size, weight=600)
    yield _up(right - arrow / 2, 1.5 * size, size)
    for words, type_size, lines, weight, room in (
        (label.title, 2.7 * size, 2, 400, wide - arrow),
        (label.section, 4.0 * size, 2, 600, wide),
        (label.what, 2.9 * size, 2, 400, wide),
    ):
        y += 0.9 * size
        for line in _fitted(words, room, type_size, lines):
            y += 1.12 * type_size
            yield _text(left, y, line, type_size, weight=weight)
        # Below the arrow the whole width is free again.
        y = max(y, 9.5 * size) if words == label.title else y
    foot = min(height - INSET_MM - 1.5, max(y + 4.6 * size, height - 4 * size))
    yield _text(left, foot, label.mass, min(3.4 * size, wide / (SIGN * len(label.mass))), weight=600)


def _up(x: float, y: float, size: float) -> str:
    head, foot, half, stem = y, y + 5.5 * size, 2.6 * size, 0.9 * size
    neck = y + 3.1 * size
    d = f"M{number(x)} {number(head)}L{number(x + half)} {number(neck)}H{number(x + stem)}V{number(foot)}"
    d += f"H{number(x - stem)}V{number(neck)}H{number(x - half)}Z"
    return element("path", d=d) + _text(x, foot + 2.6 * size, "UP", 2.7 * size, anchor="middle", weight=600)


def _text(x: float, y: float, words: str, size: float, *, anchor: str = "start", weight: int = 400) -> str:
    return element("text", escaped(words), x=x, y=y, font_size=size, text_anchor=anchor, font_weight=str(weight))


def _fitted(words: str, wide: float, size: float, most: int) -> list[str]:
    """Words broken into so many lines at most; what does not go in gives way to three dots."""
    signs = max(3, int(wide / (SIGN * size)))
    lines: list[str] = []
    for word in words.split(" "):
        if lines and len(lines[-1]) + 1 + len(word) <= signs:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    kept = lines[:most] or [""]
    if len(lines) > most:
        kept[-1] += " …"
    return [line if len(line) <= signs else f"{line[: signs - 1]}…" for line in kept]
