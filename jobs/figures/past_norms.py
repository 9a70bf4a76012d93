"""A finished stage against the norms: what it took, what it was measured by, and what the norms in use would give.

The norms that a quote was worked by are in its lines; a line is brought to the
norms of today in proportion. Common practice, no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from materials.estimator.errors import EstimatorError
from materials.estimator.ranges import within
from materials.estimator.spec import Norm

STEEL = "steel"
MINUTES = 60

MEASURES: Mapping[str, tuple[str, ...]] = {
    "pattern": ("m2",),
    "mould": ("m2", "m_seam", "piece"),
    "cast": ("m2", "m_seam"),
    "finish": ("m2", "m_seam"),
    "metalwork": ("kg",),
    "crate": ("object",),
}
"""What each stage is measured by, that by which it is first compared in front."""

_MADE = {"pattern": "patterns", "mould": "moulds"}

StepNorms = Mapping[tuple[str, str, str], Norm]


@dataclass(frozen=True, slots=True)
class PastStage:
    """One finished stage of one section.

    Attributes
    ----------
    stage, grade : str
    hours : float
        Booked [h].
    norm_hours : float
        What the norms in use give for the same work [h].
    amounts : mapping of str to float
        By ``MEASURES``: m2 of skin [m^2], m_seam [m], piece, object [each], kg [kg].
    """

    stage: str
    grade: str
    hours: float
    norm_hours: float
    amounts: Mapping[str, float]


def past_stage(stage: str, section: str, minutes: int, kept: Mapping[str, Any], norms: StepNorms) -> PastStage | None:
    """A finished stage by the take-off that its quote kept.

    Parameters
    ----------
    stage, section : str
        As the budget names them.
    minutes : int
        Booked [minute].
    kept : mapping
        The specification and the take-off of the quote, under "spec" and "take_off".
    norms : mapping of (stage, step, grade) to Norm
        Those in use.

    Returns
    -------
    PastStage or None
        None where the quote has no such section, or no norm drives the stage.
    """
    grade = next((each.get("grade", "") for each in kept["spec"]["sections"] if each["name"] == section), "")
    figures = next((each for each in kept["take_off"]["sections"] if each["name"] == section), None)
    lines = [line for line in kept["take_off"]["hours"] if (line["section"], line["stage"]) == (section, stage)]
    if not grade or figures is None or not lines or stage not in MEASURES:
        return None
    made = figures[_MADE.get(stage, "casts")]
    steel = sum(
        line["net"]
        for line in kept["take_off"]["lines"]
        if (line["section"], line["stage"], line["material"]) == (section, stage, STEEL)
    )
    all_amounts = {
        "m2": figures["area_m2"] * made,
        "m_seam": figures["seam_m"] * made,
        "piece": figures["mould"]["pieces"] * made,
        "object": float(made),
        "kg": steel,
    }
    return PastStage(
        stage=stage,
        grade=grade,
        hours=minutes / MINUTES,
        norm_hours=sum(_at_norm(line, norms.get((stage, line["step"], grade))) for line in lines),
        amounts={measure: all_amounts[measure] for measure in MEASURES[stage] if all_amounts[measure] > 0},
    )


def scaled(norm: Norm, factor: float) -> Norm:
    """A norm with its hours in proportion.

    Parameters
    ----------
    norm : Norm
    factor : float
        Above 0 [dimensionless].

    Returns
    -------
    Norm
        Its hours to a ten-thousandth.

    Raises
    ------
    EstimatorError
        When the factor is nought or less, or not finite.
    """
    within("factor of the norms", factor, "", 0.0, None)
    if not factor:
        raise EstimatorError("factor of the norms", factor, "The factor of the norms is 0; it must be above 0.")
    low, likely, high = (round(hours * factor, 4) for hours in (norm.low, norm.likely, norm.high))
    return Norm(norm.stage, norm.step, norm.grade, norm.per, low, likely, high)


def _at_norm(line: Mapping[str, Any], norm: Norm | None) -> float:
    """A kept line's likely hours by the norm of today: its amount, taken from its terms, times the norm."""
    amount = 1.0
    for term in line["terms"]:
        if not term["label"].startswith("hours to "):
            amount *= term["value"]
    return amount * norm.likely if norm else float(line["likely"])
