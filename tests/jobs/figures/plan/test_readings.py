"""What is read off a plan: the chain that sets the date, who has too much to do, and how sure the date is."""

from dataclasses import replace

import pytest

from jobs.figures.plan.chain import Reason, Step, chain
from jobs.figures.plan.chance import Spread, finishes
from jobs.figures.plan.load import Load, loads
from jobs.figures.plan.problem import Activity, After, Away, Commission, Problem, Resource, Stay
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.slack import latest_in_plan
from jobs.figures.plan.solving import solve
from jobs.figures.threepoint import ThreePoint
from materials.estimator.errors import EstimatorError
from tests.jobs.figures.plan.made_up import DAY, weekly, workshop

PEAR = Problem(
    weekly(28),
    (Resource("laminators", 2), Resource("painters", 1, (Away(9, 11, 1),)), Resource("mould", 1)),
    (
        Activity("first half", 2, {"laminators": 2}),
        Activity("second half", 2, {"laminators": 2}),
        Activity("join", 1, {"laminators": 1}, (After("first half", DAY, "cure"), After("second half", DAY, "cure"))),
        Activity("paint", 1, {"painters": 1}, (After("join"),)),
        Activity("stand", 1, release=3, commission="stand"),
    ),
)


def test_the_chain_names_what_the_date_waits_for() -> None:
    there = replace(PEAR, resources=(Resource("laminators", 2), Resource("painters", 1)))
    assert chain(there, serial_plan(there), "") == (
        Step("first half", Reason.BEGINNING),
        Step("second half", Reason.RESOURCE, "first half", "laminators"),
        # Laid up by the end of Monday's eighth hour, and cured a day after.
        Step("join", Reason.HOLD, "second half", why="cure", until=8 * 60 + DAY),
        Step("paint", Reason.WORK, "join"),
    )
    plan = serial_plan(PEAR)
    assert chain(PEAR, plan, "") == (Step("paint", Reason.AWAY, resource="painters"),)
    assert chain(PEAR, plan, "stand") == (Step("stand", Reason.RELEASE),)


def test_a_chain_leads_through_work_that_is_done_and_through_places() -> None:
    activities = (
        Activity("cast", 1, {"laminators": 1}, (After("mould made", 3 * DAY, "rest"),)),
        Activity("out", 1, {"laminators": 1}, (After("cast", DAY, "cure"),)),
        Activity("next cast", 1, {"laminators": 1}, (After("out"),)),
        Activity("mould made", 1, ended=-60),
        Activity("in hand", 1, pinned=0, commission="other"),
    )
    stays = (Stay("mould", "cast", "out"), Stay("mould", "next cast", "next cast"))
    problem = Problem(weekly(28), (Resource("laminators", 1), Resource("mould", 1)), activities, stays)
    plan = serial_plan(problem)
    assert chain(problem, plan, "") == (
        Step("cast", Reason.HOLD, "mould made", why="rest", until=3 * DAY - 60),
        Step("out", Reason.HOLD, "cast", why="cure", until=3 * DAY + 120 + DAY),
        Step("next cast", Reason.WORK, "out"),
    )
    assert chain(problem, plan, "other") == (Step("in hand", Reason.IN_HAND),)


def test_a_chain_ends_at_work_that_could_begin_sooner() -> None:
    problem = Problem(weekly(14), (), (Activity("crate", 1),), published={"crate": 6})
    assert chain(problem, solve(problem), None) == (Step("crate", Reason.CHOICE),)
    assert chain(Problem(weekly(14), (), ()), solve(Problem(weekly(14), (), ()))) == ()


def test_slack_is_what_is_left_with_hands_places_and_promises_as_they_are() -> None:
    problem = Problem(
        weekly(14),
        (Resource("laminators", 1),),
        (
            Activity("cast", 2, {"laminators": 1}, commission="pear"),
            Activity("trim", 2, {"laminators": 1}, (After("cast"),), "pear"),
            Activity("stand", 1, commission="pear"),
        ),
        commissions=(Commission("pear", 8),),
    )
    # Promised for the end of the second day, done by the end of the first: four quarters to spare, the stand seven.
    assert latest_in_plan(problem, serial_plan(problem)) == {"cast": 4, "trim": 6, "stand": 7}


def test_the_load_of_a_week_is_what_is_taken_of_what_is_there() -> None:
    plan = serial_plan(PEAR)
    found = loads(PEAR, plan, [0, 4, 20])
    assert found["laminators"] == (Load(8, 8), Load(1, 32))
    assert found["painters"] == (Load(0, 4), Load(1, 14))
    assert found["mould"] == (Load(0, 4), Load(0, 16))


def test_the_chances_of_one_activity_are_those_of_its_triangle() -> None:
    # Low 2, likely 3.5 and high 8, a thousand periods each: P50 and P80 of the triangle, computed with scipy.stats.
    problem = Problem(weekly(7 * 480), (), (Activity("cast", 3500, commission="pear"),))
    spread = {"cast": Spread(ThreePoint(2000.0, 3500.0, 8000.0), "lay up")}
    found = finishes(problem, serial_plan(problem), spread, seed=3, runs=4_000)
    assert found["pear"].p50 == pytest.approx(4325.77, rel=0.02)
    assert found["pear"].p80 == pytest.approx(5676.21, rel=0.02)


