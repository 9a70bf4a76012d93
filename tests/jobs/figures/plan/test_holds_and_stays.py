"""What a workshop knows: resin cures at night and over the weekend, and a cast keeps its mould until it is out."""

import pytest

from jobs.figures.plan.checking import check
from jobs.figures.plan.holds import pieces
from jobs.figures.plan.network import critical_path
from jobs.figures.plan.pinning import pin
from jobs.figures.plan.problem import Activity, After, Away, Commission, Problem, Resource, Stay
from jobs.figures.plan.proof import breaches
from jobs.figures.plan.serial import serial_plan
from jobs.figures.plan.solving import solve
from materials.estimator.errors import EstimatorError
from tests.jobs.figures.plan.made_up import DAY, weekly

TWO_WEEKS = weekly(14)
MONDAY, TUESDAY, THURSDAY, FRIDAY, NEXT_MONDAY = 0, 4, 12, 16, 20
"""The first quarter of these days."""


@pytest.mark.parametrize(
    ("begins", "hold", "ready"),
    [
        # Cast on Monday in its first quarter: out at the same time of the next day, by whoever comes first after it.
        (MONDAY, DAY, TUESDAY + 1),
        (MONDAY + 3, DAY, TUESDAY + 4),
        (MONDAY, 16 * 60, TUESDAY),
        # On Friday the weekend does it.
        (FRIDAY, DAY, NEXT_MONDAY),
        (FRIDAY + 3, DAY, NEXT_MONDAY),
        (THURSDAY + 3, DAY, NEXT_MONDAY),
        (FRIDAY + 3, 3 * DAY, NEXT_MONDAY + 4),
        (FRIDAY, 60, FRIDAY + 2),
        (FRIDAY, 0, FRIDAY + 1),
    ],
)
def test_a_hold_runs_by_the_clock(begins: int, hold: int, ready: int) -> None:
    assert TWO_WEEKS.ready(begins, begins + 1, hold) == ready


@pytest.mark.parametrize("hold", [30, 16 * 60, DAY, 3 * DAY])
def test_the_latest_end_before_a_hold_is_the_earliest_start_after_it_backward(hold: int) -> None:
    for start in range(15, TWO_WEEKS.horizon):
        end = TWO_WEEKS.latest_end(1, hold, start)
        assert TWO_WEEKS.ready(end - 1, end, hold) <= start
        assert TWO_WEEKS.ready(end, end + 1, hold) > start


@pytest.mark.parametrize("hold", [0, 30, 16 * 60, DAY, 3 * DAY, 5 * DAY])
def test_the_pieces_of_a_hold_are_the_hold(hold: int) -> None:
    found = {}
    for piece in pieces(TWO_WEEKS, 2, hold, 0, 25):
        for start in range(piece.first, piece.last + 1):
            found[start] = piece.ready + (start - piece.first) * piece.rising
    assert found == {start: TWO_WEEKS.ready(start, start + 2, hold) for start in range(26)}


def two_casts(calendar_days: int = 28, **changes: object) -> Problem:
    """Two casts from one mould, and two pairs of hands that could make them at once."""
    activities = [
        part
        for name in ("first", "second")
        for part in (
            Activity(f"{name} cast", 2, {"laminators": 1}),
            Activity(f"{name} out", 1, {"laminators": 1}, (After(f"{name} cast", DAY, "cure"),)),
        )
    ]
    stays = (Stay("mould", "first cast", "first out"), Stay("mould", "second cast", "second out"))
    resources = (Resource("laminators", 2), Resource("mould", 1))
    return Problem(weekly(calendar_days), resources, tuple(activities), stays)


def test_a_mould_is_not_filled_again_before_the_cast_is_out() -> None:
    problem = two_casts()
    plan = solve(problem, seconds=10)
    assert breaches(problem, plan) == ()
    # Cast in the first half of Monday, out in the third quarter of Tuesday; then the other one, until Thursday.
    assert plan.starts["first out"] == TUESDAY + 2
    assert plan.starts["second cast"] == TUESDAY + 3
    assert (plan.makespan, plan.proven) == (TUESDAY + 3 + 2 + 4 + 1, True)


def test_a_booth_is_taken_while_what_was_sprayed_dries() -> None:
    sprays = tuple(Activity(name, 1, {"painters": 1}) for name in ("first", "second"))
    stays = tuple(Stay("booth", each.id, each.id, 16 * 60) for each in sprays)
    problem = Problem(weekly(14), (Resource("painters", 2), Resource("booth", 1)), sprays, stays)
    plan = solve(problem, seconds=10)
    assert sorted(plan.starts.values()) == [MONDAY, TUESDAY]
    assert breaches(problem, plan) == ()


def test_what_is_in_a_mould_already_comes_out_first() -> None:
    problem = Problem(
        weekly(28),
        (Resource("laminators", 1), Resource("mould", 1)),
        (
            Activity("next cast", 1, {"laminators": 1}),
            Activity("next out", 1, {"laminators": 1}, (After("next cast", DAY),)),
            Activity("cast", 1, ended=-16 * 60),
            Activity("out", 1, {"laminators": 1}, (After("cast", DAY, "cure"),)),
        ),
        (Stay("mould", "next cast", "next out"), Stay("mould", "cast", "out")),
    )
    plan = serial_plan(problem)
    assert breaches(problem, plan) == ()
    # Cast yesterday afternoon: eight hours remain of the day it cures.
    assert plan.starts == {"out": 4, "next cast": 5, "next out": 10}
    assert solve(problem, seconds=10).makespan == plan.makespan


