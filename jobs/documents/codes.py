"""Codes that a phone reads, after ISO/IEC 18004."""

from collections.abc import Sequence

import segno

from materials.drawing.svg import element, escaped

# ISO/IEC 18004: level Q wins back a quarter of the codewords. Level H wins back 30 %, but makes modules an eighth
# smaller on the same label, and a camera in dust wants large ones. Where H costs no module, segno takes it.
LEVEL = "q"
# The margin that the standard asks for, in modules.
QUIET = 4


def code_matrix(address: str) -> Sequence[Sequence[int]]:
    """An address as rows of dark and light modules."""
    return tuple(tuple(row) for row in segno.make(address, error=LEVEL, micro=False).matrix)


def code_path(matrix: Sequence[Sequence[int]]) -> str:
    """The dark modules as the path of a line one module wide."""
    return "".join(f"M{x} {y}.5h1" for y, row in enumerate(matrix) for x, is_dark in enumerate(row) if is_dark)


def code_svg(address: str, *, title: str) -> str:
    """A code with its margin, as a picture that scales."""
    matrix = code_matrix(address)
    side = len(matrix) + 2 * QUIET
    return element(
        "svg",
        element("title", escaped(title)),
        element("rect", width=side, height=side, fill="#fff"),
        element("path", d=code_path(matrix), stroke="#000", transform=f"translate({QUIET} {QUIET})"),
        viewBox=f"0 0 {side} {side}",
        role="img",
        aria_label=title,
        shape_rendering="crispEdges",
    )
