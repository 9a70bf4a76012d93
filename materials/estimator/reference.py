"""Every figure a studio may differ on, as delivered: unit, usual range, evidence, source.

Evidence is "found" (seen in public material), "found-secondary" (seen as
somebody else's transcription of a standard), "memory" (known, source named,
not seen) or "practice". A figure marked "common practice, no source" is what
workshops commonly reckon with and is the studio's to correct.
"""

from collections.abc import Mapping

from materials.estimator.norms import NORMS
from materials.estimator.spec import Coat, Coefficient, LayUp, Ply
from materials.estimator.studio import StudioFigures

PRACTICE = "common practice, no source"
_TABLE_C2 = "ISO 12215-5 Table C.2"
_MAKERS = "makers' data sheets, from memory"

_Row = tuple[str, str, str, float, float, float, str, str]

# Key, label, unit, low, value, high, evidence, source.
_ROWS: Mapping[str, tuple[_Row, ...]] = {
    "laminate": (
        ("glass_density", "density of E-glass", "kg/m^3", 2540, 2560, 2600, "found-secondary",
         "ISO 12215-5 Annex C constants"),
        ("resin_density_cured", "density of cured polyester", "kg/m^3", 1180, 1200, 1240, "found",
         "resin data sheet 1.20 ± 0.02; ISO 12215-5 uses 1.20"),
        ("gel_coat_density", "density of gel coat", "kg/m^3", 1100, 1200, 1350, "memory", _MAKERS),
        ("glass_fraction_csm", "glass fraction of chopped strand mat", "", 0.25, 0.30, 0.33, "found-secondary",
         f"{_TABLE_C2}: 0.30 simple, 0.25 complex surface"),
        ("glass_fraction_woven", "glass fraction of woven roving", "", 0.36, 0.48, 0.52, "found-secondary",
         f"{_TABLE_C2}: 0.48 simple, 0.36 complex surface"),
        ("glass_fraction_stitched", "glass fraction of stitched cloth", "", 0.38, 0.50, 0.55, "found-secondary",
         _TABLE_C2),
        ("glass_fraction_tissue", "glass fraction of surface tissue", "", 0.08, 0.10, 0.15, "practice", PRACTICE),
        ("allowance_gel_coat", "gel coat waste", "", 0.10, 0.15, 0.25, "practice", PRACTICE),
        ("allowance_glass", "cutting waste of glass", "", 0.05, 0.10, 0.15, "practice",
         f"{PRACTICE}: trim and darts"),
        ("allowance_overlap", "overlap of glass", "", 0.03, 0.05, 0.10, "practice",
         f"{PRACTICE}: laps of 25 to 50 mm"),
        ("allowance_resin", "resin waste", "", 0.05, 0.10, 0.20, "practice",
         f"{PRACTICE}: bucket, roller, brush, gelled batches"),
        ("catalyst_percent", "catalyst, volume on weight", "percent", 1, 2, 3, "found",
         "guides of the trade 1 to 3 %, hard limits 1 to 4 %; gel coat data sheet 1 to 2 %"),
        ("wet_layers", "wet layers in one session", "", 2, 3, 4, "practice", PRACTICE),
        ("acetone", "acetone for tools", "l/m^2", 0.10, 0.15, 0.20, "practice", PRACTICE),
    ),
    "release": (
        ("wax_coats", "wax coats on a new pattern or mould", "", 3, 5, 8, "found",
         "mould polish supplier: 3 to 4 coats; more is common practice"),
        ("wax_coats_second_pull", "wax coats before the second cast", "", 1, 2, 3, "found",
         "mould polish supplier: 2 coats"),
        ("wax_coats_later_pull", "wax coats before each later cast", "", 1, 1, 2, "found",
         "mould polish supplier: 1 coat"),
        ("wax", "wax to a coat", "kg/m^2", 0.01, 0.02, 0.03, "practice", PRACTICE),
        ("release_film_cover", "cover of release film", "m^2/l", 5, 8, 12, "memory", _MAKERS),
        ("pulls_per_mould", "casts from one mould", "", 3, 15, 40, "practice", PRACTICE),
    ),
    "pattern": (
        ("block_length", "length of a foam block", "m", 2.4, 2.4, 4.9, "practice", PRACTICE),
        ("block_width", "width of a foam block", "m", 1.2, 1.2, 1.22, "practice", PRACTICE),
        ("block_thickness", "thickness of a foam block", "m", 0.025, 0.6, 1.0, "practice", PRACTICE),
        ("foam_density", "density of pattern foam", "kg/m^3", 18, 20, 21, "memory", "merchants' EPS 100"),
        ("foam_waste", "foam cut away from blockwork", "", 0.35, 0.55, 0.65, "practice", PRACTICE),
        ("foam_adhesive", "foam adhesive to a glued face", "kg/m^2", 0.10, 0.20, 0.30, "practice", PRACTICE),
        ("filler_thickness", "filler on the foam", "mm", 3, 5, 10, "practice", PRACTICE),
        ("plaster_filler", "plaster filler to a millimetre", "kg/m^2/mm", 1.0, 1.4, 1.8, "practice", PRACTICE),
        ("filler_waste", "plaster filler waste", "", 0.10, 0.15, 0.25, "practice", PRACTICE),
        ("barrier_coats", "barrier coats on the foam", "", 2, 3, 4, "practice",
         f"{PRACTICE}: styrene must not reach the foam"),
        ("barrier_cover", "cover of a barrier coat", "m^2/l", 6, 9, 12, "practice", PRACTICE),
        ("sealer_coats", "sealer coats", "", 1, 2, 3, "practice", PRACTICE),
        ("sealer_cover", "cover of a sealer coat", "m^2/l", 8, 10, 14, "practice", PRACTICE),
    ),
    "mould": (
        ("mould_pieces", "pieces of a mould", "", 2, 2, 8, "practice", PRACTICE),
        ("return_width", "width of returns", "m", 0.05, 0.09, 0.15, "practice", PRACTICE),
        ("seam_form_factor", "seam form factor", "", 1.0, 1.0, 1.5, "practice",
         f"{PRACTICE}: 1 is exact for a sphere, raise it for figures"),
        ("bolt_pitch", "bolt pitch", "m", 0.10, 0.15, 0.25, "practice", PRACTICE),
        ("bolt_end", "end distance", "m", 0.04, 0.05, 0.06, "practice", PRACTICE),
        ("backing_frame", "backing frame of a piece", "kg", 3, 6, 12, "practice", PRACTICE),
        ("sheet_waste", "cutting waste of sheet", "", 0.10, 0.15, 0.25, "practice", PRACTICE),
        ("piece_span", "largest span of a mould piece", "m", 1.2, 2.0, 3.0, "practice",
         f"{PRACTICE}: two people and a door"),
        ("one_person_lift", "largest mass one person lifts", "kg", 16, 25, 25, "found-secondary",
         "HSE guideline filter, knuckle height and close: men 25, women 16"),
        ("hoist_from", "mass that wants a hoist", "kg", 40, 50, 60, "practice", PRACTICE),
        ("flat_panel", "largest flat without stiffening", "m^2", 0.25, 0.5, 1.0, "practice", PRACTICE),
    ),
    "joining": (
        ("strip_width", "width of joining strips", "m", 0.10, 0.15, 0.20, "practice", PRACTICE),
        ("strip_layers", "layers of joining strips", "", 2, 2, 4, "practice", PRACTICE),
    ),
    "finish": (
        ("fairing_share_a", "filled share of the skin, grade A", "", 0.5, 1.0, 1.0, "practice", PRACTICE),
        ("fairing_share_b", "filled share of the skin, grade B", "", 0.1, 0.3, 0.6, "practice", PRACTICE),
        ("fairing_share_c", "filled share of the skin, grade C", "", 0.05, 0.1, 0.3, "practice", PRACTICE),
        ("fairing_depth", "mean depth of fairing filler", "mm", 0.3, 0.5, 1.0, "practice", PRACTICE),
        ("fillet_width", "width of the seam fillet", "m", 0.02, 0.04, 0.08, "practice", PRACTICE),
        ("fillet_depth", "depth of the seam fillet", "mm", 1, 3, 5, "practice", PRACTICE),
        ("fairing_sanded", "share of filler sanded off", "", 0.3, 0.4, 0.6, "practice", PRACTICE),
        ("fairing_density", "density of fairing filler", "kg/l", 0.8, 1.0, 1.8, "practice", PRACTICE),
        ("discs_a", "sanding discs, grade A", "1/m^2", 0.8, 1.2, 2.0, "practice", PRACTICE),
        ("discs_b", "sanding discs, grade B", "1/m^2", 0.3, 0.55, 0.8, "practice", PRACTICE),
        ("discs_c", "sanding discs, grade C", "1/m^2", 0.1, 0.2, 0.4, "practice", PRACTICE),
    ),
    "metalwork": (("steel_waste", "steel offcuts", "", 0.05, 0.10, 0.15, "practice", PRACTICE),),
    "crate": (
        ("crate_clearance", "clearance in the crate", "m", 0.05, 0.10, 0.15, "practice", PRACTICE),
        ("crate_batten", "batten to a square metre of crate", "m/m^2", 1.2, 1.8, 2.5, "practice", PRACTICE),
        ("batten_waste", "batten offcuts", "", 0.05, 0.10, 0.15, "practice", PRACTICE),
    ),
    "labour": (
        ("learning_rate", "learning rate over casts from one mould", "", 0.80, 0.90, 0.95, "practice", PRACTICE),
    ),
}  # fmt: skip

COEFFICIENTS: Mapping[str, Coefficient] = {
    key: Coefficient(key, label, unit, float(value), float(low), float(high), evidence, source, topic)
    for topic, rows in _ROWS.items()
    for key, label, unit, low, value, high, evidence, source in rows
}

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
