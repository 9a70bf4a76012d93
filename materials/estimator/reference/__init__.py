"""Every figure a studio may differ on, as delivered: unit, usual range, evidence, source.

Evidence is "found" (seen in public material), "found-secondary" (seen as
somebody else's transcription of a standard), "memory" (known, source named,
not seen) or "practice". A figure marked "common practice, no source" is what
workshops commonly reckon with and is the studio's to correct. All of it was last checked on ``CHECKED_ON``:
held against what it is known from, and let stand. That is what the day says of a studio's own rows too.
"""

from collections.abc import Mapping

from materials.estimator.norms import NORMS
from materials.estimator.reference import making, mixing
from materials.estimator.reference.rows import CHECKED_ON, coefficients_of
from materials.estimator.spec import Coat, Coefficient, LayUp, Ply
from materials.estimator.studio import StudioFigures

__all__ = ["CHECKED_ON", "COEFFICIENTS", "LAYUPS", "PAINT_SYSTEMS", "studio_figures"]

COEFFICIENTS: Mapping[str, Coefficient] = coefficients_of({**making.ROWS, **mixing.ROWS})

_MAT_450 = 0.45
_MAT_FRACTION = 0.30

LAYUPS: Mapping[str, LayUp] = {
    layup.name: layup
    for layup in (
        LayUp("Workshop mould", 0.8, (Ply("csm", _MAT_450, _MAT_FRACTION, 8),), return_extra_layers=2),
        LayUp("Light skin", 0.6, (Ply("csm", _MAT_450, _MAT_FRACTION, 3),)),
        LayUp("Public skin", 0.6, (Ply("csm", _MAT_450, _MAT_FRACTION, 5),)),
        LayUp(
            "Mat and roving",
            0.6,
            (Ply("csm", _MAT_450, _MAT_FRACTION, 2), Ply("woven", 0.6, 0.48), Ply("csm", _MAT_450, _MAT_FRACTION)),
        ),
    )
}
"""Lay-ups by name: common practice, no source."""

# Solids and films are makers' usual values from memory; half is lost by conventional spray gun (found); mixing
# ratios, thinner and coats are common practice, no source.
_PRIMER = Coat("primer", 0.60, 75, 2, 0.5, hardener_per_base=0.25, thinner=0.10)
_TOPCOAT = Coat("topcoat", 0.50, 50, 2, 0.5, hardener_per_base=0.5, thinner=0.10)

PAINT_SYSTEMS: Mapping[str, tuple[Coat, ...]] = {
    "Gallery gloss": (
        Coat("primer", 0.60, 75, 1, 0.5, hardener_per_base=0.25, thinner=0.10),
        Coat("filler_primer", 0.60, 150, 2, 0.5, hardener_per_base=0.25, thinner=0.05),
        _TOPCOAT,
        Coat("clearcoat", 0.45, 50, 2, 0.5, hardener_per_base=0.5, thinner=0.05),
    ),
    "Outdoor paint": (_PRIMER, _TOPCOAT),
    "Textured paint": (Coat("primer", 0.60, 75, 1, 0.5, hardener_per_base=0.25, thinner=0.10), _TOPCOAT),
}
"""Paint systems by name: films and solids from memory, the rest common practice, no source."""


def studio_figures() -> StudioFigures:
    """A studio's figures as delivered.

    Returns
    -------
    StudioFigures
        The coefficients, norms, lay-ups and paint systems of this file; each names its source, or
        says "common practice, no source".
    """
    return StudioFigures(
        coefficients=COEFFICIENTS,
        norms=NORMS,
        layups=LAYUPS,
        paint_systems=PAINT_SYSTEMS,
        mould_layup="Workshop mould",
        cast_layup="Light skin",
        system_by_grade={"A": "Gallery gloss", "B": "Outdoor paint", "C": "Textured paint"},
    )