def test_one_kind_of_work_is_slow_everywhere_at_once() -> None:
    activities = tuple(Activity(f"cast {number}", 50, {"laminators": 1}) for number in range(8))
    problem = Problem(weekly(7 * 60), (Resource("laminators", 1),), activities)
    plan = serial_plan(problem)
    triangle = ThreePoint(20.0, 50.0, 80.0)
    alike = finishes(problem, plan, {each.id: Spread(triangle, "cast") for each in activities}, seed=1)
    apart = finishes(problem, plan, {each.id: Spread(triangle, each.id) for each in activities}, seed=1)
    # Eight at once spread eight times as far; eight apart by the root of eight.
    assert alike[""].p80 - alike[""].p50 > 2 * (apart[""].p80 - apart[""].p50) > 0


def test_the_same_seed_has_the_same_chances_and_certain_hours_have_one_date() -> None:
    problem = workshop(commissions=2, sections=2)
    plan = serial_plan(problem)
    spreads = {
        each.id: Spread(ThreePoint(each.duration * 0.8, float(each.duration), each.duration * 1.6), each.id.split()[1])
        for each in problem.activities
    }
    once, twice, other = (finishes(problem, plan, spreads, seed=seed, runs=60) for seed in (7, 7, 8))
    assert once == twice != other
    assert all(finish.p50 <= finish.p80 <= finish.within(1.0) for finish in once.values())
    certain = finishes(problem, plan, {}, seed=7, runs=2)
    assert {finish.p80 for finish in certain.values()} <= set(plan.ends.values())
    assert max(finish.p80 for finish in certain.values()) == plan.makespan


def test_no_runs_are_no_simulation() -> None:
    with pytest.raises(EstimatorError, match="runs of the simulation is 0; it must be between 1 and 10000"):
        finishes(PEAR, serial_plan(PEAR), {}, seed=1, runs=0)


def signed(sooner: int, later: int) -> Problem:
    """Work of a period, a signature of a week, and work of a period after it."""
    week = After("pattern", 7 * DAY, "sign-off", sooner, later)
    return Problem(weekly(140), (), (Activity("pattern", 1), Activity("mould", 1, after=(week,))))


def test_a_wait_that_somebody_outside_ends_makes_the_day_unsure() -> None:
    sure, unsure = signed(0, 0), signed(5 * DAY, 21 * DAY)
    assert serial_plan(sure).makespan == serial_plan(unsure).makespan, "a plan reckons with the likely one"
    certain = finishes(sure, serial_plan(sure), {}, seed=1)[""]
    assert certain.p50 == certain.p80 == serial_plan(sure).makespan
    found, again, other = (finishes(unsure, serial_plan(unsure), {}, seed=seed, runs=2_000)[""] for seed in (1, 1, 2))
    assert found == again != other
    assert certain.p50 < found.p50 < found.p80
    # Of the triangle over 2, 7 and 28 days by its closed form, and what is left until the next period begins.
    clock = unsure.calendar.clock
    for share in (0.5, 0.8):
        days = 28 - ((1 - share) * (28 - 2) * (28 - 7)) ** 0.5
        first = unsure.calendar.first_from(round(120 + days * DAY))
        assert clock[found.within(share) - 1] == pytest.approx(clock[first], abs=DAY)


def test_the_weather_is_one_of_its_courses_in_each_run() -> None:
    dry, wet = (), (Away(1, 9, 1),)
    problem = Problem(weekly(28), (Resource("outdoors", 1),), (Activity("stand", 2, {"outdoors": 1}),))
    plan = serial_plan(problem)
    found = finishes(problem, plan, {}, seed=4, runs=400, away={"outdoors": (dry, wet, wet), "not there": (wet,)})[""]
    assert set(found.ends) == {2, 11}
    assert found.ends.count(2) / 400 == pytest.approx(1 / 3, abs=0.07)


def test_pieces_of_one_part_round_its_time_up_once() -> None:
    periods = ThreePoint(4.2, 4.2, 4.2)
    pieces = tuple(Activity(f"p{n}", 1, after=(After(f"p{n - 1}"),) if n else ()) for n in range(5))
    problem = Problem(weekly(28), (), pieces)
    spreads = {each.id: Spread(periods, "install", n / 5, (n + 1) / 5) for n, each in enumerate(pieces)}
    assert set(finishes(problem, serial_plan(problem), spreads, seed=1, runs=20)[""].ends) == {5}


def test_every_slice_of_a_triangle_comes_once() -> None:
    problem = Problem(weekly(7 * 480), (), (Activity("cast", 3500),))
    triangle = ThreePoint(2000.0, 3500.0, 8000.0)
    ends = finishes(problem, serial_plan(problem), {"cast": Spread(triangle, "lay up")}, seed=5, runs=10)[""].ends
    # Up to likely the triangle holds a quarter, so that its tenths begin and end here.
    edges = [2000 + (share * 6000 * 1500) ** 0.5 if share <= 0.25 else 8000 - ((1 - share) * 6000 * 4500) ** 0.5
             for share in (number / 10 for number in range(11))]  # fmt: skip
    for number, end in enumerate(ends):
        assert edges[number] <= end <= edges[number + 1] + 1
