"""What may be supposed of a plan before anything is decided, and what each would cost."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from jobs.figures.todo import CAST, CommissionToDo, Outside, StageToDo, StepToDo

PAINT_OUT, HIRE, SATURDAYS = "paint out", "hire", "saturdays"
SECOND_MOULD, FIRST, ORDER, MOVE_DATE, TAKE_ON = "second mould", "first", "order", "move date", "take on"
WEIGHT_OF_FIRST = 20
SATURDAY = 5
_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Supposition:
    """One thing that is supposed; which of the rest counts depends on ``kind``.

    ``section`` is a section's name, ``day`` when it begins or the new date,
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
    estimate: Mapping[str, Any] = field(default_factory=dict)

    def kept(self) -> dict[str, Any]:
        """As plain values."""
        names = ("kind", "words", "commission", "section", "day", "weeks", "people", "earlier", "later", "estimate")
        return {name: getattr(self, name) for name in names}

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
    work: CommissionToDo, each: Supposition, *, spraying_days: float, due: int | None, mould: StageToDo | None
) -> CommissionToDo:
    """A commission as it would be.

    ``due`` is the period of the supposition's day, ``mould`` what laying the section's mould up once more takes.
    """
    if each.commission != work.id:
        return work
    if each.kind == FIRST:
        return replace(work, weight=WEIGHT_OF_FIRST)
    if each.kind == MOVE_DATE:
        return replace(work, due=due)
    if each.kind == PAINT_OUT:
        return replace(work, stages=tuple(_painted_out(stage, spraying_days) for stage in work.stages))
    if each.kind == SECOND_MOULD and mould is not None:
        return replace(work, stages=(mould, *(_of_two_moulds(stage, mould) for stage in work.stages)))
    return work


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


def _of_two_moulds(stage: StageToDo, mould: StageToDo) -> StageToDo:
    if stage.key != CAST or stage.section != mould.section:
        return stage
    return replace(stage, moulds=stage.moulds + 1, second_mould=mould.id)
