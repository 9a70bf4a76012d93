"""A model's figures arranged for reading: what its sheet shows."""

from dataclasses import dataclass
from typing import Any

from jobs.forms.models import PLANE_FORMS, FitForm, PlaneForm
from jobs.models import CommissionModel
from jobs.pictures.outlines import drawing_of_model, drawing_of_model_apart
from materials.estimator.laminate import stack_of
from materials.estimator.studio import StudioFigures
from materials.mesh.standing import UNITS_M

SIZES_TRIED = ("mm", "cm", "m", "in")
LIKELY_M = (0.2, 15.0)


@dataclass(frozen=True, slots=True)
class SizeIf:
    """The extents if the file's numbers counted this unit, as they would be read [m]."""

    unit: str
    sides: str
    likely: bool


def sizes_if(model: CommissionModel) -> list[SizeIf]:
    """The model's size by each unit, for a file that does not say which."""
    extents = model.raw.get("extents", [])
    found = []
    for unit in SIZES_TRIED:
        sides = [side * UNITS_M[unit] for side in extents]
        likely = bool(sides) and LIKELY_M[0] <= max(sides) <= LIKELY_M[1]
        found.append(SizeIf(unit, " × ".join(f"{side:,.3g}" for side in sides) + " m", likely))
    return found


def skin_kg_m2(figures: StudioFigures) -> float | None:
    """Mass of the studio's usual cast with its gel coat [kg/m^2]; None where it has no usual one."""
    lay_up = figures.layups.get(figures.cast_layup)
    if lay_up is None:
        return None
    stack = stack_of(lay_up.plies, figures.value("glass_density"), figures.value("resin_density_cured"))
    return lay_up.gel_coat_kg_m2 + stack.laminate_kg_m2


def section_rows(model: CommissionModel, skin: float | None) -> list[dict[str, Any]]:
    """The sections with what the table shows besides: size in words and mass."""
    return [
        {
            **part,
            "size": " × ".join(f"{side:.2f}" for side in part["extents_m"]) + " m",
            "mass_kg": part["area_m2"] * skin if skin else None,
        }
        for part in model.cut.get("sections", [])
    ]


def _point_text(point: list[float]) -> str:
    # Adding 0 takes the minus off what rounds to nothing.
    return ", ".join(f"{round(value, 2) + 0:.2f}" for value in point)


def sheet_of(model: CommissionModel, figures: StudioFigures, units: str) -> dict[str, Any]:
    """Everything the model's sheet shows."""
    skin = skin_kg_m2(figures)
    found = model.figures
    longest = max(found["extents_m"]) if found else 0.0
    return {
        "model": model,
        "found": found,
        "size": " × ".join(f"{side:.3f}" for side in found["extents_m"]) + " m" if found else "",
        "least_box": " × ".join(f"{side:.2f}" for side in found["least_box_m"]) + " m" if found else "",
        "balance": _point_text(found["shell_centre_m"]) if found else "",
        "triangles": f"{found['triangles']:,}".replace(",", "\u00a0") if found else "",
        "mass_kg": found["area_m2"] * skin if found and skin else None,
        "unlikely": bool(found) and not LIKELY_M[0] <= longest <= LIKELY_M[1],
        "sizes_if": [] if found else sizes_if(model),
        "drawing": drawing_of_model(model, units) if found else None,
        "apart": drawing_of_model_apart(model, units) if len(model.cut.get("sections", [])) > 1 else None,
        "rows": section_rows(model, skin),
        "planes": list(model.planes.all()),
        "parts_text": ",".join(str(count) for count in model.preview_parts),
    }


def plane_forms(model: CommissionModel, bound: PlaneForm | None = None) -> list[PlaneForm]:
    """The three ways to give a plane, the one that was typed as it was typed."""
    sections = part_names(model)
    return [bound if isinstance(bound, kind) else kind(sections) for kind in PLANE_FORMS]


def part_names(model: CommissionModel) -> list[str]:
    """The numbers of the sections, lowest first."""
    return [part["name"] for part in model.cut.get("sections", [])]


def fit_form(figures: StudioFigures) -> FitForm:
    """The form for what sections must fit, with the studio's own block of foam in it."""
    block = figures.block
    sides = sorted((block.length_m, block.width_m, block.thickness_m), reverse=True)
    names = ("longest", "middle", "shortest")
    form = FitForm(initial={name: f"{side:g} m" for name, side in zip(names, sides, strict=True)})
    most = figures.value("hoist_from")
    form.fields["mass"].help_text += f" From {most:g} kg two people want a hoist."
    return form
