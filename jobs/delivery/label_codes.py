"""What a label says in signs, and what it belongs to: "17-M1P3" is piece 3 of mould 1 of section 17.

Nothing is kept for it: a section has its number, and its casts, pieces and
crates are counted by the take-off.
"""

import re
from dataclasses import dataclass

from materials.estimator.errors import EstimatorError, shown

CAST, PIECE, CRATE = "cast", "piece", "crate"
LETTERS = {"C": CAST, "K": CRATE}

_CODE = re.compile(r"([1-9][0-9]{0,8})-(?:([CK])([1-9][0-9]{0,3})|M([1-9][0-9]{0,3})P([1-9][0-9]{0,3}))")


@dataclass(frozen=True, slots=True)
class Labelled:
    """A thing that carries a label.

    Attributes
    ----------
    section : int
        The section's own number.
    kind : str
        "cast", "piece" or "crate".
    number : int
        Which cast, or the crate of which cast, or of which mould it is a piece; from 1.
    piece : int
        Which piece of that mould, from 1; 0 for what is none.
    """

    section: int
    kind: str
    number: int
    piece: int = 0

    @property
    def code(self) -> str:
        """The signs on its label."""
        if self.kind == PIECE:
            return f"{self.section}-M{self.number}P{self.piece}"
        letter = next(letter for letter, kind in LETTERS.items() if kind == self.kind)
        return f"{self.section}-{letter}{self.number}"


def read_code(signs: str) -> Labelled:
    """What the signs on a label belong to; labels are read aloud, so that small letters count as well.

    Parameters
    ----------
    signs : str
        As printed below the code, or as a phone read it.

    Returns
    -------
    Labelled

    Raises
    ------
    EstimatorError
        When no label says this.
    """
    found = _CODE.fullmatch(signs.strip().upper())
    if not found:
        raise EstimatorError("label", signs, f"No label says {shown(signs)}; it is read such as 17-C1 or 17-M1P3.")
    section, letter, number, mould, piece = found.groups()
    if letter:
        return Labelled(int(section), LETTERS[letter], int(number))
    return Labelled(int(section), PIECE, int(mould), int(piece))
