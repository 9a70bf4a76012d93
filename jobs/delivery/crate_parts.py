"""What a crate is made of: boards, battens, skids and pads, how a studio builds with them, and what they weigh.

How crates are built is common practice, no source; masses follow by geometry.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from materials.estimator.lines import Term
from materials.estimator.ranges import rounded_up, within
from materials.estimator.reckoned import Reckoned, product

GRAVITY_M_S2 = 9.81
"""As British codes reckon with it; the standard value is 9.80665 (ISO 80000-3)."""

_LEAST_PADS_BELOW, _LEAST_PADS_BESIDE = 4, 2


@dataclass(frozen=True, slots=True)
class Box:
    """Length, width and height of something upright [m]."""

    length_m: float
    width_m: float
    height_m: float

    def __post_init__(self) -> None:
        for name, side in (("Length", self.length_m), ("Width", self.width_m), ("Height", self.height_m)):
            within(name, side, "m", 1e-4, 100)

    @property
    def surface_m2(self) -> float:
        """All six faces [m^2]."""
        return 2 * (self.length_m * self.width_m + self.length_m * self.height_m + self.width_m * self.height_m)

    def grown(self, along_m: float, up_m: float) -> "Box":
        """Larger by so much in length and width, and in height.

        Parameters
        ----------
        along_m, up_m : float
            Added in all, both ends together [m].

        Returns
        -------
        Box
        """
        return Box(self.length_m + along_m, self.width_m + along_m, self.height_m + up_m)


@dataclass(frozen=True, slots=True)
class Build:
    """How this studio builds its crates, each with its source.

    Lengths [m], densities [kg/m^3], what a pad bears [kPa], and what screws, nails and brackets add to the timber, as a
    share of its mass [dimensionless].
    """

    clearance: Term
    plywood: Term
    plywood_density: Term
    batten: Term
    batten_spacing: Term
    timber_density: Term
    skid: Term
    skid_spacing: Term
    pad_pressure: Term
    pad: Term
    pad_density: Term
    fixings: Term

    def __post_init__(self) -> None:
        limits = {
            self.clearance: (0, 1),
            self.plywood: (0.004, 0.05),
            self.batten: (0.015, 0.2),
            self.batten_spacing: (0.1, 2),
            self.skid: (0.02, 0.4),
            self.skid_spacing: (0.2, 3),
            self.pad: (0.02, 1),
        }
        for term, (low, high) in limits.items():
            within(term.label.capitalize(), term.value, "m", low, high)
        for density in (self.plywood_density, self.timber_density):
            within(density.label.capitalize(), density.value, "kg/m³", 100, 1500)
        within(self.pad_density.label.capitalize(), self.pad_density.value, "kg/m³", 5, 500)
        within(self.fixings.label.capitalize(), self.fixings.value, "", 0, 0.3, "It is a share of the timber.")
        within(self.pad_pressure.label.capitalize(), self.pad_pressure.value, "kPa", 0.1, 1000)


@dataclass(frozen=True, slots=True)
class Panel:
    """Equal boards of a crate: name, how many [each], the longer and the shorter side [m]."""

    name: str
    count: int
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class Member:
    """Equal lengths of timber: name, how many [each], how long [m]."""

    name: str
    count: int
    length_m: float


@dataclass(frozen=True, slots=True)
class Pads:
    """Foam pads: where, against how many faces of the piece, how many to a face [each], and why so many."""

    where: str
    faces: int
    count: int
    area: Reckoned


def timber_masses(plywood_m2: Term, batten_m: Term, skid_m: Term, build: Build) -> tuple[Reckoned, Reckoned, Reckoned]:
    """What plywood, battens and skids weigh.

    Parameters
    ----------
    plywood_m2, batten_m, skid_m : Term
        Area [m^2], and lengths of square timber [m].
    build : Build

    Returns
    -------
    tuple of Reckoned
        [kg]
    """
    return (
        product("plywood", "kg", [plywood_m2, build.plywood, build.plywood_density]),
        product("battens", "kg", [batten_m, build.batten, build.batten, build.timber_density]),
        product("skids", "kg", [skid_m, build.skid, build.skid, build.timber_density]),
    )


def other_masses(timber_kg: Term, pads: Sequence[Pads], build: Build) -> tuple[Reckoned, Reckoned]:
    """What pads weigh, as thick as the clearance that they fill, and what holds the timber together.

    Parameters
    ----------
    timber_kg : Term
        Plywood, battens and skids [kg].
    pads : sequence of Pads
    build : Build

    Returns
    -------
    tuple of Reckoned
        Pads; screws, nails and brackets [kg].
    """
    count = Term("pads in all", sum(each.faces * each.count for each in pads), "", "pads below, on every face")
    thick = Term("thickness of a pad", build.clearance.value, "m", "it fills the clearance")
    return (
        product("pads", "kg", [count, build.pad, build.pad, thick, build.pad_density]),
        product("screws and brackets", "kg", [timber_kg, build.fixings]),
    )


def pads_for(mass_kg: Term, build: Build, restraint: Mapping[str, Term]) -> tuple[Pads, ...]:
    """Pads that hold the piece when the lorry brakes or turns; either end may face forwards.

    Parameters
    ----------
    mass_kg : Term
        Of the piece [kg].
    build : Build
    restraint : mapping of str to Term
        "forward" and "sideways", shares of the weight that pads have to hold [dimensionless].

    Returns
    -------
    tuple of Pads
    """
    gravity = Term("gravity", GRAVITY_M_S2 / 1000, "kN/kg", "by definition")
    held: tuple[tuple[str, list[Term], int, int], ...] = (
        ("below", [], 1, _LEAST_PADS_BELOW),
        ("against each end", [restraint["forward"]], 2, _LEAST_PADS_BESIDE),
        ("against each long side", [restraint["sideways"]], 2, _LEAST_PADS_BESIDE),
    )
    found = []
    for where, share, faces, least in held:
        area = product(f"pads {where}", "m2", [mass_kg, gravity, *share], [build.pad_pressure])
        found.append(Pads(where, faces, max(least, rounded_up(area.value / build.pad.value**2)), area))
    return tuple(found)
