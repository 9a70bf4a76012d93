"""The hand-over record as values: what stays with the piece for its life, taken from what was really done.

No cost, no hour and no maker has a place here.
"""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from jobs.figures.sealed import ShownPhoto, day_of, head_of, photos_of
from jobs.figures.sheet import SheetHead
from materials.estimator.ranges import within

# The 28th is in every month.
LAST_SURE_DAY = 28
POINTS = ("mass", "balance", "lifting", "fixings", "paint", "care", "repairs", "cautions", "changes")


@dataclass(frozen=True, slots=True)
class MadeSection:
    """One section: facts as pairs of topic and sentence, and the days on which its stages passed."""

    name: str
    facts: tuple[tuple[str, str], ...]
    passed: tuple[tuple[str, datetime.date], ...]


@dataclass(frozen=True, slots=True)
class UsedBatch:
    """A batch of a material that is in the piece, and the stages that it went into."""

    item: str
    batch: str
    used_in: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GivenApproval:
    """A sign-off that was approved; ``sha256`` names the sheet."""

    number: str
    kind: str
    answer: str
    by: str
    on: datetime.date
    sha256: str


@dataclass(frozen=True, slots=True)
class HandOverSheet:
    """One version of the record, ready to be shown and printed.

    Attributes
    ----------
    head : SheetHead
    commissioner, place, handed_to : str
    handed_on : datetime.date
    sections : tuple of MadeSection
    batches : tuple of UsedBatch
    approvals : tuple of GivenApproval
    changes : tuple of str
        Variations that were accepted, a sentence each.
    mass, balance, lifting, fixings, paint, care, repairs, cautions : tuple of str
        One point each; empty where nothing is known.
    inspect_months : int
        From one inspection to the next [month].
    photos : tuple of ShownPhoto
    drawing_svg : str
        Front and side; "" for none.
    """

    head: SheetHead
    commissioner: str
    place: str
    handed_to: str
    handed_on: datetime.date
    sections: tuple[MadeSection, ...]
    batches: tuple[UsedBatch, ...]
    approvals: tuple[GivenApproval, ...]
    changes: tuple[str, ...]
    mass: tuple[str, ...]
    balance: tuple[str, ...]
    lifting: tuple[str, ...]
    fixings: tuple[str, ...]
    paint: tuple[str, ...]
    care: tuple[str, ...]
    inspect_months: int
    repairs: tuple[str, ...]
    cautions: tuple[str, ...]
    photos: tuple[ShownPhoto, ...]
    drawing_svg: str


def thawed_hand_over(kept: Mapping[str, Any]) -> HandOverSheet:
    """The record that was sealed.

    Parameters
    ----------
    kept : mapping
        As ``sealed`` gave it.

    Returns
    -------
    HandOverSheet
        Equal to the one that was sealed.
    """
    lists = {name: tuple(kept[name]) for name in POINTS}
    return HandOverSheet(
        **{
            **kept,
            **lists,
            "head": head_of(kept["head"]),
            "handed_on": day_of(kept["handed_on"]),
            "sections": tuple(_section(each) for each in kept["sections"]),
            "batches": tuple(UsedBatch(**{**each, "used_in": tuple(each["used_in"])}) for each in kept["batches"]),
            "approvals": tuple(GivenApproval(**{**each, "on": day_of(each["on"])}) for each in kept["approvals"]),
            "photos": photos_of(kept["photos"]),
        }
    )


def inspection_due(handed_on: datetime.date, inspected: Iterable[datetime.date], months: int) -> datetime.date:
    """The day by which a piece is to be looked over again.

    Parameters
    ----------
    handed_on : datetime.date
    inspected : iterable of datetime.date
        When it was looked over since.
    months : int
        From one inspection to the next [month].

    Returns
    -------
    datetime.date
        So many calendar months after the last of them, never later in its month than the 28th.

    Raises
    ------
    OutOfRange
        When there are no months, or more than ten years.
    """
    within("months between inspections", months, "months", 1, 120)
    last = max([handed_on, *inspected])
    years, month = divmod(last.month - 1 + months, 12)
    return last.replace(year=last.year + years, month=month + 1, day=min(last.day, LAST_SURE_DAY))


def _section(kept: Mapping[str, Any]) -> MadeSection:
    facts = tuple((topic, sentence) for topic, sentence in kept["facts"])
    return MadeSection(kept["name"], facts, tuple((stage, day_of(on)) for stage, on in kept["passed"]))
