"""SVG as text: presentation attributes only, so that a strict content policy lets every drawing through."""

import re
from collections.abc import Iterable

from materials.estimator.outline import Point

INK = "#1f2a30"
SOFT = "#414d53"
PAPER = "#f6f3ea"
FAINT = "#e9e4d6"
RULE = "#b9b4a6"

THICK = 1.3
THIN = 0.65

TEXT = 13
FONT = "Source Sans Pro, sans-serif"

# What XML cannot hold and a name may: control characters and halves of surrogate pairs.
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_NAMED = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})


def escaped(text: str) -> str:
    """Text that may stand in an element or an attribute, whatever was typed.

    Parameters
    ----------
    text : str
        As typed.

    Returns
    -------
    str
        Escaped, with characters that XML cannot hold replaced.
    """
    return _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", text).translate(_NAMED)


def element(tag: str, *content: str, **attributes: str | float) -> str:
    """One element around content that is markup already.

    Parameters
    ----------
    tag : str
        Name of the element.
    *content : str
        Markup, joined.
    **attributes : str or float
        Values to be escaped, an underscore in a name standing for a hyphen; numbers are in user units.

    Returns
    -------
    str
        Markup.
    """
    written = "".join(f' {name.replace("_", "-")}="{_value(value)}"' for name, value in attributes.items())
    return f"<{tag}{written}>{''.join(content)}</{tag}>" if content else f"<{tag}{written}/>"


def _value(value: str | float) -> str:
    return escaped(value) if isinstance(value, str) else number(value)


def number(value: float) -> str:
    """A coordinate with two decimals at most.

    Parameters
    ----------
    value : float
        In user units.

    Returns
    -------
    str
        As SVG reads it.
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path(rings: Iterable[Iterable[Point]], *, closed: bool) -> str:
    """Path data through points.

    Parameters
    ----------
    rings : iterable of iterables of (float, float)
        Points in user units.
    closed : bool
        Whether each ring returns to its first point.

    Returns
    -------
    str
        For the attribute ``d``.
    """
    end = "Z" if closed else ""
    return "".join("M" + "L".join(f"{number(x)} {number(y)}" for x, y in ring) + end for ring in rings)


def line(x1: float, y1: float, x2: float, y2: float) -> str:
    """Path data of one straight line.

    Parameters
    ----------
    x1, y1, x2, y2 : float
        Its ends, in user units.

    Returns
    -------
    str
        For the attribute ``d``.
    """
    return path([[(x1, y1), (x2, y2)]], closed=False)


def label(x: float, y: float, text: str, *, anchor: str = "middle", fill: str = INK, upright: bool = False) -> str:
    """Text on its baseline.

    Parameters
    ----------
    x, y : float
        Where it is anchored, in user units.
    text : str
        As typed.
    anchor : str
        "start", "middle" or "end".
    fill : str
        Colour.
    upright : bool
        Whether it reads upwards, as beside an upright dimension line.

    Returns
    -------
    str
        Markup.
    """
    turned = {"transform": f"rotate(-90 {number(x)} {number(y)})"} if upright else {}
    return element("text", escaped(text), x=x, y=y, text_anchor=anchor, fill=fill, **turned)


def text_width(text: str) -> float:
    """About how wide a label comes out; the face is not known here.

    Parameters
    ----------
    text : str
        The label.

    Returns
    -------
    float
        Width, in user units.
    """
    return len(text) * TEXT * 0.52


def titled(words: str, drawn: str, *, width: float, height: float, size: float = TEXT) -> str:
    """A whole drawing that says in words what it shows.

    Parameters
    ----------
    words : str
        For those who do not see it.
    drawn : str
        Markup.
    width, height, size : float
        Of the drawing and of its lettering, in user units.

    Returns
    -------
    str
        One ``svg`` element.
    """
    return element(
        "svg",
        element("title", escaped(words)),
        drawn,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width:g} {height:.0f}",
        role="img",
        font_family=FONT,
        font_size=size,
        fill=INK,
    )
