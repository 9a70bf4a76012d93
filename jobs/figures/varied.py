"""Changes to what was agreed: a specification with changes made to its sections, and the stages they reach.

A change names a section, or all of them with "", what becomes other, and what
it becomes. The agreed scope is the accepted quote's specification with the
changes of every accepted variation made to it, in the order of acceptance.
"""

import copy
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any

from materials.estimator.errors import EstimatorError, UnknownChoice
from materials.estimator.lines import STAGES, TakeOff

ALL = ""
OMITTED, AS_DRAWN = "omitted", "as_drawn"

DONE_AGAIN = {
    "grade": ("finish",),
    "paint_system": ("finish",),
    "pulls": ("cast", "finish", "metalwork", "crate"),
    "cast_lay_up": ("cast", "finish"),
    "mould_lay_up": ("mould", "cast", "finish"),
    AS_DRAWN: STAGES,
    OMITTED: (),
}
"""What may be changed, with the stages that are usually done again for it where they are done already.

Common practice, no source."""

APPROVED_ANEW = {
    "grade": ("finish",),
    "paint_system": ("finish",),
    AS_DRAWN: ("pattern", "finish"),
}
"""What may be changed, with the stages whose approval is of what is no longer made.

Common practice, no source."""

Place = tuple[str, str]
"""Section and stage."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change to one section or, with "", to all.

    Attributes
    ----------
    section : str
    what : str
        A key of ``DONE_AGAIN``.
    value : str, int, dict or None
        A grade; the name of a lay-up or paint system, "" for the usual; casts from the mould; a whole section's
        specification; None for what is omitted.
    """

    section: str
    what: str
    value: Any

    def __post_init__(self) -> None:
        if self.what not in DONE_AGAIN:
            raise UnknownChoice("what is changed", self.what, tuple(DONE_AGAIN))

    def names(self, section: str) -> bool:
        """Whether it is a change to a section.

        Parameters
        ----------
        section : str

        Returns
        -------
        bool
        """
        return self.section in (ALL, section)


def changes_of(kept: Iterable[Mapping[str, Any]]) -> tuple[Change, ...]:
    """Changes as JSON keeps them.

    Parameters
    ----------
    kept : iterable of mapping
        Each with section, what and value.

    Returns
    -------
    tuple of Change
    """
    return tuple(Change(each["section"], each["what"], each["value"]) for each in kept)


def varied_spec(spec: Mapping[str, Any], changes: Iterable[Change]) -> dict[str, Any]:
    """A specification with changes made to it, one after the other.

    Parameters
    ----------
    spec : mapping
        As ``materials.specfile`` reads it; it is left as it is.
    changes : iterable of Change

    Returns
    -------
    dict

    Raises
    ------
    EstimatorError
        When a change names a section that is not there, or no section would be left.
    """
    sections = copy.deepcopy(list(spec["sections"]))
    for change in changes:
        sections = _changed(sections, change)
    if not sections:
        raise EstimatorError("sections", "none", "No section would be left; keep one at least.")
    return {**spec, "sections": sections}


def _changed(sections: list[dict[str, Any]], change: Change) -> list[dict[str, Any]]:
    meant = [section for section in sections if change.names(section["name"])]
    if change.what == AS_DRAWN:
        new = {**change.value, "name": change.section}
        return [new if section in meant else section for section in sections] if meant else [*sections, new]
    if not meant:
        there = ", ".join(section["name"] for section in sections)
        raise EstimatorError(
            "section", change.section, f"{change.section} is not in the agreed scope; it has {there or 'nothing'}."
        )
    if change.what == OMITTED:
        return [section for section in sections if section not in meant]
    for section in meant:
        inner, name = _KEPT_IN[change.what]
        _set(section.setdefault(inner, {}) if inner else section, name, change.value)
    return sections


def _set(fields: dict[str, Any], name: str, value: Any) -> None:
    """Set it or, with "", leave it to the usual."""
    fields.pop(name, None)
    if value != "":
        fields[name] = value


_KEPT_IN = {
    "grade": ("", "grade"),
    "paint_system": ("finish", "system"),
    "mould_lay_up": ("mould", "layup"),
    "cast_lay_up": ("cast", "layup"),
    "pulls": ("cast", "pulls"),
}
"""The part of a section's specification that holds it, and its name there."""


def places_that_differ(was: TakeOff, now: TakeOff) -> frozenset[Place]:
    """The stages that are worked otherwise.

    Parameters
    ----------
    was, now : TakeOff

    Returns
    -------
    frozenset of (str, str)
        Section and stage.
    """
    before, after = _needs(was), _needs(now)
    return frozenset(place for place in before.keys() | after.keys() if before.get(place) != after.get(place))


def usually_again(differing: Collection[Place], changes: Sequence[Change]) -> frozenset[Place]:
    """Of the stages that differ, those that are done again where they are done already.

    Parameters
    ----------
    differing : collection of (str, str)
        Section and stage.
    changes : sequence of Change

    Returns
    -------
    frozenset of (str, str)

    Notes
    -----
    Common practice, no source.
    """
    return frozenset(
        (section, stage)
        for section, stage in differing
        if any(change.names(section) and stage in DONE_AGAIN[change.what] for change in changes)
    )


def is_approved_anew(place: Place, changes: Iterable[Change]) -> bool:
    """Whether what was approved of a stage is no longer what is made.

    Parameters
    ----------
    place : (str, str)
        Section and stage.
    changes : iterable of Change

    Returns
    -------
    bool

    Notes
    -----
    Common practice, no source.
    """
    section, stage = place
    return any(change.names(section) and stage in APPROVED_ANEW.get(change.what, ()) for change in changes)


def with_done_work(now: TakeOff, was: TakeOff, done: Collection[Place]) -> TakeOff:
    """A take-off in which the work that is done stays as it was.

    Parameters
    ----------
    now, was : TakeOff
    done : collection of (str, str)
        Section and stage of the work that is done and is not done again.

    Returns
    -------
    TakeOff
        Of these stages as in ``was``, of all others as in ``now``.
    """
    return replace(
        now,
        lines=tuple(
            [line for line in now.lines if (line.section, line.stage) not in done]
            + [line for line in was.lines if (line.section, line.stage) in done]
        ),
        hours=tuple(
            [line for line in now.hours if (line.section, line.stage) not in done]
            + [line for line in was.hours if (line.section, line.stage) in done]
        ),
    )


def _needs(take_off: TakeOff) -> dict[Place, list[tuple[str, float]]]:
    """What each stage takes: materials and the likely hours of its steps."""
    found: dict[Place, list[tuple[str, float]]] = {}
    for line in take_off.lines:
        found.setdefault((line.section, line.stage), []).append((line.material, line.buy))
    for hours in take_off.hours:
        found.setdefault((hours.section, hours.stage), []).append((hours.step, hours.likely))
    return found


def days_longer(was_days: float, now_days: float) -> int:
    """By how many whole days a programme grows; a part of a day counts against it.

    Parameters
    ----------
    was_days, now_days : float
        Work and holds of the two programmes [day].

    Returns
    -------
    int
        Rounded up, so that 2.5 days less are 2 less [day].
    """
    return ceil(round(now_days - was_days, 6))
