"""What the bench page shows: tiles of stages to book on, people, the day's sum, the day that is empty."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, field

from jobs.models import Clock, Stage, StageState
from jobs.queries.hours import bookable_stages, crew, lately, minutes_on
from jobs.services.clocks import is_forgotten, quarter_marks
from jobs.services.hours import LONGEST, QUARTER, hours_text
from materials.drawing.hatches import HATCHED_STAGES
from studio.accounts.models import User

TILES_LATELY = 4
USUAL = (30, 60, 120, 240)
_FRACTIONS = {0: "", 15: "¼", 30: "½", 45: "¾"}


@dataclass(frozen=True, slots=True)
class Tile:
    """One stage to tap."""

    id: int
    section: str
    stage: str
    commission: str
    hatch: str
    state: str


@dataclass(frozen=True, slots=True)
class Group:
    """The tiles of one commission."""

    number: str
    title: str
    tiles: list[Tile] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Length:
    """A length of time to tap."""

    minutes: int
    text: str


@dataclass(frozen=True, slots=True)
class Running:
    """The clock that runs, and the quarter hours to choose from where it was forgotten."""

    clock: Clock
    so_far: str
    forgotten: bool
    marks: list[datetime.datetime]


@dataclass(frozen=True, slots=True)
class Bench:
    """Everything on the page besides the form's own values."""

    people: list[User]
    lately: dict[int, list[Tile]]
    groups: list[Group]
    minutes: dict[tuple[int, datetime.date], int]


def bench(days: Iterable[datetime.date], today: datetime.date) -> Bench:
    """Read it, in as many queries for five stages as for five hundred."""
    people = crew()
    groups: dict[str, Group] = {}
    tiles: dict[int, Tile] = {}
    for stage in bookable_stages():
        tile = tiles[stage.pk] = tile_of(stage)
        number = stage.commission.number
        groups.setdefault(number, Group(number, stage.commission.title)).tiles.append(tile)
    recent = {
        person: [tiles[stage] for stage in stages if stage in tiles]
        for person, stages in lately(people, today, TILES_LATELY).items()
    }
    return Bench(people, recent, list(groups.values()), minutes_on(set(days)))


def tile_of(stage: Stage) -> Tile:
    """A stage as a tile says it."""
    return Tile(
        id=stage.pk,
        section=stage.section.name if stage.section else "Whole",
        stage=stage.name.lower(),
        commission=stage.commission.title,
        hatch=stage.key if stage.key in HATCHED_STAGES else "",
        state="passed" if stage.state == StageState.PASSED else "",
    )


def length_text(minutes: int) -> str:
    """A length as its tile says it, "1¼ h"."""
    whole, rest = divmod(minutes, 60)
    return f"{whole or ''}{_FRACTIONS[rest]} h" if minutes else "0 h"


def usual_lengths() -> list[Length]:
    """The lengths that have a tile of their own."""
    return [Length(minutes, length_text(minutes)) for minutes in USUAL]


def every_length() -> list[Length]:
    """Every length that may be booked."""
    return [Length(minutes, length_text(minutes)) for minutes in range(QUARTER, LONGEST + 1, QUARTER)]


def running(clock: Clock | None, at: datetime.datetime) -> Running | None:
    """The clock as its panel shows it."""
    if clock is None:
        return None
    so_far = hours_text(int((at - clock.started_at).total_seconds()) // 60)
    forgotten = is_forgotten(clock, at)
    return Running(clock, so_far, forgotten, quarter_marks(clock, at) if forgotten else [])


def last_working_day(today: datetime.date, weekdays: list[int]) -> datetime.date | None:
    """The working day before today, or nothing where the studio names no weekday."""
    days = (today - datetime.timedelta(days=back) for back in range(1, 8))
    return next((day for day in days if day.weekday() in weekdays), None)
