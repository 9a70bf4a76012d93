"""The rows a new studio begins with: figures, norms, lay-ups, paint systems, and a catalogue without prices.

It only ever adds what is missing, so a later migration may call it again when
the reference has grown; what a studio has changed stays changed.
"""

from collections.abc import Mapping
from dataclasses import asdict
from decimal import Decimal
from typing import Any, NamedTuple

from materials.estimator.catalogue import MATERIALS, entry_of
from materials.estimator.norms import NORMS
from materials.estimator.reference import CHECKED_ON, COEFFICIENTS, studio_figures
from materials.estimator.spec import Coefficient

# Six months below 25 °C: a supplier's advice for polyester, makers' for peroxide from memory.
HALF_A_YEAR_DAYS = 180


class Particulars(NamedTuple):
    """What a catalogue row needs besides name and unit.

    Densities are those of the trade reference or makers' data sheets from
    memory [kg/m^3]; days from order to delivery are common practice, no source.
    """

    kind: str
    lead_days: int = 3
    density_kg_m3: float | None = None
    shelf_life_days: int | None = None


KNOWN: dict[str, Particulars] = {
    "foam_block": Particulars("foam", 5, 20.0),
    "cnc_milling": Particulars("service", 10),
    "foam_adhesive": Particulars("consumable", shelf_life_days=HALF_A_YEAR_DAYS * 2),
    "plaster_filler": Particulars("filler"),
    "barrier_coat": Particulars("coating"),
    "sealer": Particulars("coating"),
    "wax": Particulars("release"),
    "release_film": Particulars("release"),
    "abrasive_disc": Particulars("consumable"),
    "tooling_gel_coat": Particulars("resin", 3, 1200.0, HALF_A_YEAR_DAYS),
    "gel_coat": Particulars("resin", 3, 1200.0, HALF_A_YEAR_DAYS),
    "laminating_resin": Particulars("resin", 3, 1120.0, HALF_A_YEAR_DAYS),
    "catalyst": Particulars("catalyst", 3, 1180.0, HALF_A_YEAR_DAYS),
    "acetone": Particulars("consumable", 3, 790.0),
    "parting_sheet": Particulars("timber"),
    "backing_frame": Particulars("metal", 5, 7850.0),
    "mould_bolt": Particulars("fixing"),
    "joining_bolt": Particulars("fixing"),
    "fairing_filler": Particulars("filler", 3, 1000.0, HALF_A_YEAR_DAYS),
    "primer": Particulars("coating"),
    "filler_primer": Particulars("coating"),
    "topcoat": Particulars("coating", 5),
    "clearcoat": Particulars("coating"),
    "hardener_primer": Particulars("catalyst"),
    "hardener_filler_primer": Particulars("catalyst"),
    "hardener_topcoat": Particulars("catalyst"),
    "hardener_clearcoat": Particulars("catalyst"),
    "thinner": Particulars("coating"),
    "steel": Particulars("metal", 5, 7850.0),
    "galvanising": Particulars("service", 7),
    "crate_plywood": Particulars("timber", 3, 550.0),
    "crate_batten": Particulars("timber", 3, 480.0),
}

# Weights in which glass is commonly sold [g/m^2]; any other enters with the first lay-up that uses it.
GLASS = (
    "glass_csm_225", "glass_csm_300", "glass_csm_450", "glass_csm_600", "glass_woven_300", "glass_woven_600",
    "glass_woven_800", "glass_stitched_450", "glass_stitched_600", "glass_tissue_30",
)  # fmt: skip

# What no take-off asks for and every price needs: key, name, kind, unit, days ahead.
BESIDES = (
    ("bench_hour", "Bench hour", "hour", "h", 0),
    ("overhead_hour", "Overhead to a bench hour", "hour", "h", 0),
    ("haulage", "Haulage", "service", "each", 5),
    ("crane", "Crane hire", "service", "each", 10),
    ("access_equipment", "Access equipment hire", "service", "each", 5),
    ("engineer", "Structural engineer", "service", "each", 15),
    ("install", "Installation", "service", "h", 0),
    ("spraying", "Spraying by a paint shop", "service", "m2", 10),
)

DESCRIPTIONS = {
    "Gallery gloss": "Two-pack primer, high-build primer flatted smooth, gloss topcoat and clear coat",
    "Outdoor paint": "Two-pack primer and topcoat for outdoors",
    "Textured paint": "Two-pack primer and topcoat over the texture as cast",
}

_UNIT_WORDS = {"h": "1 hour", "each": "1", "kg": "1 kg", "m2": "1 m²", "m3": "1 m³"}


