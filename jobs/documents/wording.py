"""A section's scope in sentences that a commissioner understands; pages and documents print the same."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, log10

from jobs.figures.scope import GlassLayers, PaintLayers, SectionScope
from materials.units import System, convert, display_quantity, format_number, format_quantity, unit_text

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
GLASS = {"csm": "glass mat", "woven": "woven glass", "stitched": "stitched glass", "tissue": "fine surface glass"}
PAINT = {"primer": "primer", "filler_primer": "high-build primer", "topcoat": "topcoat", "clearcoat": "clear coat"}
US_UNITS = {"mm": "in", "um": "mil", "kg": "lb"}
PATTERN = {
    "carved": "Carved by hand in foam, faired and sealed.",
    "milled": "Milled in foam by machine, then faired and sealed by hand.",
}
GRADE = {
    "A": "Grade A, gallery gloss: faired and polished to be looked at from close by and in raking light.",
    "B": "Grade B, painted public art: faired and painted to look even from where people stand.",
    "C": "Grade C, set or textured: the surface keeps its texture and is meant to be seen from some way off.",
}


@dataclass(frozen=True, slots=True)
class ScopeLine:
    """One fact of a section: what it is about, and the sentence."""

    topic: str
    sentence: str


def scope_lines(scope: SectionScope, *, units: System) -> list[ScopeLine]:
    """Everything a commissioner is told of a section, in the order in which it is made."""
    lines = [
        ScopeLine("Size", size_words((scope.width_m, scope.depth_m, scope.height_m), units)),
        ScopeLine("How many", _how_many(scope)),
        ScopeLine("Pattern", PATTERN[scope.pattern]),
        ScopeLine("Mould", _mould(scope)),
        ScopeLine("Cast", _cast(scope, units)),
        ScopeLine("Finish", GRADE[scope.grade]),
        ScopeLine("Paint", _paint(scope, units)),
        ScopeLine("Steel inside", _steel(scope, units)),
        ScopeLine("Mass", _mass(scope, units)),
        ScopeLine("Crate", _crate(scope)),
    ]
    return [line for line in lines if line.sentence]


def number(count: int) -> str:
    """A count in words up to twelve, in figures above."""
    return NUMBERS[count] if count < len(NUMBERS) else f"{count}"


def counted(count: int, one: str, many: str) -> str:
    """A count with its noun: "three layers"."""
    return f"{number(count)} {one if count == 1 else many}"


def size_words(values: tuple[float, float, float], units: System) -> str:
    """Width, depth and height [m] in one unit."""
    if units == "us":
        width, depth, height = (format_quantity(value, "length", units) for value in values)
    elif max(values) >= 1:
        width, depth, height = (f"{format_number(value)}\u00a0m" for value in values)
    else:
        width, depth, height = (f"{format_number(value * 1000)}\u00a0mm" for value in values)
    return f"{width} wide, {depth} deep, {height} high."


def _how_many(scope: SectionScope) -> str:
    if scope.mirrored:
        pairs = counted(scope.casts // 2, "pair", "pairs")
        return f"{_start(pairs)} of casts, left and right, one the mirror image of the other."
    if scope.casts == 1:
        return "One cast."
    source = "all from one mould" if scope.moulds == 1 else f"from {_moulds(scope)}"
    return f"{_start(number(scope.casts))} casts, {source}."


def _moulds(scope: SectionScope) -> str:
    return counted(scope.moulds, "mould", "moulds")


def _mould(scope: SectionScope) -> str:
    each = "" if scope.moulds == 1 else "each "
    return f"{_start(_moulds(scope))} of glass fibre, {each}in {counted(scope.mould_pieces, 'piece', 'pieces')}."


def _cast(scope: SectionScope, units: System) -> str:
    face = " behind a gel coat" if scope.gel_coat else ""
    thickness = _about(scope.thickness_mm, "mm", units)
    return f"{_start(_listed([_glass(glass) for glass in scope.glass]))}{face}, about {thickness} thick."


def _glass(glass: GlassLayers) -> str:
    return f"{counted(glass.layers, 'layer', 'layers')} of {GLASS[glass.kind]}"


def _paint(scope: SectionScope, units: System) -> str:
    if not scope.paint:
        return "None: the surface stays as it leaves the mould."
    system = f"{scope.paint_system.rstrip('.')}: " if scope.paint_system else ""
    coats = "; ".join(_coats(paint, units) for paint in scope.paint)
    total = _about(sum(paint.coats * paint.dry_film_um for paint in scope.paint), "um", units)
    return f"{_start(system + coats)}; about {total} of dry film in all."


def _coats(paint: PaintLayers, units: System) -> str:
    each = " each" if paint.coats > 1 else ""
    film, unit = display_quantity(paint.dry_film_um, "um", units)
    return f"{counted(paint.coats, 'coat', 'coats')} of {PAINT[paint.kind]}, {film}\u00a0{unit}{each}"


def _steel(scope: SectionScope, units: System) -> str:
    if not scope.metal_kg:
        return ""
    return f"About {_about(scope.metal_kg, 'kg', units)}{' in each' if scope.casts > 1 else ''}."


def _mass(scope: SectionScope, units: System) -> str:
    each = " each" if scope.casts > 1 else ""
    steel = ", steel included" if scope.metal_kg else ""
    return f"About {_about(scope.mass_kg, 'kg', units)}{each}{steel}, estimated."


def _crate(scope: SectionScope) -> str:
    if not scope.crated:
        return "None: it travels open."
    return "One crate." if scope.casts == 1 else "One crate for each cast."


def _about(value: float, unit: str, units: System) -> str:
    """An estimate, to the two figures that it is good for."""
    shown = US_UNITS[unit] if units == "us" else unit
    amount = convert(value, unit, shown)
    if amount:
        amount = round(amount, 1 - floor(log10(amount)))
    return f"{format_number(amount)}\u00a0{unit_text(shown)}"


def _listed(parts: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def _start(text: str) -> str:
    return text[:1].upper() + text[1:]
