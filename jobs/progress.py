"""Where a commission stands, for who ordered it.

Everything here is chosen to be told: stages and their states, holds, photos that
were shown, what the studio published. No hours, no cost, no name of a maker, no
reason that somebody gave, and no firm outside is read, so that none can slip out.
"""

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from django.utils import timezone

from jobs.asked import Asked, put_before
from jobs.board import HOLD, WHOLE, reached, state_of
from jobs.figures.moments import day_words
from jobs.models import Commission, Photo, Publication, SentOutWork, Stage, StageMove, StageState
from jobs.queries.stages import out_of_the_house, stages_of
from materials.drawing import HATCHED_STAGES

LONG_AGO = datetime.timedelta(days=90)
_HAPPENED = {
    StageState.IN_HAND: "begun",
    StageState.PASSED: "passed",
    StageState.REOPENED: "taken in hand again",
}


@dataclass(frozen=True, slots=True)
class Cell:
    """One stage of one section."""

    stage: str
    key: str
    state: str
    words: str


@dataclass(frozen=True, slots=True)
class Row:
    """A section, or the whole, with a cell for each column; None where it has no such stage."""

    name: str
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One stage over all sections, as the strip shows it."""

    name: str
    hatch: str
    state: str
    words: str


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, in words."""

    at: datetime.datetime
    words: str

    @property
    def on(self) -> datetime.date:
        """The day, where the studio is."""
        return timezone.localdate(self.at)


