"""The checker sees every kind of breach, and names it."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from jobs.figures.plan.problem import Activity, After, Away, Commission, Problem, Resource, Stay
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.result import FINISH, LATENESS, MOVES, Goal, Plan
from tests.jobs.figures.plan.made_up import DAY, weekly

PROBLEM = Problem(
    weekly(14),
    (Resource("laminators", 2, (Away(8, 12, 1),)), Resource("mould", 1)),
    (
        Activity("cast", 2, {"laminators": 2}, name="the pear's cast"),
        Activity("out", 1, {"laminators": 1}, (After("cast", DAY, "cure"),)),
        Activity("trim", 2, {"laminators": 1}, (After("out"),), release=4),
        Activity("next", 2, {"laminators": 1}),
        Activity("done", 1, ended=-DAY),
        Activity("in hand", 1, pinned=0),
    ),
    (Stay("mould", "cast", "out"), Stay("mould", "next", "next", 16 * 60)),
    (Commission("", 8, 2),),
    {"trim": 7},
)
SOUND = {"cast": 0, "out": 6, "trim": 7, "next": 12, "in hand": 0}


def plan(starts: Mapping[str, int]) -> Plan:
    ends = {name: start + PROBLEM.by_id[name].duration for name, start in starts.items()}
    goals = (Goal(LATENESS, 12, 0), Goal(MOVES, 0, 0), Goal(FINISH, 14, 0))
    return Plan(starts, ends, goals, "by hand")


def test_a_sound_plan_has_no_breach() -> None:
    assert breaches(PROBLEM, plan(SOUND)) == ()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"out": 5}, "“out” begins in period 5, 120 minutes before the cure after “the pear's cast” is over."),
        ({"out": 1}, "“out” begins in period 1, before “the pear's cast” ends."),
        ({"trim": 6}, "“trim” begins in period 6, before “out” ends."),
        ({"trim": 3}, "“trim” begins in period 3, before it may in 4."),
        ({"next": 2}, "“mould” has 1 in period 2 and is taken 1 by “the pear's cast”, 1 by “next”."),
        ({"next": 6}, "“mould” has 1 in period 6 and is taken 1 by “the pear's cast”, 1 by “next”."),
        ({"next": 0}, "“laminators” has 2 in period 0 and is taken 2 by “the pear's cast”, 1 by “next”."),
        ({"next": 8, "trim": 9}, "“laminators” has 2 in period 9 and is taken 1 by absence, 1 by “trim”, 1 by “next”."),
        ({"in hand": 1}, "“in hand” is fixed to period 0 and begins in 1."),
        ({"next": 39}, "“next” lies outside the calendar, from period 39 to 41."),
        ({"next": 13}, "The plan's finish is said to be 14 and is 15."),
        ({"next": 13}, "The plan's lateness is said to be 12 and is 14."),
        ({"trim": 8}, "The plan's moves is said to be 0 and is 1."),
        ({"done": 0}, "“done” has a start, and nothing of it is left to do."),
        ({"nobody": 0}, "“nobody” has a start, and nothing of it is left to do."),
    ],
)
def test_every_breach_is_named(changes: dict[str, int], sentence: str) -> None:
    starts = {**SOUND, **changes}
    ends = {
        name: start + (PROBLEM.by_id[name].duration if name in PROBLEM.by_id else 0) for name, start in starts.items()
    }
    assert sentence in breaches(PROBLEM, replace(plan(SOUND), starts=starts, ends=ends))


def test_what_is_left_out_or_ends_at_another_time_is_named() -> None:
    without = {name: start for name, start in SOUND.items() if name != "cast"}
    assert breaches(PROBLEM, plan(without)) == ("“the pear's cast” has no start.",)
    ends = {**plan(SOUND).ends, "trim": 8}
    said = "“trim” begins in period 7 and lasts 2, but its end is said to be 8."
    assert said in breaches(PROBLEM, replace(plan(SOUND), ends=ends))


def test_a_bound_above_the_value_is_named() -> None:
    goals = (*plan(SOUND).goals[:2], Goal(FINISH, 14, 15))
    said = ("The plan's finish of 14 lies below its bound of 15.",)
    assert breaches(PROBLEM, replace(plan(SOUND), goals=goals)) == said
