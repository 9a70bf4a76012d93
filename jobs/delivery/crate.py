"""A crate round one piece: plywood on battens, standing on skids, the piece held by pads.

Sides stand between the ends; their battens lie outside. The ends lap over the
sides' outer battens, floor and lid over everything. Battens and skids stand at
about a spacing, so that none is left over. How crates are built is common
practice, no source; sizes and masses follow by geometry.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from jobs.delivery.crate_parts import Box, Build, Member, Pads, Panel, other_masses, pads_for, timber_masses
from materials.estimator.errors import UnknownChoice
from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned, summed

STANDING = "standing"
WAYS = {STANDING: "standing, as it will be shown", "back": "laid on its back", "side": "laid on its side"}
OPENINGS = {"side": "a long side", "end": "an end", "lid": "the lid"}


@dataclass(frozen=True, slots=True)
class Crate:
    """One crate.

    Attributes
    ----------
    piece, inside, outside : Box
        As it stands in the crate and the crate itself; the outside with battens and skids.
    way, opening : str
        Keys of ``WAYS`` and ``OPENINGS``.
    masses : tuple of Reckoned
        Plywood, battens, skids, pads, and what holds them together [kg].
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
    timber = timber_masses(
        Term("plywood in the panels", sum(p.count * p.length_m * p.width_m for p in panels), "m^2", "panels below"),
        Term("battens in all", sum(member.count * member.length_m for member in battens), "m", "battens below"),
        Term("skids in all", skids.count * skids.length_m, "m", "skids below"),
        build,
    )
    pads = pads_for(mass_kg, build, restraint)
    timber_kg = Term("timber", sum(each.value for each in timber), "kg", "plywood, battens and skids, worked above")
    masses = (*timber, *other_masses(timber_kg, pads, build))
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
        pads=pads,
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
