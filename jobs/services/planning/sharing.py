"""Who does what of a plan, and how full each person's weeks are."""

import datetime
from collections.abc import Mapping
from typing import Any

from jobs.figures.crewing import Job, share_out
from jobs.figures.plan.result import Plan
from jobs.figures.workdays import PERIODS
from jobs.services.planning.problem import Asked

WEEKS = 12
"""How far ahead weeks are told; beyond it a plan of who is where would only pretend."""


class Sharing:
    """The work of a plan shared out among the people."""

    def __init__(self, asked: Asked, plan: Plan) -> None:
        self.asked = asked
        jobs = [
            Job(own, part.stage, part.key, plan.starts[own], plan.ends[own], part.people)
            for own, part in asked.parts.items()
            if own in plan.starts and part.people and part.activity.duration
        ]
        self.by_period = share_out(jobs, asked.crew)
        self.names = {hand.id: hand.name for hand in asked.crew}

    def people(self) -> Mapping[str, list[str]]:
        """For each part everybody who is at it for some of its time, as they come to it."""
        found: dict[str, list[str]] = {}
        for shared in self.by_period.values():
            for person, own in sorted(shared.items()):
                names = found.setdefault(own, [])
                if self.names[person] not in names:
                    names.append(self.names[person])
        return found

    def loads(self) -> list[dict[str, Any]]:
        """Each person's weeks: hours planned, and hours they are there, as booked hours count."""
        hour = self.asked.days.hours / PERIODS
        planned: dict[tuple[str, datetime.date], float] = {}
        there: dict[tuple[str, datetime.date], float] = {}
        for period in range(WEEKS * 7 * PERIODS):
            day = self.asked.days.day_of(period)
            week = day - datetime.timedelta(days=day.weekday())
            if (week - self.asked.days.days[0]).days >= WEEKS * 7:
                break
            at_work = self.by_period.get(period, {})
            for hand in self.asked.crew:
                key = (hand.name, week)
                there[key] = there.get(key, 0.0) + (hour if hand.is_there(period) else 0.0)
                planned[key] = planned.get(key, 0.0) + (hour if hand.id in at_work else 0.0)
        return [
            {"person": name, "week": week.isoformat(), "planned": planned[name, week], "there": hours}
            for (name, week), hours in there.items()
        ]
