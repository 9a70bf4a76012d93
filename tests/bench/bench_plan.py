"""The plan of a full workshop: the first one, the best in ten seconds, and the next day's."""

import time
from dataclasses import replace

from tests.bench.table import Row

COMMISSIONS, SECTIONS, STAGES = 10, 8, 6
APART = 40
"""Two weeks between commissions: then the finishers, who have most to do, are busy for seven hours of ten."""
PROMISED = 240
"""Twelve weeks from the beginning of a commission."""
SECONDS, AGAIN_SECONDS = 10.0, 2.5
DAY = 4
OVERRUN = 2


def run() -> list[Row]:
    """Seconds to a plan, how far it is from its bound, and seconds to plan again after a day of bookings."""
    from jobs.figures.plan.problem import Commission
    from jobs.figures.plan.proof import breaches
    from jobs.figures.plan.result import FINISH, LATENESS, MOVES
    from jobs.figures.plan.solving import solve
    from tests.jobs.figures.plan.made_up import workshop

    dues = tuple(Commission(f"{number}", number * APART + PROMISED) for number in range(COMMISSIONS))
    problem = replace(workshop(COMMISSIONS, SECTIONS, apart=APART), commissions=dues)
    told: list[float] = []
    plan = solve(problem, seconds=SECONDS, progress=lambda progress: told.append(progress.seconds) or True)
    broken = len(breaches(problem, plan))
    finish = plan.goal(FINISH)

    tomorrow = a_day_later(problem, plan)
    before = time.monotonic()
    again = solve(tomorrow, seconds=AGAIN_SECONDS)
    took = time.monotonic() - before
    broken += len(breaches(tomorrow, again))
    size = f"{COMMISSIONS} commissions × {SECTIONS} sections × {STAGES} stages"
    late, moves = again.goal(LATENESS).value, again.goal(MOVES).value
    return [
        Row("plan, first valid one", told[0], 3, "s", size),
        Row(
            "plan, above its bound after 10 s",
            100 * (finish.value / finish.bound - 1),
            5,
            "%",
            f"{finish.value} periods",
        ),
        Row("plan, periods late", plan.goal(LATENESS).value, 0, "periods"),
        Row("plan again after a day's bookings", took, 3, "s", f"{late} periods late, starts moved by {moves} in all"),
        Row("breaches found in both plans", broken, 0, "each"),
    ]


def a_day_later(problem, plan):
    """The same workshop when a day has gone by as planned, but for work in hand that takes longer."""
    from jobs.figures.plan.calendar import Calendar
    from jobs.figures.plan.pinning import pin

    calendar = problem.calendar
    began = calendar.clock[DAY]
    activities, in_hand = [], []
    for activity in problem.activities:
        start, end = plan.starts[activity.id], plan.ends[activity.id]
        if end <= DAY:
            activities.append(replace(activity, ended=calendar.over(start, end) - began))
            continue
        if start < DAY:
            in_hand.append(activity.id)
            activity = replace(activity, duration=end - DAY + OVERRUN)
        activities.append(replace(activity, release=max(activity.release - DAY, 0)))
    later = replace(
        problem,
        calendar=Calendar(tuple(minute - began for minute in calendar.clock[DAY:]), calendar.minutes),
        activities=tuple(activities),
        commissions=tuple(replace(each, due=each.due - DAY) for each in problem.commissions),
        published={name: start - DAY for name, start in plan.starts.items() if start >= DAY},
    )
    return pin(later, in_hand)
