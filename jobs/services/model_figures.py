"""What was measured, cut and thinned, as the numbers that a model's row keeps."""

import hashlib
import os
import tempfile
from collections.abc import Mapping
from dataclasses import asdict, replace
from typing import Any

import numpy as np

from jobs.models import preview_path
from materials.mesh.cutting import Cut, CutSection, cut
from materials.mesh.drawing import Exploded, exploded, outlines_of
from materials.mesh.facets import flat_facets
from materials.mesh.measuring import Measurements
from materials.mesh.mirror import compare_sides, mirror_of
from materials.mesh.planes import Plane
from materials.mesh.preview import MOST_FACES, preview_of
from materials.mesh.stations import form_of
from materials.mesh.triangles import Mesh
from materials.specfile import form_data, outlines_data

# A hole wider than this share of the model's longest side is not offered to be closed.
_SMALL_HOLE = 0.2
_FINE = 60_000
_LEAST_VIEW_FACES = 500
# Sections are drawn apart by this share of the longest side of any.
_GAP = 0.15
_FLAT_AT_LEAST_M2 = 0.25
# What one section and the whole have in common.
_SHARED = ("area_m2", "volume_m3", "extents_m", "centre_of_mass_m", "shell_centre_m", "bodies")


def figures_data(measured: Measurements, mesh: Mesh, thinned: Mesh, notes: tuple[str, ...]) -> dict[str, Any]:
    """The figures of the whole; flat parts and drawing are taken from the thinned mesh."""
    longest = max(measured.length_m, measured.width_m, measured.height_m)
    widest = measured.findings.holes[0].width_m if measured.findings.holes else 0.0
    facets = flat_facets(thinned)
    form = replace(form_of(mesh), largest_flat_m2=facets[0].area_m2 if facets else 0.0)
    return {
        "triangles": measured.findings.triangles,
        "bodies": measured.findings.bodies,
        "area_m2": measured.area_m2,
        "volume_m3": measured.volume_m3,
        "volume_refused": measured.volume_refused,
        "extents_m": [measured.length_m, measured.width_m, measured.height_m],
        "least_box_m": [measured.least_box.length_m, measured.least_box.width_m, measured.least_box.height_m],
        "centre_of_mass_m": measured.centre_of_mass_m,
        "shell_centre_m": measured.shell_centre_m,
        # What was found before holes were closed is not said again of what is left.
        "notes": list(dict.fromkeys((*notes, *measured.notes))),
        "close_mm": int(np.ceil(widest * 1000)) if 0 < widest <= _SMALL_HOLE * longest else 0,
        "facets": [asdict(facet) for facet in facets],
        "form": form_data(form),
        "outlines": outlines_data(outlines_of(thinned)),
    }


def mirror_data(mesh: Mesh) -> dict[str, Any] | None:
    """The plane about which a mesh is most nearly alike, and how far its sides differ; None where none comes near."""
    mirror = mirror_of(mesh)
    if mirror is None:
        return None
    sides = compare_sides(mesh, mirror.plane)
    return {
        "normal": list(mirror.plane.normal),
        "offset_m": mirror.plane.offset_m,
        "words": mirror.plane.words,
        **asdict(sides),
        "area_share": round(sides.area_percent, 2) / 100,
        "volume_share": None if sides.volume_percent is None else round(sides.volume_percent, 2) / 100,
    }


def cut_data(made: Cut, pieces: Mapping[str, tuple[Plane, ...]]) -> dict[str, Any]:
    """The sections with their seams and where each is drawn apart, each with the pieces of its own mould."""
    longest = max(max(section.extents_m) for section in made.sections)
    drawn = exploded(made, _GAP * longest)
    return {
        "sections": [
            _section_data(section, made.seam_of(section.name), pieces.get(section.name, ())) | _drawn_data(apart)
            for section, apart in zip(made.sections, drawn, strict=True)
        ],
        "seams": [{"first": seam.first, "second": seam.second, "length_m": seam.length_m} for seam in made.seams],
        "seam_m": made.seam_m,
    }


