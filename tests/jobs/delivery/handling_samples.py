"""The filter as it is delivered, for tests."""

from jobs.delivery.handling import REACHES, ZONES, Filter, Movement
from jobs.delivery.reference import COEFFICIENTS
from materials.estimator.lines import Term
from materials.estimator.working import figure_term


def term(key: str) -> Term:
    return figure_term(COEFFICIENTS[key])


def delivered_filter(who: str = "higher") -> Filter:
    return Filter(
        limits={(zone, reach): term(f"filter_{who}_{zone}_{reach}") for zone in ZONES for reach in REACHES},
        borders=tuple(COEFFICIENTS[f"height_{zone}"].value for zone in ZONES[1:]),
        often={2.0: term("filter_often_1"), 8.0: term("filter_often_5"), float("inf"): term("filter_often_12")},
        twist={degrees: term(f"filter_twist_{degrees}") for degrees in ("45", "90")},
        teams={2: term("team_of_two"), 3: term("team_of_three")},
    )


def movement(pick_m: float = 0.8, set_m: float = 0.9, **changed: object) -> Movement:
    given: dict[str, object] = {"reach": "close", "lifts_per_min": 0.1, "twist": "none", **changed}
    return Movement(pick_m, set_m, **given)  # type: ignore[arg-type]
