"""How far a section has come, as section lining: each stage has a hatch and its word beside it."""

from collections.abc import Iterable, Sequence

from materials.drawing.svg import FAINT, INK, PAPER, SOFT, THIN, element, label

_GREEN = "#1f5c45"
_TINT = "#d7d9c8"
_TINT_LINE = "#9aa58f"

_SWATCH = (22.0, 14.0)
_CELL = (96.0, 20.0)
_CELLS = 4

# Tile size, ground, and what is drawn on it; after ISO 128 in spirit, the frame of the crate our own.
_TILES: dict[str, tuple[float, str, str]] = {
    "pattern": (
        7,
        PAPER,
        element("circle", cx=2, cy=2, r=1, fill=INK) + element("circle", cx=5.5, cy=5.5, r=1, fill=INK),
    ),
    "mould": (8, PAPER, element("path", d="M0 0L8 8M0 8L8 0", fill="none", stroke=INK, stroke_width=0.75)),
    "cast": (6, PAPER, element("path", d="M-1 1L1 -1M0 6L6 0M5 7L7 5", fill="none", stroke=_GREEN, stroke_width=1.3)),
    "finish": (4, _TINT, element("path", d="M0 2L4 2", fill="none", stroke=_TINT_LINE, stroke_width=0.6)),
    "metalwork": (
        10,
        PAPER,
        element("path", d="M-1 -1L11 11M2.5 0L10 7.5M0 7.5L2.5 10", fill="none", stroke=SOFT, stroke_width=0.75),
    ),
    "crate": (
        12,
        FAINT,
        element(
            "path",
            d="M0 0L12 0L12 12L0 12ZM3 3L9 3L9 9L3 9ZM0 0L3 3M12 0L9 3M12 12L9 9M0 12L3 9",
            fill="none",
            stroke=SOFT,
            stroke_width=0.7,
        ),
    ),
}

HATCHED_STAGES = tuple(_TILES)


def pattern_id(uid: str, stage: str) -> str:
    """Id of a stage's pattern within one drawing.

    Parameters
    ----------
    uid : str
        What the drawing's ids begin with.
    stage : str
        One of ``HATCHED_STAGES``.

    Returns
    -------
    str
        The id.
    """
    return f"{uid}-{stage}"


def patterns(uid: str, stages: Iterable[str]) -> str:
    """Definitions of the hatches in use.

    Parameters
    ----------
    uid : str
        What the drawing's ids begin with.
    stages : iterable of str
        From ``HATCHED_STAGES``.

    Returns
    -------
    str
        Markup for ``defs``.
    """
    made = []
    for stage in stages:
        size, ground, drawn = _TILES[stage]
        tile = element("rect", width=size, height=size, fill=ground) + drawn
        made.append(
            element("pattern", tile, id=pattern_id(uid, stage), width=size, height=size, patternUnits="userSpaceOnUse")
        )
    return "".join(made)


def legend(uid: str, stages: Sequence[str], *, left: float, top: float) -> tuple[str, float]:
    """A swatch and a word for each hatch in use, four to a row.

    Parameters
    ----------
    uid : str
        What the drawing's ids begin with.
    stages : sequence of str
        From ``HATCHED_STAGES``.
    left, top : float
        Where it begins, in user units.

    Returns
    -------
    tuple of (str, float)
        Markup, and the height it took, in user units.
    """
    width, height = _SWATCH
    made = []
    for index, stage in enumerate(stages):
        row, column = divmod(index, _CELLS)
        x, y = left + column * _CELL[0], top + row * _CELL[1]
        hatch = f"url(#{pattern_id(uid, stage)})"
        made.append(element("rect", x=x, y=y, width=width, height=height, fill=hatch, stroke=INK, stroke_width=THIN))
        made.append(label(x + width + 5, y + height - 3, stage, anchor="start"))
    return "".join(made), -(-len(stages) // _CELLS) * _CELL[1]
