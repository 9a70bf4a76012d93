"""Snags marked on a section's drawing."""

import re
from collections.abc import Sequence

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from jobs.models import Section, Snag
from jobs.pictures.outlines import drawing_of_section

POINTED_WIDTH = 480
"""How wide the drawing is shown to point at, in pixels; a click comes back in them."""
_BOX = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')
_OXIDE, _PAPER, _GLASS = "#8f2f1d", "#fffdf6", "#1f5c45"


def box_of(drawing: str) -> tuple[float, float] | None:
    """Width and height of a drawing in its own units; None where there is none."""
    found = _BOX.search(drawing)
    return (float(found[1]), float(found[2])) if found else None


def with_marks(section: Section, snags: Sequence[Snag], units: str) -> SafeString:
    """The section's drawing with a numbered mark for each snag that has a place; closed ones are green."""
    drawing = drawing_of_section(section, units)
    box = box_of(drawing)
    if box is None:
        return drawing
    width, height = box
    marks = format_html_join(
        "",
        '<g><circle cx="{}" cy="{}" r="9" fill="{}" stroke="{}" stroke-width="2"/>'
        '<text x="{}" y="{}" font-size="11" font-weight="700" text-anchor="middle" fill="{}">{}</text></g>',
        (
            (
                *(f"{snag.x * width:.1f}", f"{snag.y * height:.1f}", _PAPER, _GLASS if snag.closed_at else _OXIDE),
                *(f"{snag.x * width:.1f}", f"{snag.y * height + 4:.1f}", _GLASS if snag.closed_at else _OXIDE, number),
            )
            for number, snag in enumerate(snags, start=1)
            if snag.x is not None and snag.y is not None
        ),
    )
    return format_html('<svg viewBox="0 0 {} {}">{}{}</svg>', f"{width:g}", f"{height:g}", drawing, marks)


def pointed_at(x: str, y: str, drawing: str) -> tuple[float, float] | None:
    """A click on the drawing as shares of its width and height; None where nothing was pointed at."""
    box = box_of(drawing)
    if box is None or not (x.isascii() and x.isdigit() and y.isascii() and y.isdigit()) or len(x + y) > 10:
        return None
    across, down = int(x) / POINTED_WIDTH, int(y) / (POINTED_WIDTH * box[1] / box[0])
    # A button pressed by key sends the corner.
    return (across, down) if 0 < across <= 1 and 0 < down <= 1 else None
