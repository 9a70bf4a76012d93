"""Pictures of a document: each as an address that holds it, so that it carries alternative text and is never HTML."""

import base64
import re
from html import unescape

DESCRIPTION = re.compile(r"<desc[^>]*>([^<]*)</desc>")


def svg_address(svg: str) -> str:
    """A drawing's address; "" for none."""
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}" if svg else ""


def jpeg_address(jpeg: bytes) -> str:
    """A photo's address."""
    return f"data:image/jpeg;base64,{base64.b64encode(jpeg).decode()}"


def description_of(svg: str) -> str:
    """What a drawing says of itself to those who do not see it: views, sizes, sections."""
    found = DESCRIPTION.search(svg)
    return unescape(found[1]) if found else ""
