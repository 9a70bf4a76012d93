"""A plan that was worked out, as values to read: its rows, commissions, weeks and people."""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from jobs.figures.activities import DONE, SIGN_OFF
from jobs.models import Plan

WHOLE = "Whole commission"


@dataclass(frozen=True, slots=True)
class After:
    """What follows a part and takes nobody: why, and until when."""

    why: str
    begins: datetime.datetime
    until: datetime.datetime

    @property
    def kind(self) -> str:
        """ "sign-off", "out" or "hold"."""
        return SIGN_OFF if self.why == SIGN_OFF else "hold"

    @property
    def over(self) -> datetime.datetime:
        """When it is over, up to the full hour."""
        full = self.until.replace(minute=0)
        return full if full == self.until else full + datetime.timedelta(hours=1)

    @property
    def words(self) -> str:
        """The reason as a sentence begins with it."""
        return "Sign-off awaited" if self.why == SIGN_OFF else f"{self.why[:1].upper()}{self.why[1:]}"


@dataclass(frozen=True, slots=True)
class Row:
    """One part of a stage in its place."""

    id: str
    commission: str
    section: str
    stage: str
    key: str
    name: str
    what: str
    crew: int
    hours: float
    start: datetime.datetime
    end: datetime.datetime
    latest: datetime.datetime | None
    follows: tuple[After, ...]
    people: tuple[str, ...]
    is_done: bool

    @property
    def last(self) -> datetime.datetime:
        """When all that follows it is over."""
        return self.follows[-1].until if self.follows else self.end

    @property
    def place(self) -> str:
        """Its section, or the whole commission."""
        return self.section or WHOLE

    @property
    def slack_days(self) -> int:
        """By how many days it may begin later without making anything late."""
        return max(0, (self.latest - self.start).days) if self.latest else 0

    @property
    def begins(self) -> datetime.datetime:
        """When it begins, to the half hour: nobody works by the minute."""
        return _half_hour(self.start)

    @property
    def ends(self) -> datetime.datetime:
        """When it ends, to the half hour."""
        return _half_hour(self.end)

    @property
    def who(self) -> str:
        """Who is to do it."""
        return ", ".join(self.people)

    @property
    def called(self) -> str:
        """The stage of its section, and which part of it."""
        part = "" if self.what == self.name else f": {self.what[:1].lower()}{self.what[1:]}"
        return f"{self.place}, {self.name.lower()}{part}"


@dataclass(frozen=True, slots=True)
class Task:
    """One part as a person reads it: of which commission, and with whom."""

    commission: str
    row: Row
    others: str


@dataclass(frozen=True, slots=True)
class Finish:
    """When a commission is done, and what sets that day."""

    id: str
    number: str
    name: str
    needed_by: datetime.date | None
    site_from: datetime.date | None
    site_until: datetime.date | None
    finish: datetime.date
    p50: datetime.date
    p80: datetime.date
    chain: tuple[str, ...]
    remedies: tuple[Mapping[str, Any], ...]
    is_tried: bool
    is_cut_off: bool

    @property
    def days_late(self) -> int:
        """Days after the day it is needed; 0 where it is not late."""
        return max(0, (self.finish - self.needed_by).days) if self.needed_by else 0

    @property
    def days_spare(self) -> int:
        """Days before the day it is needed."""
        return max(0, (self.needed_by - self.finish).days) if self.needed_by else 0

    @property
    def may_be_late(self) -> bool:
        """Whether one time in five it is later than it is needed, though the plan is not."""
        return bool(self.needed_by) and not self.days_late and self.p80 > self.needed_by  # type: ignore[operator]

    @property
    def remedy(self) -> Mapping[str, Any] | None:
        """The cheapest thing that mends its lateness, or else the one that gains most."""
        return self.remedies[0] if self.remedies else None


@dataclass(frozen=True, slots=True)
class Load:
    """One person's week: hours planned of the hours they are there."""

    person: str
    week: datetime.date
    planned: float
    there: float

    @property
    def state(self) -> str:
        """ "away", "full", "free" or "" for what lies between."""
        if not self.there:
            return "away"
        share = self.planned / self.there
        return "full" if share >= 0.95 else "free" if share < 0.5 else ""