@dataclass(frozen=True, slots=True)
class Progress:
    """Everything that a progress page tells."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    strip: tuple[Part, ...]
    waits: tuple[str, ...]
    asked: tuple[Asked, ...]
    news: tuple[Event, ...]
    earlier: tuple[Event, ...]
    photos: tuple[Photo, ...]
    published: Publication | None
    reached: Mapping[int, str] = field(default_factory=dict)


def progress_of(commission: Commission, *, since: datetime.datetime | None, now: datetime.datetime) -> Progress:
    """Where it stands; ``since`` is when its reader last looked, and what came after it is news."""
    stages = list(stages_of([commission]))
    photos = tuple(commission.photos.filter(for_commissioner=True).select_related("stage__section"))
    tellings = list(commission.publications.all())
    asked = put_before([commission], timezone.localdate(now))
    events = [*_moved(commission), *_shown(photos), *_told(tellings), *_asked(asked)]
    events.sort(key=lambda event: event.at, reverse=True)
    recent = [event for event in events if event.at > now - LONG_AGO]
    columns = _columns(stages)
    by_section: dict[int | None, list[Stage]] = {}
    for stage in stages:
        by_section.setdefault(stage.section_id, []).append(stage)
    if None in by_section:
        # What concerns the whole comes last, wherever the database puts it.
        by_section[None] = by_section.pop(None)
    return Progress(
        columns=tuple(columns.values()),
        rows=tuple(_row(own, columns, now) for own in by_section.values()),
        strip=tuple(
            _part(key, name, [stage for stage in stages if stage.key == key], now) for key, name in columns.items()
        ),
        waits=(*_held(stages, now), *_away(out_of_the_house([commission]))),
        asked=tuple(each for each in asked if each.is_awaited),
        news=tuple(event for event in recent if since is not None and event.at > since),
        earlier=tuple(event for event in recent if since is None or event.at <= since),
        photos=photos,
        published=tellings[0] if tellings else None,
        reached={key: hatch for key, own in by_section.items() if key is not None and (hatch := reached(own))},
    )


def _columns(stages: Sequence[Stage]) -> dict[str, str]:
    ordered = sorted(stages, key=lambda stage: (stage.position, stage.pk))
    return {stage.key: stage.name for stage in ordered}


def _row(stages: Sequence[Stage], columns: Mapping[str, str], now: datetime.datetime) -> Row:
    cells = {stage.key: _cell(stage, now) for stage in stages}
    return Row(_place(stages[0]), tuple(cells.get(key) for key in columns))


def _cell(stage: Stage, now: datetime.datetime) -> Cell:
    state, words, _ = state_of(stage, "", now)
    if state == StageState.REOPENED:
        state, words = StageState.IN_HAND, "in hand again"
    elif state == StageState.READY:
        words = "awaits your approval" if stage.lacks_sign_off else "being checked"
    return Cell(stage.name, stage.key, state, words)


def _part(key: str, name: str, stages: Sequence[Stage], now: datetime.datetime) -> Part:
    state, words = _summed([_cell(stage, now) for stage in stages])
    return Part(name, key if key in HATCHED_STAGES else "", state, words)


def _summed(cells: Sequence[Cell]) -> tuple[str, str]:
    """The state of a stage over its sections, as a key and in words."""
    if len(cells) == 1:
        return cells[0].state, cells[0].words
    passed = sum(cell.state == StageState.PASSED for cell in cells)
    held = sum(cell.state == HOLD for cell in cells)
    begun = sum(cell.state != StageState.NOT_BEGUN for cell in cells)
    if passed == len(cells):
        return StageState.PASSED, f"all {passed} passed"
    if not begun:
        return StageState.NOT_BEGUN, "not begun"
    counts = ((passed, "passed"), (held, "on hold"), (begun - passed - held, "in hand"))
    (first, word), *others = [(count, word) for count, word in counts if count]
    told = [f"{first} of {len(cells)} {word}", *(f"{count} {word}" for count, word in others)]
    return HOLD if held else StageState.IN_HAND, ", ".join(told)


def _place(stage: Stage) -> str:
    return stage.section.name if stage.section else WHOLE


def _named(stage: Stage) -> str:
    return f"{_place(stage)}, {stage.name.lower()}"


def _held(stages: Sequence[Stage], now: datetime.datetime) -> list[str]:
    held = [(stage, state_of(stage, "", now)) for stage in stages if stage.is_held(now)]
    return [
        f"{_named(stage)}: {words}, {note}" if note else f"{_named(stage)}: {words}" for stage, (_, words, note) in held
    ]


def _away(works: Iterable[SentOutWork]) -> list[str]:
    """Work that is out with a firm, which is not named."""
    gone = [work for work in works if work.out_on]
    return [
        f"{_named(work.stage) if work.stage else WHOLE}: part of it is out for work done elsewhere"
        + (f", back by {day_words(work.due_back)}" if work.due_back else "")
        for work in gone
    ]


def _asked(asked: Iterable[Asked]) -> Iterator[Event]:
    for each in asked:
        yield Event(each.sent_at, f"{each.what}: put before you")
        if each.answered_at is not None:
            yield Event(each.answered_at, f"{each.what}: {each.came_of_it}")


def _moved(commission: Commission) -> list[Event]:
    moves = StageMove.objects.filter(stage__commission=commission).select_related("stage__section")
    return [
        Event(move.at, f"{_named(move.stage)}: {_HAPPENED[StageState(move.after)]}")
        for move in moves
        if move.after in _HAPPENED
    ]


def _shown(photos: Sequence[Photo]) -> list[Event]:
    return [Event(photo.shown_at or photo.at, f"A photo: {photo.caption or 'of the work'}") for photo in photos]


def _told(tellings: Sequence[Publication]) -> list[Event]:
    """Days that were told for the first time, or told otherwise than before."""
    found = []
    for told, before in zip(tellings, [*tellings[1:], None], strict=False):
        for name, now_on, was_on in (
            ("Promised", told.promised_on, before.promised_on if before else None),
            ("Expected", told.expected_on, before.expected_on if before else None),
        ):
            if now_on is not None and now_on != was_on:
                was = f", before that {day_words(was_on)}" if was_on else ""
                found.append(Event(told.at, f"{name}: {day_words(now_on)}{was}"))
    return found
