"""What the document of a variation prints, and nothing else: no cost, no hour, no margin has a place here."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from jobs.figures.sheet import Commissioner, Price, SheetHead

CHANGED, ADDED, LEFT_OUT = "changed", "added", "left out"


@dataclass(frozen=True, slots=True)
class ScopeRow:
    """One thing that is said of a section, as it was and as it will be; "" where it is not said."""

    topic: str
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class ChangedSection:
    """A section that is changed, added or left out, with what is said otherwise of it."""

    name: str
    how: str
    rows: tuple[ScopeRow, ...]


@dataclass(frozen=True, slots=True)
class Agreed:
    """What was agreed before: the price with tax, minor units [dimensionless], and the day, if one is."""

    gross_minor: int
    due_by: datetime.date | None


@dataclass(frozen=True, slots=True)
class Said:
    """What the document and the page of a holder say alike besides the price.

    Attributes
    ----------
    sections : tuple of ChangedSection
    again : tuple of str
        Work that is done already and is done again.
    anew : tuple of str
        What was approved and has to be approved anew.
    before : Agreed
    """

    sections: tuple[ChangedSection, ...]
    again: tuple[str, ...]
    anew: tuple[str, ...]
    before: Agreed


@dataclass(frozen=True, slots=True)
class VariationSheet:
    """One variation, ready to be printed.

    Attributes
    ----------
    quote, title, raised_from : str
        Number of the accepted quote, what it is called, and who asked or what it was raised from; "" for the last if
        nothing is said.
    scope : tuple of str
        What changes, one point each.
    days : int
        By how much the day moves [day].
    """

    head: SheetHead
    commissioner: Commissioner
    quote: str
    title: str
    raised_from: str
    scope: tuple[str, ...]
    said: Said
    price: Price
    days: int
    valid_until: datetime.date


def kept_said(said: Said) -> dict[str, Any]:
    """What is said as plain values that JSON keeps.

    Parameters
    ----------
    said : Said

    Returns
    -------
    dict
        Which ``said_again`` reads.
    """
    return {
        "sections": [
            {"name": each.name, "how": each.how, "rows": [[row.topic, row.was, row.now] for row in each.rows]}
            for each in said.sections
        ],
        "again": list(said.again),
        "anew": list(said.anew),
        "gross_minor": said.before.gross_minor,
        "due_by": said.before.due_by.isoformat() if said.before.due_by else None,
    }


def said_again(kept: Mapping[str, Any]) -> Said:
    """What was kept.

    Parameters
    ----------
    kept : mapping
        As ``kept_said`` gave it, also after a passage through JSON.

    Returns
    -------
    Said
        Equal to what was kept.
    """
    due_by = kept["due_by"]
    return Said(
        sections=tuple(
            ChangedSection(each["name"], each["how"], tuple(ScopeRow(*row) for row in each["rows"]))
            for each in kept["sections"]
        ),
        again=tuple(kept["again"]),
        anew=tuple(kept["anew"]),
        before=Agreed(kept["gross_minor"], datetime.date.fromisoformat(due_by) if due_by else None),
    )


def moved_day(day: datetime.date | None, days: int) -> datetime.date | None:
    """The day after a variation.

    Parameters
    ----------
    day : date or None
        Before it; None where none is agreed.
    days : int
        By how much it moves [day].

    Returns
    -------
    date or None
    """
    return None if day is None else day + datetime.timedelta(days=days)


def scope_rows(was: Sequence[tuple[str, str]], now: Sequence[tuple[str, str]]) -> tuple[ScopeRow, ...]:
    """Set what is said of a section side by side, by its topics.

    Parameters
    ----------
    was, now : sequence of (str, str)
        Topic and sentence; none of either for a section that is added or left out.

    Returns
    -------
    tuple of ScopeRow
        Those that differ, in the order of ``now``, then of what is no longer said.
    """
    before, after = dict(was), dict(now)
    topics = [*after, *(topic for topic in before if topic not in after)]
    rows = [ScopeRow(topic, before.get(topic, ""), after.get(topic, "")) for topic in topics]
    return tuple(row for row in rows if row.was != row.now)
