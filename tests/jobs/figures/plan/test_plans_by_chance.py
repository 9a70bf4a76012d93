"""Thousands of made-up problems: what comes out is a plan, by a checker that shares nothing with what made it."""

from itertools import product

from ortools.sat.python import cp_model

from jobs.figures.plan.bounds import least
from jobs.figures.plan.goals import GOALS, measured, planned
from jobs.figures.plan.model import Model
from jobs.figures.plan.network import critical_path, earliest_starts
from jobs.figures.plan.problem import Problem
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.result import FINISH, Plan
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.slack import latest_in_plan
from jobs.figures.plan.solving import solve
from jobs.figures.plan.windows import Window
from materials.estimator.errors import EstimatorError
from tests.jobs.figures.plan import made_up

SEEDS = 2_000
FAR = 60
"""No plan for so few activities, if there is one, needs so many periods."""


def serial_or_none(problem: Problem) -> Plan | None:
    try:
        return serial_plan(problem)
    except EstimatorError:
        return None


def values(plan: Plan) -> list[int]:
    return [goal.value for goal in plan.goals]


def test_a_serial_schedule_breaks_nothing_and_is_never_shorter_than_the_critical_path() -> None:
    kept = 0
    for seed in range(SEEDS):
        problem = made_up.problem(seed)
        plan = serial_or_none(problem)
        if plan is None:
            continue
        assert breaches(problem, plan) == (), seed
        path = max((times.earliest_end for times in critical_path(problem).values()), default=0)
        assert path <= plan.bound <= plan.makespan, seed
        assert all(bound <= goal.value for goal, bound in zip(plan.goals, least(problem).values(), strict=True)), seed
        kept += 1
    assert kept > 0.95 * SEEDS


def test_what_has_no_serial_schedule_has_no_plan_at_all() -> None:
    refused = [problem for problem in map(made_up.problem, range(SEEDS)) if serial_or_none(problem) is None]
    assert refused
    for problem in refused:
        heads = earliest_starts(problem)
        model = Model(problem, {name: Window(head, FAR) for name, head in heads.items()}, heads)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        assert solver.solve(model.cp) == cp_model.INFEASIBLE


def test_the_same_problem_has_the_same_serial_schedule_twice() -> None:
    for seed in range(100):
        assert serial_or_none(made_up.problem(seed)) == serial_or_none(made_up.problem(seed))


def test_pushed_to_its_latest_starts_a_plan_is_still_one_and_no_date_moves() -> None:
    moved = 0
    for seed in range(SEEDS // 2):
        problem = made_up.problem(seed)
        plan = serial_or_none(problem)
        if plan is None:
            continue
        latest = latest_in_plan(problem, plan)
        assert all(latest[name] >= start for name, start in plan.starts.items()), seed
        pushed = planned(problem, latest, least(problem), "pushed")
        assert breaches(problem, pushed) == (), seed
        assert pushed.goals[0].value == plan.goals[0].value, seed
        moved += latest != plan.starts
    assert moved > 100


def test_the_solver_breaks_nothing_and_does_no_worse_than_the_serial_schedule() -> None:
    for seed in range(60):
        problem = made_up.problem(seed, most=12)
        serial = serial_or_none(problem)
        if serial is None:
            continue
        plan = solve(problem, seconds=10)
        assert breaches(problem, plan) == (), seed
        assert values(plan) <= values(serial), seed
        assert plan.proven, seed


def test_no_other_starts_are_better_than_a_proven_plan() -> None:
    for seed in range(40):
        problem = made_up.problem(seed, most=3)
        if serial_or_none(problem) is None:
            continue
        plan = solve(problem, seconds=10)
        assert plan.proven
        latest = plan.goal(FINISH).value + 1
        for periods in product(range(latest), repeat=len(plan.starts)):
            starts = dict(zip(plan.starts, periods, strict=True))
            if list(measured(problem, starts).values()) < values(plan):
                better = planned(problem, starts, dict.fromkeys(GOALS, 0), "tried")
                assert breaches(problem, better) != (), (seed, starts)
