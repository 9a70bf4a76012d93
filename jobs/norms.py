"""Norms from the studio's own past: what finished stages took, beside what the norms in use give."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from jobs.figures.past_norms import MEASURES, PastStage
from materials.models import WorkNorm

PLACES = 2
"""Of a ratio: more would say more than a handful of stages knows."""
GRADES = ("A", "B", "C")
PER_WORDS = {
    "m2": "m²",
    "m2_layer": "m² and layer",
    "m2_coat": "m² and coat",
    "m_seam": "metre of seam",
    "piece": "mould piece",
    "kg": "kg of steel",
    "object": "cast",
}


@dataclass(frozen=True, slots=True)
class Spread:
    """The middle of some figures, and the half of them round it."""

    median: float
    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class Measured:
    """Hours by one measure: as booked, and as the norms in use give for the same stages."""

    measure: str
    count: int
    booked: Spread
    in_use: float

    @property
    def words(self) -> str:
        """The measure in words."""
        return PER_WORDS[self.measure]


@dataclass(frozen=True, slots=True)
class PastNorm:
    """One stage at one grade. ``ratio`` is booked over the norms in use, None where those give no hours."""

    stage: str
    grade: str
    count: int
    measured: tuple[Measured, ...]
    ratio: Spread | None

    @property
    def factor(self) -> float | None:
        """By what the norms would be multiplied; None where there is nothing to multiply."""
        return None if self.ratio is None else self.ratio.median

    @property
    def differs(self) -> bool:
        """Whether taking it over would change anything."""
        return self.factor is not None and self.factor != 1 and self.factor > 0


def past_norms(stages: Sequence[PastStage]) -> tuple[PastNorm, ...]:
    """Count, median and quartiles by stage and grade, over stages that have finished."""
    import pandas as pd

    if not stages:
        return ()
    rows = [
        (each.stage, each.grade, measure, each.hours / amount, each.norm_hours / amount)
        for each in stages
        for measure, amount in each.amounts.items()
    ]
    measured = pd.DataFrame(rows, columns=["stage", "grade", "measure", "booked", "in_use"])
    ratios = pd.DataFrame(
        [(each.stage, each.grade, each.hours / each.norm_hours if each.norm_hours else None) for each in stages],
        columns=["stage", "grade", "ratio"],
    )
    by_measure = measured.groupby(["stage", "grade", "measure"])
    by_stage = ratios.groupby(["stage", "grade"])
    found = []
    for stage, measures in MEASURES.items():
        for grade in GRADES:
            if (stage, grade) not in by_stage.groups:
                continue
            own = by_stage.get_group((stage, grade))["ratio"].dropna()
            parts = tuple(
                _measured(measure, by_measure.get_group((stage, grade, measure)))
                for measure in measures
                if (stage, grade, measure) in by_measure.groups
            )
            count = len(by_stage.groups[stage, grade])
            found.append(
                PastNorm(stage, grade, count, parts, _rounded(_spread(own.astype(float))) if len(own) else None)
            )
    return tuple(found)


def stamp_of(past: PastNorm, norms: Sequence[WorkNorm]) -> str:
    """A mark that differs as soon as the past or the norms it would change are others than were shown."""
    shown = [past.stage, past.grade, past.count, past.factor, [(row.pk, row.version) for row in norms]]
    return hashlib.sha256(repr(shown).encode()).hexdigest()


def _measured(measure: str, rows: Any) -> Measured:
    return Measured(measure, len(rows), _spread(rows["booked"]), float(rows["in_use"].median()))


def _rounded(ratio: Spread) -> Spread:
    return Spread(*(round(value, PLACES) for value in (ratio.median, ratio.lower, ratio.upper)))


def _spread(figures: Any) -> Spread:
    lower, median, upper = (float(value) for value in figures.quantile([0.25, 0.5, 0.75]))
    return Spread(median, lower, upper)
