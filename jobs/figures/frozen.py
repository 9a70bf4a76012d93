"""A take-off as plain values that JSON keeps, and back again."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from materials.estimator.lines import (
    CastFigures,
    Caution,
    HourLine,
    Line,
    MouldFigures,
    PatternFigures,
    SectionFigures,
    TakeOff,
    Term,
)


def frozen_take_off(take_off: TakeOff) -> dict[str, Any]:
    """Every line with its working, as dicts, lists, texts and numbers.

    Parameters
    ----------
    take_off : TakeOff

    Returns
    -------
    dict
        Which ``thawed_take_off`` reads.
    """
    return asdict(take_off)


def thawed_take_off(kept: Mapping[str, Any]) -> TakeOff:
    """The take-off that was kept.

    Parameters
    ----------
    kept : mapping
        As ``frozen_take_off`` gave it, also after a passage through JSON.

    Returns
    -------
    TakeOff
        Equal to the one that was frozen.
    """
    return TakeOff(
        name=kept["name"],
        sections=tuple(
            SectionFigures(
                **{
                    **section,
                    "pattern": PatternFigures(**section["pattern"]),
                    "mould": MouldFigures(**section["mould"]),
                    "cast": CastFigures(**section["cast"]),
                }
            )
            for section in kept["sections"]
        ),
        lines=tuple(Line(**{**line, "terms": _terms(line)}) for line in kept["lines"]),
        hours=tuple(HourLine(**{**hours, "terms": _terms(hours)}) for hours in kept["hours"]),
        warnings=tuple(Caution(**caution) for caution in kept["warnings"]),
    )


def _terms(kept: Mapping[str, Any]) -> tuple[Term, ...]:
    return tuple(Term(**term) for term in kept["terms"])
