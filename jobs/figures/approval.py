"""What a sign-off puts before a commissioner, as values: the page and the paper show this and nothing else.

No cost of the studio's, no hour and no maker has a place here. The digest of
the values is what an answer names.
"""

import datetime
import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from jobs.figures.sheet import SheetHead, Workshop


@dataclass(frozen=True, slots=True)
class ShownPhoto:
    """A photo by its digest, what it shows, and the day it was kept."""

    sha256: str
    caption: str
    on: datetime.date


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


def frozen_approval(sheet: ApprovalSheet) -> dict[str, Any]:
    """A sheet as plain values that JSON keeps.

    Parameters
    ----------
    sheet : ApprovalSheet

    Returns
    -------
    dict
        Which ``thawed_approval`` reads; days as ISO 8601.
    """
    kept: dict[str, Any] = json.loads(json.dumps(asdict(sheet), default=_iso))
    return kept


def thawed_approval(kept: Mapping[str, Any]) -> ApprovalSheet:
    """The sheet that was kept.

    Parameters
    ----------
    kept : mapping
        As ``frozen_approval`` gave it.

    Returns
    -------
    ApprovalSheet
        Equal to the one that was frozen.
    """
    lists = {name: tuple(kept[name]) for name in ("covers", "what", "dimensions", "costs_after")}
    photos = tuple(ShownPhoto(**{**photo, "on": _day(photo["on"])}) for photo in kept["photos"])
    return ApprovalSheet(
        **{
            **kept,
            **lists,
            "head": thawed_head(kept["head"]),
            "answer_by": _day(kept["answer_by"]),
            "photos": photos,
        }
    )


def thawed_head(kept: Mapping[str, Any]) -> SheetHead:
    """A title block that was kept.

    Parameters
    ----------
    kept : mapping
        Its values, the day as ISO 8601.

    Returns
    -------
    SheetHead
    """
    return SheetHead(**{**kept, "workshop": Workshop(**kept["workshop"]), "date": _day(kept["date"])})


def digest(kept: Mapping[str, Any]) -> str:
    """What names a frozen sheet and no other.

    Parameters
    ----------
    kept : mapping
        Plain values, names in any order.

    Returns
    -------
    str
        SHA-256 in hexadecimal.
    """
    return hashlib.sha256(json.dumps(kept, sort_keys=True, separators=(",", ":")).encode()).hexdigest()


def _iso(value: object) -> str:
    assert isinstance(value, datetime.date)
    return value.isoformat()


def _day(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)
