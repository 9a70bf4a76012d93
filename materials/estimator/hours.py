"""Hours: each step by its norm, times what drives it, times how many are made.

Casts taken one after another from one mould get quicker by the unit
(Crawford) learning curve: the n-th takes y_n = a n^b of the first, b =
log2(rate). It is applied to cast and finish, run by run; pattern, mould,
metalwork and crate do not learn. Norms and rate are common practice, no source.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from materials.estimator.catalogue import STEPS
from materials.estimator.counts import Counts
from materials.estimator.errors import Missing, UnknownChoice
from materials.estimator.lines import HourLine, Term
from materials.estimator.ranges import whole, within
from materials.estimator.seams import Seams
from materials.estimator.spec import Norm, SectionSpec
from materials.estimator.working import Basis

NormKey = tuple[str, str, str]

_HOURS_PER: Mapping[str, tuple[str, str]] = {
    "m2": ("hours to a square metre", "h/m^2"),
    "m2_layer": ("hours to a square metre of a layer", "h/m^2"),
    "m2_coat": ("hours to a square metre of a coat", "h/m^2"),
    "m_seam": ("hours to a metre of seam", "h/m"),
    "piece": ("hours to a piece", "h"),
    "kg": ("hours to a kilogram", "h/kg"),
    "object": ("hours to each", "h"),
}
_PAINTED_BY: Mapping[str, tuple[str, ...]] = {
    "prime": ("primer", "filler_primer"),
    "topcoat": ("topcoat", "clearcoat"),
}


@lru_cache(maxsize=4096)
def crawford_sum(units: int, rate: float) -> float:
    """Units made one after another, in units as long as the first: sum of n^b, b = log2(rate).

    Parameters
    ----------
    units : int
    rate : float
        Time of each doubled unit over that of the one before [dimensionless].

    Returns
    -------
    float
        [dimensionless]

    Raises
    ------
    OutOfRange
        For fewer than one unit, or a rate outside 0.5 to 1.

    References
    ----------
    The unit model of the learning curve, after J. R. Crawford; from memory.
    """
    whole("Units made one after another", units, "", 1, 1_000_000)
    within("Learning rate", rate, "", 0.5, 1)
    exponent = math.log2(rate)
    return math.fsum(unit**exponent for unit in range(1, units + 1))


@dataclass(frozen=True, slots=True)
class StepNorm:
    """A norm, and its likely hours as a working shows them [h]."""

    norm: Norm
    likely: Term


def norms_by_key(norms: tuple[Norm, ...]) -> Mapping[NormKey, StepNorm]:
    """Norms by grade, stage and step, ready to be worked with.

    Parameters
    ----------
    norms : tuple of Norm

    Returns
    -------
    mapping of (grade, stage, step) to StepNorm
    """
    return {(norm.grade, norm.stage, norm.step): StepNorm(norm, _likely(norm)) for norm in norms}


def _likely(norm: Norm) -> Term:
    label, unit = _HOURS_PER[norm.per]
    spread = f"{norm.low:g} to {norm.high:g}"
    return Term(label, norm.likely, unit, f"studio norm, grade {norm.grade}, {spread}: common practice, no source")


@dataclass(frozen=True, slots=True)
class _Work:
    """What one stage of a section is measured by, and how many times it is done."""

    section: SectionSpec
    run: Term
    skin: Term
    many: Term


def hour_lines(
    section: SectionSpec, seams: Seams, counts: Counts, basis: Basis, norms: Mapping[NormKey, StepNorm]
) -> tuple[HourLine, ...]:
    """Hours of every step of a section, for all that are made of it.

    Parameters
    ----------
    section : SectionSpec
    seams : Seams
    counts : Counts
    basis : Basis
    norms : mapping of (grade, stage, step) to StepNorm

    Returns
    -------
    tuple of HourLine
        Steps that take no time are left out.

    Raises
    ------
    Missing
        When a step of the section has no norm.
    OutOfRange
        For a learning rate outside 0.5 to 1.
    """
    skin = Term("skin area", section.form.area_m2, "m^2", section.form.origin)
    learnt = _learnt(counts, basis)
    made = {"pattern": counts.pattern_term, "mould": counts.mould_term, "cast": learnt, "finish": learnt}
    lines = []
    for stage, steps in STEPS.items():
        run = seams.run if stage == "mould" else seams.joined
        work = _Work(section, run, skin, made.get(stage, counts.cast_term))
        for step in steps:
            if _is_done(section, stage, step):
                found = norms.get((section.grade, stage, step))
                if found is None:
                    raise Missing(f"Norm for {stage}, {step}, grade {section.grade}", "give one, or 0 hours.")
                lines.append(_line(found, work))
    return tuple([line for line in lines if line.high > 0])


def _learnt(counts: Counts, basis: Basis) -> Term:
    rate = basis.value("learning_rate")
    runs = " and ".join(f"{run.moulds} of {run.pulls}" for run in counts.runs)
    return Term(
        "casts with learning",
        sum(run.moulds * crawford_sum(run.pulls, rate) for run in counts.runs),
        "",
        f"{counts.made}; runs: {runs}; unit (Crawford) curve, the n-th takes n^log₂({rate:g}) of the first",
    )


def _is_done(section: SectionSpec, stage: str, step: str) -> bool:
    if stage == "pattern" and section.pattern.method == "milled":
        return step not in ("block_up", "carve")
    if stage == "pattern":
        return step != "hand_finish"
    if stage == "finish" and step != "fair_seams":
        return bool(section.coats)
    if stage == "metalwork":
        return section.metal_kg > 0
    return stage != "crate" or section.crated


def _line(step: StepNorm, work: _Work) -> HourLine:
    norm = step.norm
    driving = _drivers(norm, work)
    amount = work.many.value
    for term in driving:
        amount *= term.value
    terms = (*driving, step.likely, work.many)
    return HourLine(
        section=work.section.name,
        stage=norm.stage,
        step=norm.step,
        low=amount * norm.low,
        likely=amount * norm.likely,
        high=amount * norm.high,
        formula=" × ".join([term.label for term in terms]),
        terms=terms,
    )


def _drivers(norm: Norm, work: _Work) -> tuple[Term, ...]:
    section = work.section
    match norm.per:
        case "m2":
            return (work.skin,)
        case "m2_layer":
            layup = section.mould.layup if norm.stage == "mould" else section.cast.layup
            return work.skin, Term("layers", sum(ply.layers for ply in layup.plies), "", f"lay-up {layup.name}")
        case "m2_coat":
            kinds = _PAINTED_BY.get(norm.step, ())
            coats = sum(coat.coats for coat in section.coats if coat.kind in kinds)
            return work.skin, Term("coats", coats, "", "paint system")
        case "m_seam":
            return (work.run,)
        case "piece":
            return (Term("pieces", section.mould.pieces, "", "this section"),)
        case "kg":
            return (Term("metal in a cast", section.metal_kg, "kg", "entered"),)
        case "object":
            return ()
        case _:
            raise UnknownChoice("Norm per", norm.per, _HOURS_PER)
