"""What is laid up at a stage: the lay-up, the area, and the layers of each session."""

from jobs.sheets.known import Subject
from materials.estimator.laminate import resin_kg_m2
from materials.estimator.layup_card import sessions_of
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned
from materials.estimator.spec import LayUp

GEL, ALL = "gel", "all"


def laid_up(subject: Subject) -> tuple[LayUp, Term]:
    """The lay-up of a section's mould or cast, and the area of one of them."""
    spec, measures = subject.spec, subject.measures
    if subject.stage == "mould":
        origin = "skin and returns of one mould, from the take-off"
        return spec.mould.layup, Term("area", measures.mould.area_m2, "m^2", origin)
    return spec.cast.layup, Term("area", measures.area_m2, "m^2", f"skin of one cast: {spec.form.origin}")


def laid_layers(subject: Subject) -> list[tuple[str, str]]:
    """The gel coat and the resin of each session, to choose from."""
    lay_up, _ = laid_up(subject)
    sessions: dict[int, list[int]] = {}
    for number, (_, session) in enumerate(sessions_of(lay_up.plies, subject.job.value("wet_layers")), start=1):
        sessions.setdefault(session, []).append(number)
    rows = [(GEL, "Gel coat")] if lay_up.gel_coat_kg_m2 else []
    rows += [(f"session-{session}", _said(session, numbers)) for session, numbers in sessions.items()]
    return rows if len(sessions) == 1 else [*rows, (ALL, "Resin of all layers")]


def _said(session: int, numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"Resin, session {session}: layer {numbers[0]}"
    return f"Resin, session {session}: layers {numbers[0]} to {numbers[-1]}"


def resin_of(subject: Subject, layer: str, area: Term) -> Reckoned:
    """Gel coat or resin of a layer for an area, with its waste."""
    lay_up, _ = laid_up(subject)
    origin = f"lay-up {lay_up.name}"
    if layer == GEL:
        weight, waste = Term("gel coat", lay_up.gel_coat_kg_m2, "kg/m^2", origin), subject.job.basis.gel_coat_waste
    else:
        wet = sessions_of(lay_up.plies, subject.job.value("wet_layers"))
        plies = [ply for ply, session in wet if layer in (ALL, f"session-{session}")]
        kg_m2 = sum(resin_kg_m2(ply.weight_kg_m2, ply.glass_fraction) for ply in plies)
        said = f"{origin}: {len(plies)} layer{'' if len(plies) == 1 else 's'} by their glass fraction"
        weight, waste = Term("resin to a square metre", kg_m2, "kg/m^2", said), subject.job.basis.resin_waste
    words = f"{weight.label} × {area.label} × (1 + {waste.label})"
    return Reckoned("all of it", weight.value * area.value * (1 + waste.value), "kg", words, (weight, area, waste))
