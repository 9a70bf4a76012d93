"""What a sign-off puts before a commissioner, as values: the page and the paper show this and nothing else.

No cost of the studio's, no hour and no maker has a place here. The digest of
the values is what an answer names.
"""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from jobs.figures.sealed import ShownPhoto, day_of, head_of, photos_of
from jobs.figures.sheet import SheetHead


@dataclass(frozen=True, slots=True)
class ApprovalSheet:
    """One sign-off as it is sent.

    Attributes
    ----------
    head : SheetHead
        Its number is the sign-off's own, "26-014 / S3".
    kind : str
        Such as "Form of the pattern".
    commissioner, asked_of : str
        For whom the work is made, and who is asked.
    covers : tuple of str
        The stages that wait for it, "Base, pattern".
    what, dimensions, costs_after : tuple of str
        One point each.
    revision, colour : str
        "" where nothing is said.
    answer_by : datetime.date
        An answer by this day keeps the programme.
    photos : tuple of ShownPhoto
    drawing_svg : str
        Front and side of what is covered; "" for none.
    """

    head: SheetHead
    kind: str
    commissioner: str
    asked_of: str
    covers: tuple[str, ...]
    what: tuple[str, ...]
    revision: str
    dimensions: tuple[str, ...]
    colour: str
    costs_after: tuple[str, ...]
    answer_by: datetime.date
    photos: tuple[ShownPhoto, ...]
    drawing_svg: str


def thawed_approval(kept: Mapping[str, Any]) -> ApprovalSheet:
    """The sheet that was sealed.

    Parameters
    ----------
    kept : mapping
        As ``sealed`` gave it.

    Returns
    -------
    ApprovalSheet
        Equal to the one that was sealed.
    """
    lists = {name: tuple(kept[name]) for name in ("covers", "what", "dimensions", "costs_after")}
    return ApprovalSheet(
        **{
            **kept,
            **lists,
            "head": head_of(kept["head"]),
            "answer_by": day_of(kept["answer_by"]),
            "photos": photos_of(kept["photos"]),
        }
    )
