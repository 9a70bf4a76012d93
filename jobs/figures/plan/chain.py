"""The chain that sets the date: from what ends last back to what everything waits for, link by link."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from jobs.figures.plan.problem import Activity, Problem
from jobs.figures.plan.result import Plan
from jobs.figures.plan.uses import Use, uses


class Reason(StrEnum):
    """Why an activity does not begin sooner."""

    BEGINNING = "beginning"
    """It begins at once."""
    IN_HAND = "in hand"
    """It is fixed."""
    RELEASE = "release"
    """It may not begin sooner."""
    WORK = "work"
    """Another activity has to end first."""
    HOLD = "hold"
    """A hold after another activity, done or not, has to be over."""
    RESOURCE = "resource"
    """Another activity has the people or the place it needs."""
    AWAY = "away"
    """The people or the place it needs are not there."""
    CHOICE = "choice"
    """Nothing: the plan has it there to stay near the published one, or because it costs nothing."""


@dataclass(frozen=True, slots=True)
class Step:
    """An activity of the chain, and why it does not begin sooner.

    Attributes
    ----------
    activity : str
    reason : Reason
    because : str
        The activity it waits for; "" where it waits for none.
    resource : str
        The people or place it waits for; "" where it waits for none.
    why : str
        What the hold is, "cure"; "" where there is none.
    until : int or None
        When the hold is over, from the beginning of period 0 [min].
    """

    activity: str
    reason: Reason
    because: str = ""
    resource: str = ""
    why: str = ""
    until: int | None = None


def chain(problem: Problem, plan: Plan, commission: str | None = None) -> tuple[Step, ...]:
    """What sets the date of a commission, or of all.

    Parameters
    ----------
    problem : Problem
    plan : Plan
    commission : str, optional
        Whose; by default the one that is done last.

    Returns
    -------
    tuple of Step
        From what comes first to what ends last; empty where nothing is left to do. It may lead through activities
        of other commissions, where these have what is waited for.
    """
    own = [each for each in problem.open if commission in (None, each.commission)]
    if not own:
        return ()
    taken = uses(problem, plan)
    step = _step(problem, plan, taken, max(own, key=lambda each: plan.ends[each.id]))
    found = [step]
    while step.because and not problem.by_id[step.because].done:
        step = _step(problem, plan, taken, problem.by_id[step.because])
        if any(step.activity == each.activity for each in found):
            break
        found.append(step)
    return tuple(reversed(found))


def _step(problem: Problem, plan: Plan, taken: tuple[Use, ...], activity: Activity) -> Step:
    """The first reason there is, of those that leave least to be done about it."""
    if activity.pinned is not None:
        return Step(activity.id, Reason.IN_HAND)
    start = plan.starts[activity.id]
    if not start:
        return Step(activity.id, Reason.BEGINNING)
    waits = list(_waits(problem, plan, activity))
    for ready, _, step in sorted(waits, key=lambda wait: wait[:2], reverse=True):
        if ready == start:
            return step
    if activity.release == start:
        return Step(activity.id, Reason.RELEASE)
    latest = max(waits, key=lambda wait: wait[:2], default=None)
    by_choice = Step(activity.id, Reason.CHOICE, latest[2].because if latest else "")
    return _for_resource(problem, taken, activity, start) or by_choice


def _waits(problem: Problem, plan: Plan, activity: Activity) -> Iterator[tuple[int, int, Step]]:
    """What an activity waits for: from which period it may begin, the hold, and the step."""
    for link in activity.after:
        ready = problem.ready(link, plan.starts)
        before = problem.by_id[link.activity]
        if not link.hold:
            yield ready, 0, Step(activity.id, Reason.WORK, before.id)
            continue
        over = before.ended
        if over is None:
            over = problem.calendar.over(plan.starts[before.id], plan.ends[before.id])
        yield ready, link.hold, Step(activity.id, Reason.HOLD, before.id, why=link.why, until=over + link.hold)


def _for_resource(problem: Problem, taken: tuple[Use, ...], activity: Activity, start: int) -> Step | None:
    """Who has what it needs in the period before it begins."""
    wanted = [use for use in taken if use.first == activity.id and use.start == start]
    for resource in problem.resources:
        own = sum(use.units for use in wanted if use.resource == resource.id)
        if not own:
            continue
        others = [
            use for use in taken if use.resource == resource.id and use.start < start <= use.end and use not in wanted
        ]
        gone = sum(away.units for away in resource.away if away.start < start <= away.end)
        if sum(use.units for use in others) + gone + own <= resource.capacity:
            continue
        leaving = [use for use in others if use.end == start]
        if leaving:
            return Step(activity.id, Reason.RESOURCE, leaving[0].last, resource.id)
        if gone:
            return Step(activity.id, Reason.AWAY, resource=resource.id)
    return None
