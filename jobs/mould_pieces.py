"""The pieces of a section's mould as loads: each as its model tells it, or one that stands for all."""

from collections.abc import Mapping
from typing import Any

from jobs.delivery.balance import LoadPart, balanced
from jobs.delivery.mould_pieces import MouldMasses, Patch, even_patch, piece_parts
from jobs.sheets.known import Subject
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned

MEASURED = "measured on the piece of the model"


def patches_of(subject: Subject) -> tuple[Patch, ...]:
    """One to each piece where a model was parted into them; else one, which stands for all."""
    section, pieces = subject.section, subject.measures.mould.pieces
    if section is None:
        raise EstimatorError("section", None, "Choose the section whose mould it is.")
    # A model parted before pieces were weighed on it does not know where they balance.
    kept = [each for each in section.dimensions.get("mould", ()) if each.get("seam_m")]
    if len(kept) != pieces:
        return (even_patch(subject.spec.form, pieces),)
    skin_m2, seam_m = (sum(each[key] for each in kept) for key in ("area_m2", "seam_m"))
    return tuple(_measured(each, skin_m2, seam_m) for each in kept)


def _measured(piece: Mapping[str, Any], skin_m2: float, seam_m: float) -> Patch:
    return Patch(
        skin_m=tuple(piece["skin_m"]),
        seams_m=tuple(piece["seams_m"]),
        extents_m=tuple(piece["extents_m"]),
        skin_share=piece["area_m2"] / skin_m2,
        seams_share=piece["seam_m"] / seam_m,
        is_measured=True,
        origin=MEASURED,
    )


def parts_of(subject: Subject, patch: Patch) -> tuple[LoadPart, ...]:
    """One piece as the parts of a load."""
    mould, frame_kg = subject.measures.mould, subject.spec.mould.frame_kg_per_piece
    skin_kg = mould.mass_kg - mould.returns_kg - mould.pieces * frame_kg
    origin = "from the take-off"
    return piece_parts(
        patch,
        MouldMasses(
            Term("skin of the mould", skin_kg, "kg", origin),
            Term("returns of the mould", mould.returns_kg, "kg", origin),
            Term("frame", frame_kg, "kg", "of each piece, this section"),
        ),
    )


def piece_masses(subject: Subject) -> tuple[Reckoned, ...]:
    """What each piece of one mould weighs, in their order; pieces that nothing tells apart weigh the same [kg]."""
    masses = tuple(balanced(parts_of(subject, patch)).mass for patch in patches_of(subject))
    return masses if len(masses) > 1 else masses * subject.measures.mould.pieces
