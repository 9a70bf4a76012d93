"""Pictures of a document: each as an address that holds it, so that it carries alternative text and is never HTML."""

import base64
import re
from collections.abc import Mapping, Sequence
from html import unescape

from jobs.figures.sealed import ShownPhoto

DESCRIPTION = re.compile(r"<desc[^>]*>([^<]*)</desc>")


def drawn(svg: str, title: str) -> dict[str, str]:
    """For a template: a drawing's address, "" for none, and what it shows of what ``title`` names."""
    address = f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}" if svg else ""
    return {"drawing": address, "drawing_alt": f"{title}. {_description_of(svg)}"}


def addressed(photos: Sequence[ShownPhoto], pictures: Mapping[str, bytes]) -> list[tuple[ShownPhoto, str]]:
    """For a template: photos, each with its address; ``pictures`` are their JPEGs by their digest."""
    return [(photo, f"data:image/jpeg;base64,{base64.b64encode(pictures[photo.sha256]).decode()}") for photo in photos]


def _description_of(svg: str) -> str:
    """What a drawing says of itself to those who do not see it: views, sizes, sections."""
    found = DESCRIPTION.search(svg)
    return unescape(found[1]) if found else ""
