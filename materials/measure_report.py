"""What was measured of a model, for scripts and for a plain screen."""

from collections.abc import Sequence
from typing import Any

from materials.mesh.measuring import Measurements
from materials.units import format_number

# The widest; a model of loose faces has thousands.
_MOST_HOLES = 100


def as_data(name: str, measured: Measurements, notes: Sequence[str]) -> dict[str, Any]:
    """The measurements as JSON carries them, every number at full precision."""
    box = measured.least_box
    findings = measured.findings
    return {
        "file": name,
        "triangles": findings.triangles,
        "area_m2": measured.area_m2,
        "volume_m3": measured.volume_m3,
        "volume_refused": measured.volume_refused,
        "extents_m": [measured.length_m, measured.width_m, measured.height_m],
        "least_box_m": [box.length_m, box.width_m, box.height_m],
        "centre_of_mass_m": measured.centre_of_mass_m,
        "shell_centre_m": measured.shell_centre_m,
        "closed": findings.closed,
        "bodies": measured.findings.bodies,
        "overlap_m3": measured.overlap_m3,
        "open_edges": findings.open_edges,
        "holes": [{"edge_m": hole.edge_m, "width_m": hole.width_m} for hole in findings.holes[:_MOST_HOLES]],
        "points_joined": findings.points_joined,
        "duplicates_dropped": findings.duplicates_dropped,
        "faces_turned": findings.faces_turned,
        "notes": list(notes),
    }


def as_text(name: str, measured: Measurements, notes: Sequence[str]) -> str:
    """The measurements as a short report."""
    box = measured.least_box
    rows = [
        ("triangles", format_number(measured.findings.triangles)),
        ("area", f"{format_number(measured.area_m2, 4)} m²"),
        ("volume", "none" if measured.volume_m3 is None else f"{format_number(measured.volume_m3, 5)} m³"),
        ("extents", _sides(measured.length_m, measured.width_m, measured.height_m)),
        ("least box", _sides(box.length_m, box.width_m, box.height_m)),
        ("centre of mass", "none" if measured.centre_of_mass_m is None else _spot(measured.centre_of_mass_m)),
        ("centre of the shell", _spot(measured.shell_centre_m)),
        ("closed", "yes" if measured.findings.closed else "no"),
        ("bodies", format_number(measured.findings.bodies)),
    ]
    width = max(len(label) for label, _ in rows)
    return "\n".join([name, *(f"  {label.ljust(width)}  {value}" for label, value in rows), *notes])


def _sides(*sides_m: float) -> str:
    return " × ".join(format_number(side, 3) for side in sides_m) + " m"


def _spot(point_m: tuple[float, float, float]) -> str:
    # A middle that is out by rounding alone is no minus nought.
    x, y, z = (format_number(round(value, 3) + 0.0, 3) for value in point_m)
    return f"{x}, {y}, {z} m from the middle and the foot"
