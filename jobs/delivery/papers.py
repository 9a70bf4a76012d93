"""Sheets of paper by name, upright.

Sizes after ISO 216 (A4, A3) and ANSI/ASME Y14.1 (letter).
"""

from dataclasses import dataclass

from materials.estimator.errors import UnknownChoice


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet: its key, what people call it, and its sides [mm]."""

    key: str
    name: str
    width_mm: float
    height_mm: float


PAPERS = {
    paper.key: paper
    for paper in (
        Paper("a4", "A4", 210.0, 297.0),
        Paper("a3", "A3", 297.0, 420.0),
        Paper("letter", "Letter", 215.9, 279.4),
    )
}


def paper_of(key: str) -> Paper:
    """A sheet by its key.

    Parameters
    ----------
    key : str
        "a4", "a3" or "letter".

    Returns
    -------
    Paper

    Raises
    ------
    UnknownChoice
        For any other.
    """
    if key not in PAPERS:
        raise UnknownChoice("Paper", key, PAPERS)
    return PAPERS[key]
