"""Sheets that go to a commissioner, kept as plain values: what they have in common, and the digest that names one."""

import datetime
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from jobs.figures.sheet import SheetHead, Workshop


@dataclass(frozen=True, slots=True)
class ShownPhoto:
    """A photo by its digest, what it shows, and the day it was kept."""

    sha256: str
    caption: str
    on: datetime.date


def sealed(sheet: Any) -> dict[str, Any]:
    """A sheet as plain values that JSON keeps.

    Parameters
    ----------
    sheet : dataclass
        Of texts, numbers, days and tuples of them.

    Returns
    -------
    dict
        Days as ISO 8601, tuples as lists.
    """
    kept: dict[str, Any] = json.loads(json.dumps(asdict(sheet), default=_iso))
    return kept


def digest(kept: Mapping[str, Any]) -> str:
    """What names a sealed sheet and no other.

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


def head_of(kept: Mapping[str, Any]) -> SheetHead:
    """The title block of a sealed sheet.

    Parameters
    ----------
    kept : mapping

    Returns
    -------
    SheetHead
    """
    return SheetHead(**{**kept, "workshop": Workshop(**kept["workshop"]), "date": day_of(kept["date"])})


def photos_of(kept: Sequence[Mapping[str, Any]]) -> tuple[ShownPhoto, ...]:
    """The photos of a sealed sheet.

    Parameters
    ----------
    kept : sequence of mapping

    Returns
    -------
    tuple of ShownPhoto
    """
    return tuple(ShownPhoto(**{**photo, "on": day_of(photo["on"])}) for photo in kept)


def day_of(text: str) -> datetime.date:
    """A day of a sealed sheet.

    Parameters
    ----------
    text : str
        ISO 8601.

    Returns
    -------
    datetime.date
    """
    return datetime.date.fromisoformat(text)


def _iso(value: object) -> str:
    assert isinstance(value, datetime.date)
    return value.isoformat()
