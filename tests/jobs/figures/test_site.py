"""Days of a site in a plan: nothing is delivered or stood up outside them, whoever makes the plan."""

import datetime
from random import Random

from jobs.figures.activities import DELIVERY, to_plan
from jobs.figures.plan.problem import Problem, Resource
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.result import LATENESS
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.solving import solve
from jobs.figures.site import Promise
from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import CommissionToDo, StageToDo, StepToDo
from jobs.figures.workdays import PERIODS, workdays

MONDAY = datetime.date(2026, 5, 4)
DAY = datetime.timedelta(days=1)
DAYS = workdays(MONDAY, weekdays=range(5), hours=7.5, off=(), weeks=40)


def test_a_promise_is_kept_by_the_first_of_its_last_days() -> None:
    needed, until = MONDAY + 10 * DAY, MONDAY + 8 * DAY
    assert Promise(needed, None, until).last_day == Promise(until, None, needed).last_day == until
    assert Promise().due(DAYS) is None
    # Tuesday of the week after next ends with the twenty-eighth period.
    assert Promise(needed_by=until).due(DAYS) == 7 * PERIODS


def test_days_of_a_site_are_counted_in_working_periods() -> None:
    saturday = MONDAY + 5 * DAY
    site = Promise(site_from=saturday, shut=(saturday, saturday + 3 * DAY)).site(DAYS)
    assert site.opens == 5 * PERIODS, "nobody works on the Saturday, so it opens with the Monday"
    assert [(away.start, away.end) for away in site.shut] == [(6 * PERIODS, 7 * PERIODS)]
    assert Promise(site_from=MONDAY - 9 * DAY).site(DAYS).opens == 0


def on_the_road(seed: int) -> tuple[Problem, list[Promise]]:
    """Commissions with a crate to pack and something to stand up, with windows by chance."""
    chance = Random(seed)  # noqa: S311 - the same in every run
    promises, planned = [], []
    for number in range(chance.randint(1, 4)):
        first = MONDAY + chance.randint(0, 20) * DAY
        last = first + chance.randint(0, 9) * DAY
        shut = tuple(first + ahead * DAY for ahead in range((last - first).days) if chance.random() < 0.3)
        promises.append(Promise(last + chance.randint(0, 5) * DAY, first, last, shut))
        planned.append(to_plan(_commission(chance, number, promises[-1]), 1.5, PERIODS, {"crate": 2, "install": 2}))
    activities = tuple(part.activity for each in planned for part in each.parts)
    people = (Resource("crate", 1), Resource("install", 2))
    return (
        Problem(
            DAYS.calendar,
            (*people, *(place for each in planned for place in each.places)),
            activities,
            tuple(stay for each in planned for stay in each.stays),
            tuple(each.commission for each in planned),
        ),
        promises,
    )


def _commission(chance: Random, number: int, promise: Promise) -> CommissionToDo:
    def stage(key: str, position: int, crew: int) -> StageToDo:
        likely = chance.choice((2.0, 6.0, 13.0))
        hours = ThreePoint(likely, likely, likely)
        return StageToDo(f"{number}{key}", key, key, "", position, "passed", hours, (StepToDo(1, key),), crew=crew)

    stages = (stage("crate", 1, 1), stage("install", 2, 2))
    return CommissionToDo(
        f"{number}", "", stages, promise.due(DAYS), is_delivered=True, site=promise.site(DAYS), promise=promise
    )


def worked_days(start: int, end: int) -> set[datetime.date]:
    return {DAYS.day_of(period) for period in range(start, end)}


def test_no_plan_delivers_or_stands_up_on_a_day_on_which_the_site_takes_nothing() -> None:
    waited = 0
    for seed in range(120):
        problem, promises = on_the_road(seed)
        plans = [serial_plan(problem), *([solve(problem, seconds=5)] if seed < 20 else [])]
        for plan in plans:
            assert breaches(problem, plan) == (), seed
            for number, promise in enumerate(promises):
                on_site = [f"{number}/{DELIVERY}", *(name for name in plan.starts if f"{number}install" in name)]
                days = {day for name in on_site for day in worked_days(plan.starts[name], plan.ends[name])}
                assert promise.site_from is not None
                assert min(days) >= promise.site_from, seed
                assert not days & set(promise.shut), seed
                # What is stood up after the last day is late, by the working days from there on.
                if promise.last_day and max(days) > promise.last_day:
                    assert plan.goal(LATENESS).value > 0, seed
                waited += plan.starts[f"{number}/{DELIVERY}"] == promise.site(DAYS).opens
    assert waited > 100


def test_the_checker_finds_what_stands_on_a_shut_day_or_before_the_first() -> None:
    problem, promises = on_the_road(3)
    plan = serial_plan(problem)
    shut = next(resource for resource in problem.resources if resource.away)
    own = f"{shut.id.removeprefix('site ')}/{DELIVERY}"
    for start in (shut.away[0].start, problem.by_id[own].release - 1):
        moved = type(plan)({**plan.starts, own: start}, {**plan.ends, own: start + PERIODS}, plan.goals, plan.method)
        assert any(shut.id in said or "before it may" in said for said in breaches(problem, moved))
    assert len(promises) == len(problem.commissions)
