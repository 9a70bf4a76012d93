"""What may be supposed of a plan before anything is decided, and what each would cost."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any

from jobs.figures.site import Promise
from jobs.figures.todo import CAST, CommissionToDo, Outside, StageToDo, StepToDo
from jobs.figures.workdays import Workdays

PAINT_OUT, HIRE, SATURDAYS, SPLIT = "paint out", "hire", "saturdays", "split"
SECOND_MOULD, FIRST, ORDER, MOVE_DATE, TAKE_ON = "second mould", "first", "order", "move date", "take on"
WEIGHT_OF_FIRST = 20
SATURDAY = 5
_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Supposition:
    """One thing that is supposed; which of the rest counts depends on ``kind``.

    ``section`` is a section's name, ``day`` when it begins or the new date,
    ``site_from`` and ``site_until`` the new days of the site,
    ``people`` how many are hired, ``earlier`` and ``later`` two stages in their
    new order, ``estimate`` what the take-off of an enquiry gives, ``words`` how
    a page says it.
    """

    kind: str
    words: str
    commission: str = ""
    section: str = ""
    day: str = ""
    weeks: int = 0
    people: int = 0
    earlier: str = ""
    later: str = ""
    site_from: str = ""
    site_until: str = ""
    estimate: Mapping[str, Any] = field(default_factory=dict)

    def kept(self) -> dict[str, Any]:
        """As plain values."""
        return {each.name: getattr(self, each.name) for each in fields(self)}

    @property
    def first_day(self) -> datetime.date:
        """``day`` as a date."""
        return datetime.date.fromisoformat(self.day)

    @property
    def last_day(self) -> datetime.date:
        """The last day of its weeks."""
        return self.first_day + self.weeks * 7 * _DAY - _DAY


def supposition_of(kept: Mapping[str, Any]) -> Supposition:
    """A supposition that was kept."""
    return Supposition(**kept)


def saturdays(suppositions: Sequence[Supposition]) -> tuple[datetime.date, ...]:
    """The Saturdays that are worked."""
    return tuple(
        day
        for each in suppositions
        if each.kind == SATURDAYS
        for day in (each.first_day + number * _DAY for number in range(each.weeks * 7))
        if day.weekday() == SATURDAY
    )


def supposed(
    work: CommissionToDo, each: Supposition, *, spraying_days: float, days: Workdays, mould: StageToDo | None
) -> CommissionToDo:
    """A commission as it would be.

    ``days`` are those of the plan, ``mould`` what laying the section's mould up once more takes.
    """
    if each.commission != work.id:
        return work
    if each.kind == FIRST:
        return replace(work, weight=WEIGHT_OF_FIRST)
    if each.kind == MOVE_DATE:
        is_delivered = work.is_delivered or bool(each.site_from or each.site_until)
        return replace(work, is_delivered=is_delivered).promising(_moved(work.promise, each), days)
    if each.kind == PAINT_OUT:
        return replace(work, stages=tuple(_painted_out(stage, spraying_days) for stage in work.stages))
    if each.kind == SPLIT:
        return replace(work, stages=tuple(_apart(stage, each.section) for stage in work.stages))
    if each.kind == SECOND_MOULD and mould is not None:
        return replace(work, stages=(mould, *(_of_two_moulds(stage, mould) for stage in work.stages)))
    return work


def _moved(promise: Promise, each: Supposition) -> Promise:
    """What is promised with other days, as far as they are given."""

    def day(given: str, agreed: datetime.date | None) -> datetime.date | None:
        return datetime.date.fromisoformat(given) if given else agreed

    return replace(
        promise,
        needed_by=day(each.day, promise.needed_by),
        site_from=day(each.site_from, promise.site_from),
        site_until=day(each.site_until, promise.site_until),
    )


def _painted_out(stage: StageToDo, days: float) -> StageToDo:
    """A stage whose work in the booth a paint shop does, with what is left of its hours."""
    booth = [step for step in stage.steps if step.in_booth]
    if not booth:
        return stage
    last = max(step.position for step in booth)
    kept = [step for step in stage.steps if not step.in_booth]
    after = next((number for number, step in enumerate(kept) if step.position > last), None)
    out = Outside("painted by a paint shop", days)
    if after is None:
        kept.append(StepToDo(last + 1, "Looked over when it is back", sent=out))
    else:
        kept[after] = replace(kept[after], sent=out)
    share = (len(stage.steps) - len(booth)) / len(stage.steps)
    return replace(stage, steps=tuple(kept), hours=stage.hours.share(share))


def _apart(stage: StageToDo, section: str) -> StageToDo:
    return replace(stage, apart=True) if stage.key == CAST and stage.section == section else stage


def _of_two_moulds(stage: StageToDo, mould: StageToDo) -> StageToDo:
    if stage.key != CAST or stage.section != mould.section:
        return stage
    return replace(stage, moulds=stage.moulds + 1, second_mould=mould.id)
