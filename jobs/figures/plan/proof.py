"""Whether a plan keeps all that it has to: every breach in words, found by arithmetic of its own.

Nothing here is shared with what makes plans, not even the calendar's reckoning:
holds are compared by the clock, capacities are added up from one change to the
next, and a mistake there is a breach here.
"""

from collections.abc import Iterator, Mapping

from jobs.figures.plan.problem import Activity, After, Problem, Resource, Stay
from jobs.figures.plan.result import FINISH, LATENESS, MOVES, Plan

Taken = tuple[int, int, int, str]
"""From a period, up to another, so many units, by what."""


def breaches(problem: Problem, plan: Plan) -> tuple[str, ...]:
    """Everything in which a plan breaks what the problem asks.

    Parameters
    ----------
    problem : Problem
    plan : Plan

    Returns
    -------
    tuple of str
        One sentence each; none where the plan is sound.
    """
    known = {activity.id: activity for activity in problem.activities}
    wanted = {name for name, activity in known.items() if activity.ended is None}
    found = [f"{_said(known, name)} has no start." for name in sorted(wanted - set(plan.starts))]
    found += [
        f"{_said(known, name)} has a start, and nothing of it is left to do."
        for name in plan.starts
        if name not in wanted
    ]
    found = found or list(_outside(problem, known, plan))
    if found:
        return tuple(found)
    for name in wanted:
        found += _of_activity(problem, known, known[name], plan)
    for resource in problem.resources:
        found += _of_resource(problem, known, resource, plan)
    found += _of_goals(problem, plan)
    return tuple(found)


def _said(known: Mapping[str, Activity], name: str) -> str:
    return f"“{known[name].name or name}”" if name in known else f"“{name}”"


def _outside(problem: Problem, known: Mapping[str, Activity], plan: Plan) -> Iterator[str]:
    for name, start in plan.starts.items():
        end = start + known[name].duration
        if start < 0 or end > len(problem.calendar.clock):
            yield f"{_said(known, name)} lies outside the calendar, from period {start} to {end}."


def _of_activity(problem: Problem, known: Mapping[str, Activity], activity: Activity, plan: Plan) -> Iterator[str]:
    start, said = plan.starts[activity.id], _said(known, activity.id)
    if plan.ends.get(activity.id) != start + activity.duration:
        end = plan.ends.get(activity.id)
        yield f"{said} begins in period {start} and lasts {activity.duration}, but its end is said to be {end}."
    if activity.pinned is not None:
        if start != activity.pinned:
            yield f"{said} is fixed to period {activity.pinned} and begins in {start}."
        return
    if start < activity.release:
        yield f"{said} begins in period {start}, before it may in {activity.release}."
    for link in activity.after:
        yield from _of_link(problem, known, activity, link, plan)


def _of_link(
    problem: Problem, known: Mapping[str, Activity], activity: Activity, link: After, plan: Plan
) -> Iterator[str]:
    before, start = known[link.activity], plan.starts[activity.id]
    said = f"{_said(known, activity.id)} begins in period {start}"
    if before.ended is None and start < plan.starts[before.id] + before.duration:
        yield f"{said}, before {_said(known, before.id)} ends."
    elif _minute(problem, start) < _over(problem, before, plan) + link.hold:
        short = _over(problem, before, plan) + link.hold - _minute(problem, start)
        hold = link.why or "hold"
        yield f"{said}, {short} minutes before the {hold} after {_said(known, before.id)} is over."


def _minute(problem: Problem, period: int) -> int:
    """When a period begins, by the clock; the one after the last is the end of the calendar."""
    clock = problem.calendar.clock
    return clock[period] if period < len(clock) else clock[-1] + problem.calendar.minutes


def _over(problem: Problem, activity: Activity, plan: Plan) -> int:
    """When an activity is over, by the clock."""
    if activity.ended is not None:
        return activity.ended
    start = plan.starts[activity.id]
    if not activity.duration:
        return _minute(problem, start)
    return problem.calendar.clock[start + activity.duration - 1] + problem.calendar.minutes


def _of_resource(problem: Problem, known: Mapping[str, Activity], resource: Resource, plan: Plan) -> Iterator[str]:
    taken = [(away.start, away.end, away.units, "absence") for away in resource.away]
    for activity in problem.activities:
        if activity.ended is None and resource.id in activity.needs:
            start = plan.starts[activity.id]
            taken.append((start, start + activity.duration, activity.needs[resource.id], _said(known, activity.id)))
    taken += [_stayed(problem, known, stay, plan) for stay in problem.stays if stay.resource == resource.id]
    for period in sorted({start for start, end, _, _ in taken if start < end}):
        running = [(units, by) for start, end, units, by in taken if start <= period < end]
        if sum(units for units, _ in running) > resource.capacity and any(by != "absence" for _, by in running):
            by = ", ".join(f"{units} by {by}" for units, by in running)
            yield f"“{resource.id}” has {resource.capacity} in period {period} and is taken {by}."


def _stayed(problem: Problem, known: Mapping[str, Activity], stay: Stay, plan: Plan) -> Taken:
    """From when until when a stay has its place."""
    first, last = known[stay.first], known[stay.last]
    start = 0 if first.ended is not None else plan.starts[first.id]
    end = 0 if last.ended is not None else plan.starts[last.id] + last.duration
    if stay.hold or last.ended is not None:
        over = _over(problem, last, plan) + stay.hold
        clock = problem.calendar.clock
        while end < len(clock) and clock[end] < over:
            end += 1
    return start, end, stay.units, _said(known, stay.first)


def _of_goals(problem: Problem, plan: Plan) -> Iterator[str]:
    late = 0
    for commission in problem.commissions:
        own = [
            plan.ends[each.id] for each in problem.activities if each.ended is None and each.commission == commission.id
        ]
        if own and commission.due is not None and max(own) > commission.due:
            late += (max(own) - commission.due) * commission.weight
    moves = sum(abs(plan.starts[name] - period) for name, period in problem.published.items() if name in plan.starts)
    true = {LATENESS: late, MOVES: moves, FINISH: max(plan.ends.values(), default=0)}
    for goal in plan.goals:
        if goal.value != true[goal.key]:
            yield f"The plan's {goal.key} is said to be {goal.value} and is {true[goal.key]}."
        if goal.bound > goal.value:
            yield f"The plan's {goal.key} of {goal.value} lies below its bound of {goal.bound}."
