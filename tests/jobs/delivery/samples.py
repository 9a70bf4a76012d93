"""A studio that builds crates as the reference says, and what it builds."""

from jobs.delivery.crate import Crate, crate_for
from jobs.delivery.crate_parts import Box, Build
from materials.estimator.lines import Term


def term(label: str, value: float, unit: str = "m") -> Term:
    return Term(label, value, unit, "this test")


def build(**changed: float) -> Build:
    values = {
        "clearance": (0.1, "m"),
        "plywood": (0.012, "m"),
        "plywood_density": (550.0, "kg/m^3"),
        "batten": (0.05, "m"),
        "batten_spacing": (0.6, "m"),
        "timber_density": (480.0, "kg/m^3"),
        "skid": (0.1, "m"),
        "skid_spacing": (1.0, "m"),
        "pad_pressure": (10.0, "kPa"),
        "pad": (0.15, "m"),
        "pad_density": (33.0, "kg/m^3"),
        "fixings": (0.02, ""),
    }
    return Build(**{name: term(name, changed.get(name, value), unit) for name, (value, unit) in values.items()})


RESTRAINT = {"forward": term("forward", 1.0, ""), "sideways": term("sideways", 0.5, "")}


def crate_of(
    piece: Box, mass_kg: float = 60.0, way: str = "standing", opening: str = "side", **changed: float
) -> Crate:
    mass = term("piece", mass_kg, "kg")
    return crate_for(piece, mass, build(**changed), way=way, opening=opening, restraint=RESTRAINT)
