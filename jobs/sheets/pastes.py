"""Resin thickened with filler, as the mix card asks for it and works it."""

from collections.abc import Mapping
from typing import Any

from jobs.sheets.known import Subject
from materials.estimator.lines import Term
from materials.estimator.paste import FILLERS, Paste, paste

PREFIX = "paste-"
ASKED = ("filled", "depth", "parts")


def parts_field(layer: str) -> str:
    """Where the parts of one filler are asked: what was typed for talc says nothing of silica."""
    return f"parts_{layer.removeprefix(PREFIX)}"


CAUTIONS = (
    "Fillers are fine dust that stays in the air: a P3 mask and extraction while you weigh and stir, pour low, wipe up "
    "wet. Take grades whose safety sheet names neither asbestos fibres nor crystalline silica; sanding makes dust.",
    "Stir the filler into the resin first and the catalyst last, to every corner of the bucket: what it misses never "
    "cures. The gel times are those of the neat resin, and filler changes them: time a small trial.",
    "A thick filling heats itself, shrinks and cracks: build it up in layers.",
)


def paste_layers() -> list[tuple[str, str]]:
    """The pastes to choose from."""
    return [(f"{PREFIX}{key}", f"Paste: resin with {name}") for key, name in FILLERS.items()]


def begins(subject: Subject, layer: str) -> dict[str, Any]:
    """Fairing of the skin's share at the finish, before it fillets along the seams; filler by the studio's figure."""
    job, measures = subject.job, subject.measures
    if subject.stage == "finish":
        filled_m2 = measures.area_m2 * job.value(f"fairing_share_{subject.spec.grade.lower()}")
        depth_mm = job.value("fairing_depth")
    else:
        filled_m2 = measures.seam_m * job.value("fillet_width")
        depth_mm = job.value("fillet_depth")
    parts = job.value(f"filler_parts_{layer.removeprefix(PREFIX)}")
    return {"filled": filled_m2 or 1.0, "depth": depth_mm / 1000, parts_field(layer): parts}


def filler_name(layer: str) -> str:
    """What the filler of a paste is called."""
    return FILLERS[layer.removeprefix(PREFIX)]


def paste_of(subject: Subject, layer: str, asked: Mapping[str, Any], resin_density: Term) -> Paste:
    """The paste that was asked for."""
    return paste(
        area=Term("area that is filled", asked["filled"], "m^2", "the take-off, or as entered"),
        depth=Term("depth of the paste", asked["depth"], "m", "studio figure, or as entered"),
        resin_density=resin_density,
        filler_density=subject.job.term(f"filler_density_{layer.removeprefix(PREFIX)}"),
        parts=Term(
            f"{filler_name(layer)} to 100 of resin",
            float(asked[parts_field(layer)]),
            "",
            "studio figure, or as entered",
        ),
        waste=subject.job.basis.resin_waste,
    )