def test_work_in_hand_goes_on_as_far_as_there_are_hands() -> None:
    activities = tuple(Activity(name, 3, {"laminators": 1}) for name in ("new", "oldest", "older", "old"))
    problem = pin(Problem(weekly(14), (Resource("laminators", 2),), activities), ["oldest", "older", "old"])
    assert [each.pinned for each in problem.activities] == [None, 0, 0, None]
    plan = solve(problem, seconds=10)
    assert (plan.starts["oldest"], plan.starts["older"]) == (0, 0)
    assert breaches(problem, plan) == ()


def test_work_in_hand_rests_while_what_it_waits_for_cures() -> None:
    activities = (Activity("cast", 1, ended=-60), Activity("fit", 2, after=(After("cast", DAY),)))
    assert pin(Problem(weekly(14), (), activities), ["fit"]).by_id["fit"].pinned is None


def test_nobody_is_planned_who_is_away() -> None:
    painters = Resource("painters", 2, (Away(1, 4, 1), Away(0, 2, 1)))
    problem = Problem(
        weekly(14), (painters,), (Activity("paint", 2, {"painters": 1}), Activity("varnish", 2, {"painters": 2}))
    )
    plan = solve(problem, seconds=10)
    assert breaches(problem, plan) == ()
    assert plan.starts == {"paint": 2, "varnish": 4}


def test_the_latest_start_counts_back_from_the_due_date_over_the_weekend() -> None:
    activities = (Activity("cast", 1, {}), Activity("out", 1, {}, (After("cast", DAY),), release=NEXT_MONDAY))
    times = critical_path(Problem(weekly(28), (), activities))
    # Out on Monday morning asks for a cast on Friday, at any time.
    assert (times["out"].latest_start, times["cast"].latest_start) == (NEXT_MONDAY, FRIDAY + 3)
    assert times["cast"].slack == FRIDAY + 3


@pytest.mark.parametrize(
    ("activities", "stays", "sentence"),
    [
        (
            [Activity("a", 1, after=(After("b"),)), Activity("b", 1, after=(After("a"),))],
            (),
            "'a' waits for 'b', which waits for 'a'; take one of the waits out of this circle.",
        ),
        ([Activity("a", 1, after=(After("c"),))], (), "What 'a' waits for is 'c', which is not known; there are a."),
        ([Activity("a", 1, {"mould": 2})], (), "'a' needs 2 of 'mould' and there is 1; need fewer or add some."),
        ([Activity("a", -1)], (), "duration of 'a' is -1 periods; it must be between 0 and 10000 periods."),
        ([Activity("a", 1, release=-1)], (), "release of 'a' is -1 periods; it must be between 0 and 40 periods."),
        ([Activity("a", 1), Activity("a", 1)], (), "The activity 'a' is there 2 times; name each differently."),
        (
            [Activity("a", 1), Activity("b", 1)],
            (Stay("mould", "a", "b"),),
            "'b' does not wait for 'a', so it cannot end what that one begins in 'mould'; let it wait.",
        ),
        (
            [Activity("a", 2), Activity("b", 1, after=(After("a"),), pinned=0)],
            (),
            "'b' is fixed to period 0, before 'a' and its hold are over; let it begin when it can.",
        ),
    ],
)
def test_what_cannot_be_planned_is_said_in_a_sentence(
    activities: list[Activity], stays: tuple[Stay, ...], sentence: str
) -> None:
    with pytest.raises(EstimatorError) as refused:
        check(Problem(weekly(14), (Resource("mould", 1),), tuple(activities), stays))
    assert str(refused.value) == sentence


def test_two_things_in_hand_in_one_place_are_refused() -> None:
    activities = (Activity("a", 1, {"mould": 1}, pinned=0), Activity("b", 1, {"mould": 1}, pinned=0))
    with pytest.raises(EstimatorError, match="taken by other work in hand; say which of it rests"):
        serial_plan(Problem(weekly(14), (Resource("mould", 1),), activities))


def test_more_away_than_there_are_is_refused() -> None:
    resource = Resource("painters", 1, (Away(0, 3, 1), Away(2, 4, 1)))
    with pytest.raises(EstimatorError, match="More of 'painters' are away at once than the 1 there are"):
        check(Problem(weekly(14), (resource,), ()))


def test_a_calendar_that_is_too_short_is_refused() -> None:
    activities = tuple(Activity(f"cast {number}", 4, {"laminators": 1}) for number in range(11))
    with pytest.raises(EstimatorError, match="does not end within the 40 periods of the calendar"):
        serial_plan(Problem(weekly(14), (Resource("laminators", 1),), activities))


def test_what_stays_in_a_place_bounds_a_plan_as_work_does() -> None:
    activities = tuple(
        each
        for number in range(3)
        for each in (
            Activity(f"prime {number}", 2, commission=f"{number}"),
            Activity(f"sand {number}", 1, after=(After(f"prime {number}"),), commission=f"{number}"),
            Activity(f"coat {number}", 3, after=(After(f"sand {number}"),), commission=f"{number}"),
        )
    )
    stays = tuple(Stay("booth", f"prime {number}", f"coat {number}") for number in range(3))
    dues = tuple(Commission(f"{number}", 6) for number in range(3))
    plan = serial_plan(Problem(weekly(28), (Resource("booth", 1),), activities, stays, dues))
    # Three times six periods one after the other: the second is six late and the third twelve, in whatever order.
    assert [(goal.value, goal.bound) for goal in plan.goals] == [(18, 18), (0, 0), (18, 18)]
