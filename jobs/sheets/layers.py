"""What is laid up at a stage: the lay-up, the area, and the layers of each session."""

import math

from jobs.sheets.known import Subject
from materials.estimator.laminate import resin_kg_m2
from materials.estimator.layup_card import Besides, sessions_of
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned
from materials.estimator.spec import LayUp

GEL, BESIDES, ALL = "gel", "besides", "all"


def laid_up(subject: Subject) -> tuple[LayUp, Term]:
    """The lay-up of a section's mould or cast, and the area of one of them."""
    spec, measures = subject.spec, subject.measures
    if subject.stage == "mould":
        origin = "skin and returns of one mould, from the take-off"
        return spec.mould.layup, Term("area", measures.mould.area_m2, "m^2", origin)
    return spec.cast.layup, Term("area", measures.area_m2, "m^2", f"skin of one cast: {spec.form.origin}")


def laid_besides(subject: Subject) -> Besides | None:
    """What one of them carries besides its lay-up: more layers on a mould's returns, strips that join a cast."""
    spec, measures = subject.spec, subject.measures
    if subject.stage == "mould":
        returns = Term("area of the returns", measures.mould.area_m2 - measures.area_m2, "m^2", "the take-off")
        origin = f"lay-up {spec.mould.layup.name}: extra layers"
        found = Besides(spec.mould.layup.extra_plies, returns, "more on the returns", origin)
    else:
        joining = spec.cast.joining
        strips_m2 = measures.seam_m * joining.strip_width_m
        strips = Term("area of the joining strips", strips_m2, "m^2", "seam × width of the strips")
        found = Besides(joining.plies, strips, "in the joining strips", "joining of this section")
    return found if found.plies and found.area.value > 0 else None


def laid_layers(subject: Subject) -> list[tuple[str, str]]:
    """The gel coat, the resin of each session and of what is laid besides, to choose from."""
    (lay_up, _), besides = laid_up(subject), laid_besides(subject)
    sessions: dict[int, list[int]] = {}
    for number, (_, session) in enumerate(sessions_of(lay_up.plies, subject.job.value("wet_layers")), start=1):
        sessions.setdefault(session, []).append(number)
    rows = [(GEL, "Gel coat")] if lay_up.gel_coat_kg_m2 else []
    resins = [(f"session-{session}", _said(session, numbers)) for session, numbers in sessions.items()]
    if besides:
        resins.append((BESIDES, f"Resin, {besides.layers} layer{'' if besides.layers == 1 else 's'} {besides.where}"))
    return [*rows, *resins, *([(ALL, "Resin of all layers")] if len(resins) > 1 else [])]


def _said(session: int, numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"Resin, session {session}: layer {numbers[0]}"
    return f"Resin, session {session}: layers {numbers[0]} to {numbers[-1]}"


def resin_of(subject: Subject, layer: str, area: Term) -> Reckoned:
    """Gel coat or resin of a layer for an area, with its waste; what is laid besides in its share of that area."""
    lay_up, whole = laid_up(subject)
    origin, waste = f"lay-up {lay_up.name}", subject.job.basis.resin_waste
    parts: list[tuple[Term, ...]] = []
    if layer == GEL:
        parts, waste = [(Term("gel coat", lay_up.gel_coat_kg_m2, "kg/m^2", origin),)], subject.job.basis.gel_coat_waste
    elif layer != BESIDES:
        wet = sessions_of(lay_up.plies, subject.job.value("wet_layers"))
        plies = [ply for ply, session in wet if layer in (ALL, f"session-{session}")]
        kg_m2 = sum(resin_kg_m2(ply.weight_kg_m2, ply.glass_fraction) for ply in plies)
        said = f"{origin}: {len(plies)} layer{'' if len(plies) == 1 else 's'} by their glass fraction"
        parts = [(Term("resin to a square metre", kg_m2, "kg/m^2", said),)]
    besides = laid_besides(subject)
    if besides and layer in (BESIDES, ALL):
        share = Term(
            f"{besides.area.label} to a square metre",
            besides.area.value / whole.value,
            "",
            f"take-off: {besides.area.value:.4g} of {whole.value:.4g} m²",
        )
        parts.append((besides.resin, share))
    laid = sum(math.prod(term.value for term in part) for part in parts)
    words = " + ".join(" × ".join(term.label for term in part) for part in parts)
    if len(parts) > 1:
        words = f"({words})"
    terms = (*(term for part in parts for term in part), area, waste)
    value = laid * area.value * (1 + waste.value)
    return Reckoned("all of it", value, "kg", f"{words} × {area.label} × (1 + {waste.label})", terms)
