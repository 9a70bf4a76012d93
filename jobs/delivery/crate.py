"""A crate round one piece: plywood on battens, standing on skids, the piece held by pads.

Sides stand between the ends; their battens lie outside. The ends lap over the
sides' outer battens, floor and lid over everything. Battens and skids stand at
about a spacing, so that none is left over. How crates are built is common
practice, no source; sizes and masses follow by geometry.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from materials.estimator.errors import UnknownChoice
from materials.estimator.lines import Term
from materials.estimator.ranges import rounded_up, within
from materials.estimator.reckoned import Reckoned, product, summed

GRAVITY_M_S2 = 9.81
"""As British codes reckon with it; the standard value is 9.80665 (ISO 80000-3)."""

STANDING = "standing"
WAYS = {STANDING: "standing, as it will be shown", "back": "laid on its back", "side": "laid on its side"}
OPENINGS = {"side": "a long side", "end": "an end", "lid": "the lid"}

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
    """How this studio builds its crates: each a length [m], a density [kg/m^3] or a pressure [kPa] with its source."""

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
    """Foam pads against one face of the piece: where, how many [each], and why so many."""

    where: str
    count: int
    area: Reckoned


@dataclass(frozen=True, slots=True)
class Crate:
    """One crate.

    Attributes
    ----------
    piece, inside, outside : Box
        As it stands in the crate and the crate itself; the outside with battens and skids.
    way, opening : str
        Keys of ``WAYS`` and ``OPENINGS``.
    mass, gross : Reckoned
        Empty, and with the piece [kg].
    """

    piece: Box
    inside: Box
    outside: Box
    way: str
    opening: str
    panels: tuple[Panel, ...]
    battens: tuple[Member, ...]
    skids: Member
    pads: tuple[Pads, ...]
    sizes: tuple[Reckoned, ...]
    masses: tuple[Reckoned, ...]
    mass: Reckoned
    gross: Reckoned

    @property
    def kg_per_m2(self) -> float:
        """Mass of the empty crate to a square metre of its inside [kg/m^2]; 8 to 15 is usual."""
        return self.mass.value / self.inside.surface_m2


def laid(piece: Box, way: str) -> Box:
    """A piece as it stands in its crate, its longer side along the crate.

    Parameters
    ----------
    piece : Box
        As it will be shown.
    way : str
        A key of ``WAYS``.

    Returns
    -------
    Box

    Raises
    ------
    UnknownChoice
        For any other way.
    """
    turned = {
        STANDING: (piece.length_m, piece.width_m, piece.height_m),
        "back": (piece.length_m, piece.height_m, piece.width_m),
        "side": (piece.height_m, piece.width_m, piece.length_m),
    }
    if way not in turned:
        raise UnknownChoice("Way in the crate", way, WAYS)
    length_m, width_m, height_m = turned[way]
    return Box(max(length_m, width_m), min(length_m, width_m), height_m)


def bays(span_m: float, spacing_m: float) -> int:
    """Equal bays of about a spacing.

    Parameters
    ----------
    span_m, spacing_m : float
        [m]

    Returns
    -------
    int
        One at least [each].
    """
    return max(1, round(span_m / spacing_m))


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


def crate_for(
    piece: Box, mass_kg: Term, build: Build, *, way: str, opening: str, restraint: Mapping[str, Term]
) -> Crate:
    """The crate that a piece wants.

    Parameters
    ----------
    piece : Box
        As it will be shown.
    mass_kg : Term
        What goes in [kg].
    build : Build
    way, opening : str
        Keys of ``WAYS`` and ``OPENINGS``.
    restraint : mapping of str to Term
        "forward" and "sideways", shares of the weight that pads have to hold [dimensionless].

    Returns
    -------
    Crate

    Raises
    ------
    UnknownChoice
        For a way or an opening that is none.
    OutOfRange
        For sizes or a mass that no crate has.
    """
    if opening not in OPENINGS:
        raise UnknownChoice("Opening", opening, OPENINGS)
    within("Mass of the piece", mass_kg.value, "kg", 0.1, 50_000)
    stands = laid(piece, way)
    inside = stands.grown(2 * build.clearance.value, 2 * build.clearance.value)
    wall_m = build.plywood.value + build.batten.value
    outside = inside.grown(2 * wall_m, wall_m + build.plywood.value + build.skid.value)
    panels, battens = _panels(inside, outside), _battens(inside, outside, build)
    skids = Member("skid, across", bays(outside.length_m, build.skid_spacing.value) + 1, outside.width_m)
    masses = timber_masses(
        Term("plywood in the panels", sum(p.count * p.length_m * p.width_m for p in panels), "m^2", "panels below"),
        Term("battens in all", sum(member.count * member.length_m for member in battens), "m", "battens below"),
        Term("skids in all", skids.count * skids.length_m, "m", "skids below"),
        build,
    )
    mass = summed("empty crate", "kg", [each.term for each in masses])
    return Crate(
        piece=stands,
        inside=inside,
        outside=outside,
        way=way,
        opening=opening,
        panels=panels,
        battens=battens,
        skids=skids,
        pads=_pads(mass_kg, build, restraint),
        sizes=_sizes(stands, build),
        masses=masses,
        mass=mass,
        gross=summed("crate with the piece", "kg", [mass.term, mass_kg]),
    )


def _sizes(stands: Box, build: Build) -> tuple[Reckoned, ...]:
    """Inside and outside, side by side with what makes them so [mm]."""
    found = []
    clearance, plywood, batten, skid = (
        _in_mm(term) for term in (build.clearance, build.plywood, build.batten, build.skid)
    )
    sides = (("length", stands.length_m), ("width", stands.width_m), ("height", stands.height_m))
    for name, side_m in sides:
        own = _in_mm(Term(f"{name} of the piece", side_m, "m", "take-off, as it lies in the crate"))
        inside = summed(f"{name} inside", "mm", [own, clearance, clearance])
        wall = [plywood, batten]
        more = [plywood, *wall, skid] if name == "height" else [*wall, *wall]
        found += [inside, summed(f"{name} outside", "mm", [inside.term, *more])]
    return tuple(found)


def _in_mm(term: Term) -> Term:
    return Term(term.label, term.value * 1000, "mm", term.origin)


def _panels(inside: Box, outside: Box) -> tuple[Panel, ...]:
    made = (
        ("long side", 2, inside.length_m, inside.height_m),
        ("end", 2, outside.width_m, inside.height_m),
        ("floor and lid", 2, outside.length_m, outside.width_m),
    )
    return tuple(Panel(name, count, max(one, other), min(one, other)) for name, count, one, other in made)


def _battens(inside: Box, outside: Box, build: Build) -> tuple[Member, ...]:
    between_rails_m = inside.height_m - 2 * build.batten.value
    spacing_m = build.batten_spacing.value
    members = (
        Member("long side, rails", 4, inside.length_m),
        Member("long side, uprights", 2 * (bays(inside.length_m, spacing_m) + 1), between_rails_m),
        Member("end, rails", 4, outside.width_m),
        Member("end, uprights", 2 * (bays(outside.width_m, spacing_m) - 1), between_rails_m),
        Member("lid, across", bays(outside.length_m, spacing_m) + 1, outside.width_m),
    )
    return tuple(member for member in members if member.count and member.length_m > 0)


def _pads(mass_kg: Term, build: Build, restraint: Mapping[str, Term]) -> tuple[Pads, ...]:
    """Pads that hold the piece when the lorry brakes or turns; either end may face forwards."""
    gravity = Term("gravity", GRAVITY_M_S2 / 1000, "kN/kg", "by definition")
    held: tuple[tuple[str, list[Term], int], ...] = (
        ("below", [], _LEAST_PADS_BELOW),
        ("against each end", [restraint["forward"]], _LEAST_PADS_BESIDE),
        ("against each long side", [restraint["sideways"]], _LEAST_PADS_BESIDE),
    )
    found = []
    for where, share, least in held:
        area = product(f"pads {where}", "m2", [mass_kg, gravity, *share], [build.pad_pressure])
        found.append(Pads(where, max(least, rounded_up(area.value / build.pad.value**2)), area))
    return tuple(found)


def solid_wood_rule(thickness_m: float, *, leaves_the_country: bool) -> str:
    """What has to be done to solid timber before it crosses a border.

    Parameters
    ----------
    thickness_m : float
        The thinner side of the timber [m].
    leaves_the_country : bool

    Returns
    -------
    str
        One sentence.

    Raises
    ------
    OutOfRange
        For a thickness that is none.

    References
    ----------
    ISPM 15 (FAO): 56 °C at the core for 30 minutes, and the mark; wood of 6 mm and less, plywood and other boards
    glued under heat are exempt (the 6 mm from memory).
    """
    within("Thickness of the timber", thickness_m, "m", 1e-4, 1)
    if not leaves_the_country:
        return "It stays in the country: its timber needs no treatment."
    if thickness_m <= 0.006:
        return "Timber of 6 mm and less is exempt; it needs no treatment."
    return (
        "It leaves the country: battens and skids must be heat-treated timber (56 °C at the core for 30 minutes) "
        "that bears the ISPM 15 mark; plywood is exempt."
    )
