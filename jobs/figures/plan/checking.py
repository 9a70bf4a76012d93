"""Whether a problem can be planned at all: one sentence on the first thing that is wrong."""

from collections import Counter
from collections.abc import Collection, Iterable

from jobs.figures.plan.problem import Activity, Problem, Resource, Stay
from jobs.figures.plan.profile import NEVER, Profile
from materials.estimator.errors import EstimatorError, shown
from materials.estimator.ranges import whole

LONGEST = 10_000
"""Periods an activity may last: decades of quarter-days, so more is a slip of the hand."""
MOST_UNITS = 10_000
MOST_ACTIVITIES = 2_000
LONGEST_HOLD = 3 * 366 * 24 * 60
"""Minutes of a hold; no cure and no sign-off takes three years."""
HEAVIEST = 1_000
_NAMES_SHOWN = 8


def check(problem: Problem) -> None:
    """Refuse a problem that no plan can keep, as far as it shows without planning.

    Parameters
    ----------
    problem : Problem

    Raises
    ------
    EstimatorError
        On a name given twice or not known, a number that is absurd, a need above what there is, or a circle.
    """
    whole("number of activities", len(problem.activities), "", 0, MOST_ACTIVITIES)
    _unique("resource", (resource.id for resource in problem.resources))
    _unique("activity", (activity.id for activity in problem.activities))
    _unique("commission", (commission.id for commission in problem.commissions))
    capacities = {resource.id: resource.capacity for resource in problem.resources}
    for name, capacity in capacities.items():
        whole(f"capacity of {shown(name)}", capacity, "", 0, MOST_UNITS)
    for resource in problem.resources:
        _check_away(resource)
    for activity in problem.activities:
        _check_numbers(activity, problem.calendar.horizon)
        _known(f"What {shown(activity.id)} waits for", (link.activity for link in activity.after), problem.by_id)
        for name, units in activity.needs.items():
            _check_need(shown(activity.id), name, units, capacities)
    for commission in problem.commissions:
        whole(f"weight of {shown(commission.id)}", commission.weight, "", 1, HEAVIEST)
    # Putting them in order refuses a circle.
    for activity in problem.ordered:
        _check_pinned(activity, problem)
    for stay in problem.stays:
        _check_need(f"The stay of {shown(stay.first)}", stay.resource, stay.units, capacities)
        _check_stay(stay, problem)


def _unique(kind: str, names: Iterable[str]) -> None:
    for name, count in Counter(names).items():
        if not name:
            raise EstimatorError(kind, name, f"One {kind} has an empty name; give each a name of its own.")
        if count > 1:
            raise EstimatorError(kind, name, f"The {kind} {shown(name)} is there {count} times; name each differently.")


def _known(what: str, names: Iterable[str], known: Collection[str]) -> None:
    for name in names:
        if name not in known:
            first = ", ".join(sorted(known)[:_NAMES_SHOWN])
            listed = first if len(known) <= _NAMES_SHOWN else f"{first} and others"
            there = f"there are {listed}" if known else "there are none"
            raise EstimatorError(what, name, f"{what} is {shown(name)}, which is not known; {there}.")


def _check_numbers(activity: Activity, horizon: int) -> None:
    name = shown(activity.id)
    whole(f"duration of {name}", activity.duration, "periods", 0, LONGEST)
    whole(f"release of {name}", activity.release, "periods", 0, horizon)
    if activity.pinned is not None:
        whole(f"fixed start of {name}", activity.pinned, "periods", 0, horizon)
    for link in activity.after:
        whole(f"hold of {name} after {shown(link.activity)}", link.hold, "minutes", 0, LONGEST_HOLD)


def _check_need(who: str, resource: str, units: int, capacities: dict[str, int]) -> None:
    _known(f"What {who} needs", [resource], capacities)
    whole(f"{who}, need of {shown(resource)}", units, "", 1, MOST_UNITS)
    there = capacities[resource]
    if units > there:
        are = "is" if there == 1 else "are"
        message = f"{who} needs {units} of {shown(resource)} and there {are} {there or 'none'}; need fewer or add some."
        raise EstimatorError("needs", units, message)


def _check_away(resource: Resource) -> None:
    for away in resource.away:
        whole(f"number of {shown(resource.id)} away", away.units, "", 0, MOST_UNITS)
    if Profile(resource).short_until(0, NEVER) is not None:
        message = (
            f"More of {shown(resource.id)} are away at once than the {resource.capacity} there are; count them anew."
        )
        raise EstimatorError("away", resource.capacity, message)


def _check_pinned(activity: Activity, problem: Problem) -> None:
    if activity.pinned is None:
        return
    fixed = {each.id: each.pinned for each in problem.open if each.pinned is not None}
    for link in activity.after:
        before = problem.by_id[link.activity]
        if (before.id in fixed or before.done) and problem.ready(link, fixed) <= activity.pinned:
            continue
        names = f"{shown(activity.called)} is fixed to period {activity.pinned}, before {shown(before.called)}"
        message = f"{names} and its hold are over; let it begin when it can."
        raise EstimatorError("fixed start", activity.pinned, message)


def _check_stay(stay: Stay, problem: Problem) -> None:
    _known(f"What stays in {shown(stay.resource)}", (stay.first, stay.last), problem.by_id)
    whole(f"hold after {shown(stay.last)}", stay.hold, "minutes", 0, LONGEST_HOLD)
    first, last = problem.by_id[stay.first], problem.by_id[stay.last]
    if not (first.done or first.duration or last.duration or stay.hold):
        why = f"The stay of {shown(stay.first)} in {shown(stay.resource)} takes no time"
        raise EstimatorError("stay", stay.first, f"{why}; leave it out, or give what stays there a duration.")
    if stay.first != stay.last and stay.first not in problem.ancestors[stay.last]:
        why = f"{shown(stay.last)} does not wait for {shown(stay.first)}, so it cannot end what that one begins"
        raise EstimatorError("stay", stay.last, f"{why} in {shown(stay.resource)}; let it wait.")