def whole_data(mesh: Mesh, figures: Mapping[str, Any], planes: tuple[Plane, ...]) -> dict[str, Any]:
    """A model that is not parted: one section with the figures of the whole, and the pieces of its mould."""
    mould = _mould_data(mesh, planes)
    section = {
        "name": "1",
        **{key: figures[key] for key in _SHARED},
        "joint_area_m2": 0.0,
        "place_m": [0.0, 0.0, 0.0],
        "apart_m": [0.0, 0.0, 0.0],
        "rim_m": 0.0,
        **mould,
        "form": {**figures["form"], "seam_m": mould["piece_seam_m"] or None},
        "outlines": figures["outlines"],
    }
    return {"sections": [section], "seams": [], "seam_m": 0.0}


def _section_data(section: CutSection, rim_m: float, planes: tuple[Plane, ...]) -> dict[str, Any]:
    mould = _mould_data(section.mesh, planes)
    flats = flat_facets(section.mesh, _FLAT_AT_LEAST_M2)
    seam_m = rim_m + mould["piece_seam_m"]
    form = replace(section.form, seam_m=seam_m or None, largest_flat_m2=flats[0].area_m2 if flats else 0.0)
    low, high = section.low_m, section.high_m
    return {
        "name": section.name,
        "area_m2": section.area_m2,
        "joint_area_m2": section.joint_area_m2,
        "volume_m3": section.volume_m3,
        "extents_m": list(section.extents_m),
        "place_m": [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]],
        "centre_of_mass_m": section.centre_of_mass_m,
        "shell_centre_m": section.shell_centre_m,
        "bodies": section.parts,
        "rim_m": rim_m,
        **mould,
        "form": form_data(form),
    }


def _mould_data(mesh: Mesh, planes: tuple[Plane, ...]) -> dict[str, Any]:
    if not planes:
        return {"pieces": [], "piece_seam_m": 0.0}
    mould = cut(mesh, planes)
    return {"pieces": [_piece_data(piece, mould) for piece in mould.sections], "piece_seam_m": mould.seam_m}


def _drawn_data(apart: Exploded) -> dict[str, Any]:
    return {"apart_m": [apart.x_m, apart.y_m, apart.z_m], "outlines": outlines_data(apart.outlines)}


def thinned_for_looks(mesh: Mesh) -> Mesh:
    """A mesh fine enough for what is looked at and compared, and quick to work on."""
    return preview_of(mesh, _FINE)


def _piece_data(piece: CutSection, mould: Cut) -> dict[str, Any]:
    """A piece, its balance and that of its seams from the middle of its extents and its foot."""
    low, high = piece.low_m, piece.high_m
    foot = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2])

    def placed(at: tuple[float, float, float]) -> list[float]:
        # To a hundredth of a millimetre; adding 0 takes the minus off what rounds to nothing.
        return [round(value - zero, 5) + 0 for value, zero in zip(at, foot, strict=True)]

    return {
        "name": piece.name,
        "area_m2": piece.area_m2,
        "extents_m": list(piece.extents_m),
        "bodies": piece.parts,
        "seam_m": mould.seam_of(piece.name),
        "skin_m": placed(piece.shell_centre_m),
        "seams_m": placed(mould.seam_centre_of(piece.name)),
    }


def view_of(meshes: list[Mesh]) -> tuple[str, list[int]]:
    """Thin the meshes for the turning view, write them down, and return the digest and the triangles of each."""
    total = sum(len(mesh.faces) for mesh in meshes)
    thinned = [preview_of(mesh, max(_LEAST_VIEW_FACES, MOST_FACES * len(mesh.faces) // total)) for mesh in meshes]
    corners = np.concatenate([mesh.vertices[mesh.faces].reshape(-1, 3) for mesh in thinned])
    content = corners.astype("<f4").tobytes()
    digest = hashlib.sha256(content).hexdigest()
    target = preview_path(digest)
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=target.parent, prefix=".coming-", delete=False) as file:
        file.write(content)
    os.replace(file.name, target)
    return digest, [len(mesh.faces) for mesh in thinned]
