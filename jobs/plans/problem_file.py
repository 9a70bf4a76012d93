"""A problem of planning in a file: JSON in whole periods; and the plan for it, as data and as text.

The fields: ``resources``, how many there are of each by its name;
``activities``, each with ``id`` and ``duration``, and if need be ``needs``
(units by resource) and ``after`` (the ids of those that must end first).
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jobs.figures.plan.calendar import Calendar
from jobs.figures.plan.checking import LONGEST, check
from jobs.figures.plan.problem import Activity, After, Problem, Resource
from jobs.figures.plan.result import Plan
from materials.estimator.errors import WrongKind
from materials.estimator.ranges import whole
from materials.specfile.fields import Fields
from materials.specfile.json_file import read_json

FIELDS = ("resources", "activities")
OF_ACTIVITY = ("id", "duration", "needs", "after")


def read_problem(path: Path) -> Problem:
    """A problem from a JSON file; an EstimatorError says in a sentence why there is none."""
    fields = Fields(read_json(path, "a problem"), "The file", FIELDS)
    resources = tuple(Resource(name, units) for name, units in _counted(fields, "resources").items())
    listed = fields.listing("activities", "list what is to be done.")
    activities = tuple(_activity(each, f"Activity {number}") for number, each in enumerate(listed, 1))
    # Everything one after another always fits.
    horizon = max(1, sum(activity.duration for activity in activities))
    problem = Problem(Calendar(range(horizon), 1), resources, activities)
    check(problem)
    return problem


def _activity(data: object, where: str) -> Activity:
    fields = Fields(data, where, OF_ACTIVITY)
    name = fields.text("id")
    duration = fields.whole("duration")
    whole(f"duration of '{name}'", duration, "periods", 0, LONGEST)
    after = fields.listing("after", "") if fields.has("after") else []
    for each in after:
        if not isinstance(each, str):
            raise WrongKind(fields.place("after"), each, "the id of an activity, as text")
    needs = {resource: units for resource, units in _counted(fields, "needs").items() if units}
    return Activity(name, duration, needs, tuple(After(str(each)) for each in after))


def _counted(fields: Fields, key: str) -> dict[str, int]:
    """Whole numbers by name; none where the field is left out."""
    data = fields.raw(key, "") if fields.has(key) else {}
    if not isinstance(data, Mapping):
        raise WrongKind(fields.place(key), data, "a set of whole numbers by name")
    inner = Fields(data, fields.place(key), [str(name) for name in data])
    return {name: inner.whole(name) for name in data}


def as_data(problem: Problem, plan: Plan) -> dict[str, Any]:
    """The plan as JSON shows it, starts in the order of the file."""
    starts = {activity.id: plan.starts[activity.id] for activity in problem.activities}
    return {"makespan": plan.makespan, "bound": plan.bound, "proven": plan.proven, "start": starts}


def as_text(problem: Problem, plan: Plan) -> str:
    """The plan as people read it: what begins when, and how good it is."""
    width = max((len(activity.called) for activity in problem.activities), default=0)
    rows = [
        f"  {activity.called:<{width}}  {plan.starts[activity.id]:>6}  {plan.ends[activity.id]:>6}"
        for activity in sorted(problem.activities, key=lambda each: plan.starts[each.id])
    ]
    short = plan.makespan - plan.bound
    judged = "best possible" if plan.proven else f"within {short} of the best possible"
    head = f"All is done after {plan.makespan} periods ({judged}, {plan.method})."
    return "\n".join([head, "", f"  {'':<{width}}  {'begins':>6}  {'ends':>6}", *rows])