class PlanSheet:
    """Everything a page shows of a plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.result: Mapping[str, Any] = plan.result

    @cached_property
    def rows(self) -> list[Row]:
        """Every part in the order in which it begins."""
        return sorted((_row(kept) for kept in self.result["rows"]), key=lambda row: (row.start, row.end, row.id))

    @cached_property
    def finishes(self) -> list[Finish]:
        """Every commission, what is late first."""
        found = [_finish(kept) for kept in self.result["commissions"]]
        return sorted(found, key=lambda each: (-each.days_late, each.finish, each.number))

    @property
    def late(self) -> list[Finish]:
        """The commissions that are late, and those that may be."""
        return [each for each in self.finishes if each.days_late or each.may_be_late]

    def finish_of(self, commission: int) -> Finish | None:
        """One commission's; None where the plan does not hold it."""
        return next((each for each in self.finishes if each.id == str(commission)), None)

    def table_of(self, commission: int | str) -> list[tuple[str, list[Row]]]:
        """The same by section, the pieces of one part taken together."""
        return [(name, _joined(rows)) for name, rows in sections_of(self.rows_of(commission))]

    def rows_of(self, commission: int | str) -> list[Row]:
        """One commission's parts, without the event of its being done."""
        return [row for row in self.rows if row.commission == str(commission) and row.key != DONE]

    @cached_property
    def loads(self) -> list[Load]:
        """Weeks of people."""
        return [
            Load(kept["person"], datetime.date.fromisoformat(kept["week"]), kept["planned"], kept["there"])
            for kept in self.result["loads"]
        ]

    def load_table(self, weeks: int) -> tuple[list[datetime.date], list[tuple[str, list[Load]]]]:
        """The weeks ahead, and each person's loads in them."""
        shown = sorted({load.week for load in self.loads})[:weeks]
        people: dict[str, list[Load]] = {}
        for load in self.loads:
            if load.week in shown:
                people.setdefault(load.person, []).append(load)
        return shown, list(people.items())

    def week_of(self, first: datetime.date) -> list[tuple[str, list[Task]]]:
        """Who does what in a week, by person, whoever has nothing planned too."""
        return [(person, self.tasks_of(person, first, 7)) for person in self.result["people"]]

    def tasks_of(self, person: str, first: datetime.date, days: int) -> list[Task]:
        """What one person does from a day on for some days."""
        after = first + datetime.timedelta(days=days)
        own = [
            row for row in self.rows if person in row.people and row.start.date() < after and row.end.date() >= first
        ]
        return [self._told(row, person) for row in _joined(own)]

    def _told(self, row: Row, person: str) -> Task:
        others = tuple(other for other in row.people if other != person)
        return Task(self.titles[row.commission], row, ", ".join(others))

    @cached_property
    def titles(self) -> dict[str, str]:
        """What each commission is called."""
        return {each.id: each.name for each in self.finishes}

    @property
    def quality(self) -> str:
        """How good the plan is known to be."""
        return str(self.result["quality"])


def _joined(rows: Iterable[Row]) -> list[Row]:
    found: list[Row] = []
    for row in rows:
        same = next((each for each in found if (each.stage, each.what) == (row.stage, row.what)), None)
        if same is None or row.is_done:
            found.append(row)
            continue
        people = tuple(dict.fromkeys((*same.people, *row.people)))
        both = replace(same, hours=same.hours + row.hours, end=row.end, follows=row.follows, people=people)
        found[found.index(same)] = both
    return found


def _half_hour(moment: datetime.datetime) -> datetime.datetime:
    half = datetime.timedelta(minutes=30)
    past = datetime.timedelta(minutes=moment.minute)
    return moment - past + round(past / half) * half


def _moment(kept: str) -> datetime.datetime:
    return datetime.datetime.fromisoformat(kept)


def _row(kept: Mapping[str, Any]) -> Row:
    begins, follows = _moment(kept["end"]), []
    for each in kept["follows"]:
        until = _moment(each["until"])
        follows.append(After(each["why"], begins, until))
        begins = until
    return Row(
        **{name: kept[name] for name in ("id", "commission", "section", "stage", "key", "name", "what", "crew")},
        hours=kept["hours"],
        start=_moment(kept["start"]),
        end=_moment(kept["end"]),
        latest=_moment(kept["latest"]) if kept["latest"] else None,
        follows=tuple(follows),
        people=tuple(kept["people"]),
        is_done=kept["is_done"],
    )


def _finish(kept: Mapping[str, Any]) -> Finish:
    day = datetime.date.fromisoformat
    # Plans of before had no days of the site.
    agreed = [kept.get(name) for name in ("needed_by", "site_from", "site_until")]
    needed_by, site_from, site_until = (day(said) if said else None for said in agreed)
    return Finish(
        **{name: kept[name] for name in ("id", "number", "name")},
        needed_by=needed_by,
        site_from=site_from,
        site_until=site_until,
        finish=day(kept["finish"]),
        p50=day(kept["p50"]),
        p80=day(kept["p80"]),
        chain=tuple(kept["chain"]),
        remedies=tuple({**each, "day": day(each["finish"])} for each in kept["remedies"] or ()),
        is_tried=kept["remedies"] is not None,
        is_cut_off=kept.get("remedies_cut", False),
    )


def sections_of(rows: Iterable[Row]) -> list[tuple[str, list[Row]]]:
    """Rows by section, the whole commission last."""
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row.section, []).append(row)
    whole = found.pop("", None)
    return [*found.items(), *([(WHOLE, whole)] if whole else [])]
