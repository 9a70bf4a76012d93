"""Hours on Six Acorns over nine weeks, by the people who worked on it. Invented."""

import datetime
import itertools
import uuid
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from django.utils import timezone

from jobs.models import Commission, HourEntry, Stage
from jobs.services.hours import QUARTER, book, take_back
from studio.accounts.models import User

_KEYS = uuid.UUID("0c0d7f5e-55c2-5a5b-8a5e-6d1d4b1f2a90")
WEEKEND = (5, 6)


@dataclass(frozen=True, slots=True)
class Worked:
    """One stage: from so many days back to so many, by whom, and what share of the hours allowed it took."""

    section: str
    key: str
    begun: int
    last: int
    share: Fraction
    crew: tuple[str, ...]


WORK = (
    Worked("Nut", "pattern", 54, 46, Fraction(96, 100), ("ines", "senka")),
    Worked("Cup", "pattern", 52, 43, Fraction(104, 100), ("jory",)),
    Worked("Nut", "mould", 45, 33, Fraction(122, 100), ("senka", "bram")),
    Worked("Cup", "mould", 41, 29, Fraction(98, 100), ("bram", "jory")),
    Worked("Nut", "cast", 33, 24, Fraction(113, 100), ("ines", "jory")),
    Worked("Nut", "metalwork", 34, 26, Fraction(108, 100), ("bram", "jory")),
    Worked("Nut", "finish", 24, 4, Fraction(146, 100), ("senka", "ines")),
    Worked("Cup", "mould", 12, 0, Fraction(41, 100), ("bram",)),
    Worked("Nut", "crate", 6, 0, Fraction(35, 100), ("jory",)),
    Worked("Cup", "cast", 26, 0, Fraction(38, 100), ("ines",)),
)


def book_acorns(commission: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """Everything that was booked, and one entry put right at once that was booked on the wrong stage."""
    last = book_stages(commission, WORK, people, on)[-1]
    cast = commission.stages.select_related("section", "commission").get(section__name="Nut", key="cast")
    wrong = _entry(last.person, cast, last.work_date, 2 * QUARTER, "wrong")
    take_back(by=last.person, entry=wrong, key=uuid.uuid5(_KEYS, f"{wrong.pk} put right"))


def book_stages(
    commission: Commission, work: Iterable[Worked], people: Mapping[str, User], on: datetime.date
) -> list[HourEntry]:
    """Book it through the service, each day as if on its evening."""
    own = commission.stages.select_related("section", "commission")
    stages = {(stage.section.name, stage.key): stage for stage in own if stage.section}
    return [
        entry
        for number, worked in enumerate(work)
        for entry in _book(number, worked, stages[worked.section, worked.key], people, on)
    ]


def _book(
    number: int, worked: Worked, stage: Stage, people: Mapping[str, User], on: datetime.date
) -> Iterator[HourEntry]:
    """Share the quarters out over the working days and the crew, the first days taking what does not divide."""
    days = [on - datetime.timedelta(days=back) for back in range(worked.begun, worked.last - 1, -1)]
    days = [day for day in days if day.weekday() not in WEEKEND] or [on]
    slots = list(itertools.product(days, worked.crew))
    quarters = int(stage.allowed_minutes * worked.share / QUARTER)
    each, over = divmod(quarters, len(slots))
    for place, (day, name) in enumerate(slots):
        share = each + (1 if place < over else 0)
        if share:
            yield _entry(people[name], stage, day, share * QUARTER, f"{number} {place}")


def _entry(person: User, stage: Stage, day: datetime.date, minutes: int, key: str) -> HourEntry:
    evening = timezone.make_aware(datetime.datetime.combine(day, datetime.time(17)))
    return book(
        by=person,
        person=person,
        stage=stage,
        work_date=day,
        minutes=minutes,
        key=uuid.uuid5(_KEYS, f"{stage.pk} {key}"),
        at=evening,
    )
