"""Changes to the studio's figures and norms. Each is one transaction with its audit row."""

import datetime
from dataclasses import replace
from typing import Any

from django.db import transaction
from django.utils import timezone

from materials.estimator.catalogue import STEPS
from materials.estimator.errors import EstimatorError
from materials.estimator.spec import GLASS_KINDS, Coefficient, Norm
from materials.estimator.takeoff import take_off
from materials.models import Figure, WorkNorm
from materials.queries.figures import studio_figures
from materials.specfile import read_spec
from studio.accounts.models import User
from studio.audit import record
from studio.forms import plain_number
from studio.locking import claim

SUBJECT = "office"
CHECKED = "checked on"

# Between them these ask for every figure: all grades and glasses, steel, several casts, moulds of one piece and more,
# a form whose volume is not known.
_TRIAL: list[dict[str, Any]] = [
    {
        "name": "Ball",
        "shape": "sphere",
        "dimensions": {"diameter": "2 m"},
        "grade": "A",
        "metal": "20 kg",
        "cast": {
            "layup": {"gel_coat": "0.6 kg/m2", "plies": [{"kind": kind, "weight": "0.3 kg/m2"} for kind in GLASS_KINDS]}
        },
    },
    {
        "name": "Figure",
        "shape": "measured",
        "dimensions": {"area": "4 m2", "length": "0.8 m", "width": "0.6 m", "height": "2.5 m"},
        "grade": "B",
    },
    {
        "name": "Post",
        "shape": "cylinder",
        "dimensions": {"diameter": "0.4 m", "height": "3 m"},
        "grade": "C",
        "mould": {"pieces": 1},
        "cast": {"pulls": 4},
    },
]


# Nothing is learnt; every paid hour is productive.
_COUNTED = {"layers", "coats", "pulls", "pieces", "bays", "booths"}
_MAY_BE_WHOLE = ("learning_rate", "productive_share")


class Impossible(ValueError):
    """A figure that nothing can be worked out with; the message says why."""


@transaction.atomic
def change_figure(
    *, by: User, figure: Figure, version: int, value: float, checked_on: datetime.date | None = None
) -> None:
    """Put another value of a figure into use, or let it stand: checked today, if no day is given."""
    claim(figure, version)
    refuse_impossible(figure.key, value)
    unit = f" {figure.unit}" if figure.unit else ""
    before = {"value": f"{plain_number(figure.value)}{unit}", CHECKED: figure.checked_on}
    figure.value, figure.checked_on = value, checked_on or timezone.localdate()
    figure.save(update_fields=["value", "checked_on"])
    record(
        actor=by,
        subject=SUBJECT,
        act=f"Figure changed: {figure.label}",
        before=before,
        after={"value": f"{plain_number(value)}{unit}", CHECKED: figure.checked_on},
        has_money=figure.topic == "costing",
    )


def refuse_impossible(key: str, value: float) -> None:
    """Work a trial job by the figure, as the estimator would; what it cannot work with is refused."""
    figures = studio_figures()
    figure = figures.coefficients[key]
    name = figure.label[0].upper() + figure.label[1:]
    if _is_part(figure) and value >= 1:
        raise Impossible(f"{name} is {value:g}; it is a part of the whole, so below 1, such as {figure.value:g}.")
    if figure.key in _MAY_BE_WHOLE and not 0 < value <= 1:
        raise Impossible(f"{name} is {value:g}; enter more than 0 and at most 1, such as {figure.value:g}.")
    if _is_count(figure) and value != round(value):
        raise Impossible(f"{name} is {value:g}; enter a whole number, such as {figure.value:g}.")
    try:
        tried = {**figures.coefficients, key: replace(figure, value=value)}
        take_off(read_spec({"name": "Trial", "sections": _TRIAL}, defaults=replace(figures, coefficients=tried)))
    except ZeroDivisionError:
        raise Impossible(f"{name} is {value:g}; it must be more than nothing.") from None
    except EstimatorError as error:
        # The message begins with its place in the trial job, which nobody has seen.
        raise Impossible(str(error).rpartition(": ")[2]) from error


def _is_part(figure: Coefficient) -> bool:
    return not figure.unit and figure.high < 1 and figure.key not in _MAY_BE_WHOLE


def _is_count(figure: Coefficient) -> bool:
    """Coats, layers, pieces, casts, places: what its key names one by one, unlike a factor."""
    return not figure.unit and not _COUNTED.isdisjoint(figure.key.split("_"))


@transaction.atomic
def change_norm(
    *,
    by: User,
    norm: WorkNorm,
    version: int,
    low: float,
    likely: float,
    high: float,
    checked_on: datetime.date | None = None,
) -> None:
    """Change the hours of one step for one grade, or let them stand: checked today, if no day is given."""
    claim(norm, version)
    Norm(norm.stage, norm.step, norm.grade, norm.per, low, likely, high)
    before = _norm_in_words(norm)
    norm.low, norm.likely, norm.high, norm.checked_on = low, likely, high, checked_on or timezone.localdate()
    norm.save(update_fields=["low", "likely", "high", "checked_on"])
    step = STEPS[norm.stage][norm.step].lower()
    record(
        actor=by,
        subject=SUBJECT,
        act=f"Norm changed: {norm.stage}, {step}, grade {norm.grade}",
        before=before,
        after=_norm_in_words(norm),
    )


def _norm_in_words(norm: WorkNorm) -> dict[str, Any]:
    return {
        "at least": f"{norm.low:g} h",
        "likely": f"{norm.likely:g} h",
        "at most": f"{norm.high:g} h",
        CHECKED: norm.checked_on,
    }
