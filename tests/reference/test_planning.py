"""Critical paths and plans against figures from outside the program."""

import pytest

from jobs.figures.plan.calendar import Calendar
from jobs.figures.plan.checking import check
from jobs.figures.plan.network import critical_path
from jobs.figures.plan.problem import Activity, After, Problem, Resource
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.solving import solve

# PSPLIB, single mode, set j30, instance 1 of parameter 1 (Kolisch and Sprecher, 1997): number and duration, units
# of R1 to R4, successors. Its file states a critical path of 38; PSPLIB lists 43 as its proven optimum.
J301_1 = """
 1  0 | 0 0 0 0 | 2 3 4
 2  8 | 4 0 0 0 | 6 11 15
 3  4 | 10 0 0 0 | 7 8 13
 4  6 | 0 0 0 3 | 5 9 10
 5  3 | 3 0 0 0 | 20
 6  8 | 0 0 0 8 | 30
 7  5 | 4 0 0 0 | 27
 8  9 | 0 1 0 0 | 12 19 27
 9  2 | 6 0 0 0 | 14
10  7 | 0 0 0 1 | 16 25
11  9 | 0 5 0 0 | 20 26
12  2 | 0 7 0 0 | 14
13  6 | 4 0 0 0 | 17 18
14  3 | 0 8 0 0 | 17
15  9 | 3 0 0 0 | 25
16 10 | 0 0 0 5 | 21 22
17  6 | 0 0 0 8 | 22
18  5 | 0 0 0 7 | 20 22
19  3 | 0 1 0 0 | 24 29
20  7 | 0 10 0 0 | 23 25
21  2 | 0 0 0 6 | 28
22  7 | 2 0 0 0 | 23
23  2 | 3 0 0 0 | 24
24  3 | 0 9 0 0 | 30
25  3 | 4 0 0 0 | 30
26  7 | 0 0 4 0 | 31
27  8 | 0 0 0 7 | 28
28  3 | 0 8 0 0 | 31
29  7 | 0 7 0 0 | 32
30  2 | 0 7 0 0 | 32
31  2 | 0 0 2 0 | 32
32  0 | 0 0 0 0 |
"""
CAPACITIES = {"R1": 12, "R2": 13, "R3": 4, "R4": 12}


def in_periods(resources: dict[str, int], activities: list[Activity]) -> Problem:
    """A problem without a clock, long enough for one activity after another."""
    horizon = sum(activity.duration for activity in activities)
    found = Problem(
        Calendar(range(horizon), 1), tuple(Resource(*each) for each in resources.items()), tuple(activities)
    )
    check(found)
    return found


def psplib() -> Problem:
    durations, needs = {}, {}
    waits: dict[str, list[After]] = {}
    for line in J301_1.strip().splitlines():
        head, units, followers = (part.split() for part in line.split("|"))
        name, durations[name] = head[0], int(head[1])
        needs[name] = {key: int(each) for key, each in zip(CAPACITIES, units, strict=True) if int(each)}
        for follower in followers:
            waits.setdefault(follower, []).append(After(name))
    return in_periods(
        CAPACITIES,
        [Activity(name, durations[name], needs[name], tuple(waits.get(name, ()))) for name in durations],
    )


# A network of Taylor, Introduction to Management Science, ch. 8, with activities on arrows: duration, then earliest
# start and end, latest start and end, and slack as its solutions print them.
TAYLOR = {
    "1-2": (7, (0, 7, 2, 9, 2)),
    "1-3": (10, (0, 10, 0, 10, 0)),
    "2-4": (6, (7, 13, 9, 15, 2)),
    "3-4": (5, (10, 15, 10, 15, 0)),
    "3-5": (4, (10, 14, 14, 18, 4)),
    "4-5": (3, (15, 18, 15, 18, 0)),
    "5-6": (2, (18, 20, 18, 20, 0)),
}


def test_the_critical_path_of_a_textbook() -> None:
    arrows = [
        Activity(arrow, duration, after=tuple(After(other) for other in TAYLOR if other[-1] == arrow[0]))
        for arrow, (duration, _) in TAYLOR.items()
    ]
    times = critical_path(in_periods({}, arrows))
    found = {
        name: (each.earliest_start, each.earliest_end, each.latest_start, each.latest_end, each.slack)
        for name, each in times.items()
    }
    assert found == {name: printed for name, (_, printed) in TAYLOR.items()}
    assert max(each.earliest_end for each in times.values()) == 20
    assert [name for name, each in times.items() if each.slack == 0] == ["1-3", "3-4", "4-5", "5-6"]


def test_an_instance_of_the_project_scheduling_library() -> None:
    problem = psplib()
    assert max(each.earliest_end for each in critical_path(problem).values()) == 38
    serial = serial_plan(problem)
    # A rule of priority lands between the optimum and about 50.
    assert 43 <= serial.makespan <= 50
    assert breaches(problem, serial) == ()
    plan = solve(problem, seconds=30)
    assert (plan.makespan, plan.bound, plan.proven) == (43, 43, True)
    assert breaches(problem, plan) == ()


# Computed apart and checked by hand: pattern 6, mould 4, cast 3, cast 3, join 2, fit 1, paint 4 is 23; the two casts
# queue on their one mould, and the crate and the metalwork fit into spare hands.
WORKSHOP = {
    "pattern": (6, {"laminators": 2}, ()),
    "metalwork": (5, {"welder": 1}, ()),
    "mould": (4, {"laminators": 2}, ("pattern",)),
    "first cast": (3, {"laminators": 1, "moulds": 1}, ("mould",)),
    "second cast": (3, {"laminators": 1, "moulds": 1}, ("mould",)),
    "join": (2, {"laminators": 2}, ("first cast", "second cast")),
    "fit metal": (1, {"laminators": 1, "welder": 1}, ("join", "metalwork")),
    "fair and paint": (4, {"laminators": 1}, ("fit metal",)),
    "crate": (2, {"laminators": 1}, ()),
}


@pytest.mark.parametrize(("moulds", "makespan"), [(1, 23), (2, 20)])
def test_casts_queue_on_their_mould_and_not_on_people(moulds: int, makespan: int) -> None:
    problem = in_periods(
        {"laminators": 2, "welder": 1, "moulds": moulds},
        [
            Activity(name, duration, needs, tuple(After(each) for each in after))
            for name, (duration, needs, after) in WORKSHOP.items()
        ],
    )
    assert max(each.earliest_end for each in critical_path(problem).values()) == 20
    plan = solve(problem, seconds=30)
    assert breaches(problem, plan) == ()
    # With a second mould the casts overlap, and the critical path alone sets the date.
    assert (plan.makespan, plan.proven) == (makespan, True)


# The construction project of Hillier and Lieberman, Introduction to Operations Research (from memory): 44 weeks.
RELIABLE = {
    "A": (2, ""),
    "B": (4, "A"),
    "C": (10, "B"),
    "D": (6, "C"),
    "E": (4, "C"),
    "F": (5, "E"),
    "G": (7, "D"),
    "H": (9, "EG"),
    "I": (7, "C"),
    "J": (8, "FI"),
    "K": (4, "J"),
    "L": (5, "J"),
    "M": (2, "H"),
    "N": (6, "KL"),
}


def test_the_critical_path_of_another_textbook() -> None:
    activities = [
        Activity(name, weeks, after=tuple(After(each) for each in after)) for name, (weeks, after) in RELIABLE.items()
    ]
    times = critical_path(in_periods({}, activities))
    assert max(each.earliest_end for each in times.values()) == 44
    assert "".join(name for name, each in times.items() if not each.slack) == "ABCEFJLN"
