"""Winter lengthens outdoor work by when it falls, in every plan there is. Common practice, no source."""

import datetime
from random import Random

import pytest

from jobs.figures.activities import to_plan
from jobs.figures.plan.problem import Problem, Resource
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.result import Plan
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.solving import solve
from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import CommissionToDo, StageToDo, StepToDo
from jobs.figures.weather import OUTDOORS, outdoors
from jobs.figures.workdays import PERIODS, workdays

PERIOD_H = 1.5


def outside(first: datetime.date, periods: int, more: float) -> Problem:
    """So much work outdoors by one person, and nothing else, from a day on."""
    days = workdays(first, weekdays=range(5), hours=7.5, off=(), weeks=60)
    hours = ThreePoint(*(periods * PERIOD_H,) * 3)
    stage = StageToDo("s1", "install", "Install", "", 1, "passed", hours, (StepToDo(1, "stood up"),), room=OUTDOORS)
    planned = to_plan(CommissionToDo("1", "", (stage,)), PERIOD_H, PERIODS, {"install": 1})
    return Problem(
        days.calendar,
        (Resource("install", 1), outdoors(days, more, 1)),
        tuple(part.activity for part in planned.parts),
        planned.stays,
    )


@pytest.mark.parametrize(
    ("first", "more", "takes"),
    [
        # Ten whole days: as many in June, a quarter more in January, and more where the studio says so.
        (datetime.date(2027, 6, 7), 0.25, 40),
        (datetime.date(2027, 1, 11), 0.25, 50),
        (datetime.date(2027, 1, 11), 1.0, 80),
        (datetime.date(2027, 1, 11), 0.0, 40),
        # Of two weeks from the eighteenth of October the third begins with November.
        (datetime.date(2027, 10, 18), 0.25, 40),
        (datetime.date(2027, 10, 25), 0.25, 45),
    ],
)
def test_it_takes_so_much_longer_as_lies_in_winter(first: datetime.date, more: float, takes: int) -> None:
    found = serial_plan(outside(first, 40, more)).makespan
    assert found == pytest.approx(takes, abs=2), "a quarter of a day more or less at either end"


def test_what_is_lost_is_the_same_from_whichever_day_a_plan_begins() -> None:
    def lost(first: datetime.date) -> set[tuple[datetime.date, int]]:
        days = workdays(first, weekdays=range(5), hours=7.5, off=(), weeks=20)
        spans = outdoors(days, 0.25, 1).away
        return {(days.day_of(period), period % PERIODS) for away in spans for period in range(away.start, away.end)}

    monday, thursday = datetime.date(2026, 12, 7), datetime.date(2026, 12, 10)
    assert {each for each in lost(monday) if each[0] >= thursday} == {
        each for each in lost(thursday) if each[0] <= max(day for day, _ in lost(monday))
    }


def test_no_plan_works_outdoors_when_winter_stops_it() -> None:
    chance = Random(5)  # noqa: S311 - the same in every run
    longer = 0
    for number in range(60):
        first = datetime.date(2026, 9, 1) + datetime.timedelta(days=chance.randint(0, 300))
        problem = outside(first, chance.randint(1, 60), chance.choice((0.1, 0.25, 0.6)))
        serial = serial_plan(problem)
        plans: list[Plan] = [serial, *([solve(problem, seconds=5)] if number < 10 else [])]
        shut = problem.resources[1].away
        for plan in plans:
            assert breaches(problem, plan) == ()
            assert plan.makespan == serial.makespan, "one after the other there is one plan alone"
            for name, start in plan.starts.items():
                assert not any(away.start <= start < away.end for away in shut if problem.by_id[name].duration)
        work = sum(activity.duration for activity in problem.activities)
        longer += serial.makespan > work
        lost = shut[0].start
        moved = Plan({**serial.starts, "s1/1": lost}, {**serial.ends, "s1/1": lost + 1}, serial.goals, "")
        assert any(f"“{OUTDOORS}” has 1" in said for said in breaches(problem, moved))
    assert 20 < longer < 60
