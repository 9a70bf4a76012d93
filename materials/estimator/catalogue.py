"""What the take-off asks for, in words: every material, service and step.

Keys are stable; a price book prices them by key. Names are the trade's own:
common practice, no source.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from materials.estimator.errors import UnknownChoice
from materials.estimator.spec import COAT_KINDS

_GLASS = re.compile(r"glass_(csm|woven|stitched|tissue)_([0-9]+)")
GLASS_NAMES: Mapping[str, str] = {
    "csm": "Chopped strand mat",
    "woven": "Woven roving",
    "stitched": "Stitched cloth",
    "tissue": "Surface tissue",
}


@dataclass(frozen=True, slots=True)
class Entry:
    """A material or a sent-out service: plain name, unit of its lines, whether a firm outside does it."""

    name: str
    unit: str
    sent_out: bool = False


MATERIALS: Mapping[str, Entry] = {
    "foam_block": Entry("Foam block", "m3"),
    "cnc_milling": Entry("Milling of the pattern", "m3", sent_out=True),
    "foam_adhesive": Entry("Foam adhesive", "kg"),
    "plaster_filler": Entry("Plaster filler", "kg"),
    "barrier_coat": Entry("Barrier coat", "l"),
    "sealer": Entry("Sealer", "l"),
    "wax": Entry("Release wax", "kg"),
    "release_film": Entry("Release film (PVA)", "l"),
    "abrasive_disc": Entry("Sanding disc", "each"),
    "tooling_gel_coat": Entry("Tooling gel coat", "kg"),
    "gel_coat": Entry("Gel coat", "kg"),
    "laminating_resin": Entry("Laminating resin", "kg"),
    "catalyst": Entry("Catalyst (MEKP)", "ml"),
    "acetone": Entry("Acetone", "l"),
    "parting_sheet": Entry("Parting sheet", "m2"),
    "backing_frame": Entry("Steel box for backing frames", "kg"),
    "mould_bolt": Entry("Mould bolt with nut and washers", "each"),
    "joining_bolt": Entry("Joining bolt with nut and washers", "each"),
    "fairing_filler": Entry("Fairing filler with its hardener", "kg"),
    "primer": Entry("Primer", "l"),
    "filler_primer": Entry("High-build primer", "l"),
    "topcoat": Entry("Topcoat", "l"),
    "clearcoat": Entry("Clear coat", "l"),
    "hardener_primer": Entry("Hardener for primer", "l"),
    "hardener_filler_primer": Entry("Hardener for high-build primer", "l"),
    "hardener_topcoat": Entry("Hardener for topcoat", "l"),
    "hardener_clearcoat": Entry("Hardener for clear coat", "l"),
    "thinner": Entry("Thinner", "l"),
    "steel": Entry("Steel for armature and fittings", "kg"),
    "galvanising": Entry("Galvanising", "kg", sent_out=True),
    "crate_plywood": Entry("Plywood for crates", "m2"),
    "crate_batten": Entry("Batten for crates", "m"),
}

STEPS: Mapping[str, Mapping[str, str]] = {
    "pattern": {
        "block_up": "Block up and rough cut",
        "carve": "Carve to form",
        "hand_finish": "Finish the milled blank by hand",
        "hard_coat": "Barrier and hard coat",
        "fair": "Fair and sand",
        "seal_and_wax": "Seal, polish and wax",
    },
    "mould": {
        "part_walls": "Parting walls and returns",
        "laminate": "Gel coat and laminate",
        "frames": "Backing frames",
        "demould_and_drill": "Demould, trim, clean, drill returns",
    },
    "cast": {
        "prepare_mould": "Clean, polish and wax the mould",
        "gel_coat": "Gel coat",
        "laminate": "Laminate",
        "demould_and_trim": "Demould and trim",
        "join": "Bolt up and laminate seams inside",
    },
    "finish": {
        "fair_seams": "Fill and fair seams",
        "prepare": "Prepare for paint",
        "prime": "Prime",
        "topcoat": "Topcoat",
        "polish": "Flat and polish",
    },
    "metalwork": {"fabricate": "Make the armature", "fit": "Fit metal, base plate, inserts"},
    "crate": {"build": "Build the crate"},
}


def entry_of(material: str) -> Entry:
    """The entry of a material, glass of any weight included.

    Parameters
    ----------
    material : str
        Key of a line ("gel_coat", "glass_csm_450").

    Returns
    -------
    Entry

    Raises
    ------
    UnknownChoice
        For a key that no line carries.
    """
    if found := _GLASS.fullmatch(material):
        return Entry(f"{GLASS_NAMES[found[1]]} {found[2]} g/m²", "kg")
    if material not in MATERIALS:
        raise UnknownChoice("Material", material, (*MATERIALS, "glass_csm_450 and the like"))
    return MATERIALS[material]


def glass_words(kind: str, weight_kg_m2: float) -> str:
    """A glass as a working names it.

    Parameters
    ----------
    kind : str
        One of ``spec.GLASS_KINDS``.
    weight_kg_m2 : float
        Dry weight [kg/m^2].

    Returns
    -------
    str
        "chopped strand mat 450 g/m²".
    """
    return f"{GLASS_NAMES[kind].lower()} {round(weight_kg_m2 * 1000)} g/m²"


def paint_words(kind: str) -> str:
    """A paint as a working names it.

    Parameters
    ----------
    kind : str
        One of ``spec.COAT_KINDS``.

    Returns
    -------
    str
        "high-build primer".

    Raises
    ------
    UnknownChoice
        For a word that is no kind of paint.
    """
    if kind not in COAT_KINDS:
        raise UnknownChoice("Kind of paint", kind, COAT_KINDS)
    return MATERIALS[kind].name.lower()
