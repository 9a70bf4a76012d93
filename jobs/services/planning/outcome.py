"""What came of planning, as plain values that a page can read without working anything out."""

import datetime
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from jobs.figures.activities import DONE, Part
from jobs.figures.plan.chance import METHOD, RUNS, Finish, Spread, finishes
from jobs.figures.plan.result import LATENESS, Plan
from jobs.figures.plan.slack import latest_in_plan
from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import CommissionToDo
from jobs.figures.workdays import PERIODS
from jobs.models import Commission
from jobs.services.planning.chains import chain_words
from jobs.services.planning.problem import Asked
from jobs.services.planning.sharing import Sharing

SEED = 1


def inputs_of(asked: Asked) -> dict[str, Any]:
    """Everything a plan was worked out from."""
    return {
        "first day": asked.days.days[0].isoformat(),
        "days": [day.isoformat() for day in asked.days.days[: 7 * PERIODS]],
        "hours of a day": asked.days.hours,
        "resources": [asdict(each) for each in asked.problem.resources],
        "activities": [asdict(each) for each in asked.problem.activities],
        "stays": [asdict(each) for each in asked.problem.stays],
        "commissions": [asdict(each) for each in asked.problem.commissions],
        "published": dict(asked.problem.published),
    }


def digest_of(inputs: Mapping[str, Any]) -> str:
    """A mark that differs as soon as anything of it does."""
    return hashlib.sha256(json.dumps(inputs, sort_keys=True, default=str).encode()).hexdigest()


class Outcome:
    """One plan with what it was asked for."""

    def __init__(self, asked: Asked, plan: Plan, rows: Mapping[str, Commission]) -> None:
        self.asked, self.plan, self.commissions = asked, plan, rows
        self.problem, self.days = asked.problem, asked.days

    def kept(self) -> dict[str, Any]:
        """As plain values, without remedies."""
        latest = latest_in_plan(self.problem, self.plan)
        who = Sharing(self.asked, self.plan)
        people = who.people()
        chances = finishes(self.problem, self.plan, self._spreads(), seed=SEED, away=self.asked.weather)
        return {
            "method": self.plan.method,
            "simulation": f"{METHOD}, {RUNS} runs, seed {SEED}",
            "quality": self.quality(),
            "proven": self.plan.proven,
            "goals": [asdict(goal) for goal in self.plan.goals],
            "rows": [
                self._row(part, latest, people.get(part.activity.id, ()))
                for part in self.asked.parts.values()
                if part.key != DONE and (part.activity.duration or part.follows)
            ],
            "commissions": [self._finish(work, chances) for work in self.asked.commissions],
            "people": [hand.name for hand in self.asked.crew],
            "loads": who.loads(),
        }

    def quality(self) -> str:
        """How good the plan is known to be, in words."""
        if self.plan.method == "serial":
            return "worked out by a rule of thumb: what is needed first goes first, and no better one was looked for"
        if self.plan.proven:
            return "best possible"
        late = self.plan.goal(LATENESS)
        if not late.proven:
            days = -(-(late.value - late.bound) // PERIODS)
            return f"within {_days(days)} of lateness of the best possible, all commissions together"
        days = -(-(self.plan.makespan - self.plan.bound) // PERIODS)
        return f"within {_days(days)} of the best possible"

    def finish_of(self, commission: str) -> datetime.date:
        """The day on which all of a commission is done."""
        return self.days.last_day(self.plan.ends[f"{commission}/{DONE}"])

    def _row(self, part: Part, latest: Mapping[str, int], people: Sequence[str]) -> dict[str, Any]:
        own, clock = part.activity.id, self.days.calendar.clock
        is_done = part.activity.done
        start = 0 if is_done else clock[self.plan.starts[own]]
        end = 0 if is_done else self.days.calendar.over(self.plan.starts[own], self.plan.ends[own])
        until, follows = end, []
        for each in part.follows:
            until += each.minutes
            follows.append({"why": each.why, "until": self._at(until)})
        return {
            "id": own,
            "commission": part.commission,
            "section": part.section,
            "stage": part.stage,
            "key": part.key,
            "name": part.name,
            "what": part.what,
            "crew": part.people,
            "hours": round(part.hours.likely, 2),
            "start": self._at(start),
            "end": self._at(end),
            "latest": self._at(clock[latest[own]]) if own in latest else None,
            "follows": follows,
            "people": list(people),
            "is_done": is_done,
        }

    def _at(self, minute: int) -> str:
        return self.days.at(minute).isoformat(timespec="minutes")

    def _spreads(self) -> dict[str, Spread]:
        """How long each part may take; parts of one stage err together, for they are reckoned by the same norms."""
        return {
            own: Spread(self._periods(part), part.key, *part.stretch)
            for own, part in self.asked.parts.items()
            if part.people and part.hours.likely and not part.activity.done
        }

    def _periods(self, part: Part) -> ThreePoint:
        """How long all pieces take together of which one is planned here."""
        begins, ends = part.stretch
        return part.hours.share(1 / (part.people * self.asked.period_h * (ends - begins)))

    def _finish(self, work: CommissionToDo, chances: Mapping[str, Finish]) -> dict[str, Any]:
        row, chance = self.commissions[work.id], chances[work.id]
        return {
            "id": work.id,
            "number": row.number,
            "name": work.name,
            "needed_by": _said(work.promise.last_day),
            "site_from": _said(work.promise.site_from),
            "site_until": _said(work.promise.site_until),
            "finish": self.finish_of(work.id).isoformat(),
            "p50": self.days.last_day(chance.p50).isoformat(),
            "p80": self.days.last_day(chance.p80).isoformat(),
            "chain": chain_words(self.asked, self.plan, work.id),
            "remedies": None,
            "remedies_cut": False,
        }


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def _said(day: datetime.date | None) -> str | None:
    return day.isoformat() if day else None
