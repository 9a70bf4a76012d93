"""The solver: its goals in their order, without its package, and stopped half-way."""

import sys
from dataclasses import replace

import pytest

from jobs.figures.plan.problem import Activity, After, Commission, Problem, Resource
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.result import FINISH, LATENESS, MOVES
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.solving import Progress, solve
from materials.estimator.errors import EstimatorError
from tests.jobs.figures.plan.made_up import DAY, weekly, workshop


def queue(**dues: int) -> Problem:
    """Commissions of one cast of four periods each, for one laminator."""
    activities = tuple(Activity(name, 4, {"laminators": 1}, commission=name) for name in dues)
    commissions = tuple(Commission(name, due) for name, due in dues.items())
    return Problem(weekly(28), (Resource("laminators", 1),), activities, commissions=commissions)


def test_the_earlier_due_goes_first() -> None:
    plan = solve(queue(pear=12, fish=8, horse=4), seconds=10)
    assert plan.starts == {"horse": 0, "fish": 4, "pear": 8}
    assert plan.goal(LATENESS).value == 0
    assert plan.proven


def test_what_weighs_more_is_not_the_one_that_is_late() -> None:
    problem = queue(pear=4, fish=4)
    heavy = replace(problem, commissions=(Commission("pear", 4), Commission("fish", 4, weight=5)))
    plan = solve(heavy, seconds=10)
    assert plan.starts == {"fish": 0, "pear": 4}
    assert (plan.goal(LATENESS).value, plan.goal(LATENESS).bound) == (4, 4)


def test_few_changes_come_before_an_early_finish_and_after_the_due_dates() -> None:
    published = {"pear": 4, "fish": 12, "horse": 20}
    relaxed = replace(queue(pear=40, fish=40, horse=40), published=published)
    plan = solve(relaxed, seconds=10)
    assert plan.starts == published
    assert plan.proven
    pressed = replace(queue(pear=40, fish=40, horse=8), published=published)
    plan = solve(pressed, seconds=10)
    # The horse takes the place of the pear or goes before it; the fish stays where it was published.
    assert plan.goal(LATENESS).value == 0
    assert plan.starts["horse"] <= 4
    assert plan.starts["fish"] == 12
    # The horse moves by 16, and makes the pear move by nothing or by no more than it must.
    assert (plan.goal(MOVES).value, plan.proven) == (20, True)


def test_without_its_package_there_is_a_serial_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ortools", None)
    problem = workshop(commissions=2, sections=3)
    plan = solve(problem, seconds=1)
    assert plan.method == "serial"
    assert breaches(problem, plan) == ()
    # In so small a queue a change of order finds what no plan is better than.
    assert solve(queue(pear=12, fish=8, horse=4), seconds=1).proven


def test_solving_tells_how_far_it_is_and_stops_when_asked() -> None:
    told: list[Progress] = []

    def once(progress: Progress) -> bool:
        told.append(progress)
        return False

    problem = workshop(commissions=6, sections=6)
    plan = solve(problem, seconds=60, progress=once)
    assert len(told) == 1
    assert told[0].goal == FINISH
    assert told[0].bound < told[0].value
    assert told[0].seconds < 30
    assert breaches(problem, plan) == ()
    assert not plan.proven


def test_a_workshop_is_planned_better_than_by_the_rule_and_with_a_true_bound() -> None:
    problem = workshop(commissions=2, sections=3)
    plan = solve(problem, seconds=60)
    assert breaches(problem, plan) == ()
    assert plan.proven
    assert plan.bound == plan.makespan < serial_plan(problem).makespan


@pytest.mark.parametrize("seconds", [0, -1, float("nan"), float("inf"), 1e9])
def test_a_time_that_is_none_is_refused(seconds: float) -> None:
    with pytest.raises(EstimatorError, match="time to solve"):
        solve(queue(pear=4), seconds=seconds)


def test_nothing_to_do_is_planned_at_once() -> None:
    plan = solve(
        Problem(weekly(7), (), (Activity("cast", 1, ended=-DAY), Activity("out", 0, ended=0, after=(After("cast"),))))
    )
    assert (dict(plan.starts), plan.makespan, plan.proven) == ({}, 0, True)