def seed(apps: Any) -> None:
    """Add every reference row that is missing; ``apps`` is a migration's registry of models."""
    seed_figures(apps.get_model("materials", "Figure"), COEFFICIENTS)
    _seed_norms(apps.get_model("materials", "WorkNorm"))
    _seed_lay_ups(apps.get_model("materials", "LayUp"), apps.get_model("materials", "LayUpPly"))
    _seed_paint(apps.get_model("materials", "PaintSystem"), apps.get_model("materials", "PaintCoat"))
    _seed_catalogue(apps.get_model("materials", "Item"), apps.get_model("materials", "Pack"))


def seed_figures(figure: Any, coefficients: Mapping[str, Coefficient]) -> None:
    """Add the figures that are missing, by their keys."""
    for key, known in coefficients.items():
        values = {**asdict(known), "begun_with": known.value, "checked_on": CHECKED_ON}
        figure.objects.get_or_create(key=key, defaults=_columns_of(figure, values))


def _columns_of(model: Any, values: dict[str, Any]) -> dict[str, Any]:
    """What the model has a column for: early migrations seed tables without those that came later."""
    there = {field.name for field in model._meta.fields}
    return {name: value for name, value in values.items() if name in there}


def _seed_norms(work_norm: Any) -> None:
    for norm in NORMS:
        work_norm.objects.get_or_create(
            stage=norm.stage,
            step=norm.step,
            grade=norm.grade,
            defaults=_columns_of(
                work_norm,
                {
                    "per": norm.per,
                    "low": norm.low,
                    "likely": norm.likely,
                    "high": norm.high,
                    "checked_on": CHECKED_ON,
                },
            ),
        )


def _seed_lay_ups(lay_up: Any, lay_up_ply: Any) -> None:
    if lay_up.objects.exists():
        return
    figures = studio_figures()
    for name, value in figures.layups.items():
        row = lay_up.objects.create(
            name=name,
            use="mould" if name == figures.mould_layup else "cast",
            gel_coat_kg_m2=value.gel_coat_kg_m2,
            return_extra_layers=value.return_extra_layers,
            is_default=name in (figures.mould_layup, figures.cast_layup),
            **_columns_of(lay_up, {"checked_on": CHECKED_ON}),
        )
        for position, ply in enumerate(value.plies, start=1):
            lay_up_ply.objects.create(
                lay_up=row,
                position=position,
                kind=ply.kind,
                weight_kg_m2=ply.weight_kg_m2,
                glass_fraction=ply.glass_fraction,
                layers=ply.layers,
            )


def _seed_paint(paint_system: Any, paint_coat: Any) -> None:
    if paint_system.objects.exists():
        return
    figures = studio_figures()
    grades = {name: grade for grade, name in figures.system_by_grade.items()}
    for name, coats in figures.paint_systems.items():
        row = paint_system.objects.create(
            name=name,
            description=DESCRIPTIONS[name],
            default_grade=grades.get(name, ""),
            **_columns_of(paint_system, {"checked_on": CHECKED_ON}),
        )
        for position, coat in enumerate(coats, start=1):
            paint_coat.objects.create(
                system=row,
                position=position,
                kind=coat.kind,
                volume_solids=coat.volume_solids,
                dry_film_um=coat.dry_film_um,
                coats=coat.coats,
                loss=coat.loss,
                hardener_per_base=coat.hardener_per_base,
                thinner=coat.thinner,
            )


def _seed_catalogue(item: Any, pack: Any) -> None:
    rows = [(key, entry_of(key).name, KNOWN[key], entry_of(key).unit) for key in MATERIALS]
    rows += [(key, entry_of(key).name, Particulars("glass"), entry_of(key).unit) for key in GLASS]
    rows += [(key, name, Particulars(kind, days), unit) for key, name, kind, unit, days in BESIDES]
    for key, name, known, unit in rows:
        row, added = item.objects.get_or_create(key=key, defaults={"name": name, "unit": unit, **known._asdict()})
        # Hours and sent-out work are priced by the unit, so that a price can be entered at once.
        if added and known.kind in ("hour", "service"):
            pack.objects.create(item=row, label=_UNIT_WORDS[unit], quantity=Decimal(1))
        if added and key == "foam_block":
            block = studio_figures().block
            sides = (block.length_m, block.width_m, block.thickness_m)
            label = f"{' × '.join(f'{side * 1000:.0f}' for side in sides)} mm"
            volume = round(
                Decimal(str(block.length_m)) * Decimal(str(block.width_m)) * Decimal(str(block.thickness_m)), 4
            )
            pack.objects.create(item=row, label=label, quantity=volume)
