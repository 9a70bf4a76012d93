"""What is lifted: a piece of a mould, one cast with the metal in it, or the whole as it stands on its base."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from jobs.delivery.balance import LoadPart, shell_centre_m
from jobs.delivery.mould_pieces import Patch
from jobs.models import Section, Shape
from jobs.mould_pieces import parts_of, patches_of
from jobs.pictures.outlines import footing
from jobs.queries.bases import base_of
from jobs.sheets.known import Job, Subject
from jobs.specs import metal_place, shape_spec
from materials.drawing.placing import Placement, stack
from materials.estimator.errors import EstimatorError
from materials.estimator.form import Form
from materials.estimator.lines import SectionFigures, Term
from materials.estimator.outline import Point
from materials.estimator.spec import SectionSpec
from materials.specfile import read_shape

Rings = tuple[tuple[Point, ...], ...]

_UPRIGHT = Placement(0.0, 0.0)
# A foot this far above the lowest one still stands on the base.
SAME_FLOOR_M = 0.02


@dataclass(frozen=True, slots=True)
class Load:
    """Its parts, its outlines from the front, and its extents [m]; of a piece of a mould, its patch."""

    name: str
    parts: tuple[LoadPart, ...]
    rings: Rings
    length_m: float
    width_m: float
    height_m: float
    patch: Patch | None = None

    def half_width_at(self, height_m: float) -> float:
        """How far its outline reaches to the nearer side of the middle at some height [m]; 0 above its top."""
        edges = [edge for ring in self.rings for edge in zip(ring, (*ring[1:], ring[0]), strict=True)]
        met = [
            x1 + (x2 - x1) * (height_m - z1) / (z2 - z1)
            for (x1, z1), (x2, z2) in edges
            if min(z1, z2) <= height_m <= max(z1, z2) and z1 != z2
        ]
        return max(0.0, min(max(met), -min(met))) if met else 0.0


def cast_load(subject: Subject) -> Load:
    """One cast of a section, standing on its foot."""
    section, spec = subject.section, subject.spec
    if section is None:
        raise EstimatorError("section", None, "Choose which section is lifted.")
    parts = tuple(cast_parts(section, spec, subject.measures, _UPRIGHT, named=""))
    form = spec.form
    name = f"one cast of {section.name}"
    return Load(name, parts, _rings(section, _UPRIGHT), form.length_m, form.width_m, form.height_m)


def piece_load(subject: Subject, number: int) -> Load:
    """A piece of the section's mould, by its number from 1, standing as it does in the mould."""
    section, patches = subject.section, patches_of(subject)
    if section is None or not 1 <= number <= len(patches):
        raise EstimatorError("piece", number, f"The mould has no piece {number} of its own; choose another.")
    patch = patches[number - 1]
    length_m, width_m, height_m = patch.extents_m
    if patch.is_measured:
        half_m, name = length_m / 2, f"piece {number} of the mould of {section.name}"
        rings: Rings = (((-half_m, 0.0), (half_m, 0.0), (half_m, height_m), (-half_m, height_m)),)
    else:
        form, name = subject.spec.form, f"a piece of the mould of {section.name}"
        narrowed = length_m / form.length_m
        rings = tuple(tuple((x * narrowed, z) for x, z in ring) for ring in _rings(section, _UPRIGHT))
    return Load(name, parts_of(subject, patch), rings, length_m, width_m, height_m, patch)


def whole_load(job: Job) -> Load:
    """Every section in its place, upon the base where one is entered."""
    base = base_of(job.commission)
    lift_m = base.thickness_m if base else 0.0
    parts: list[LoadPart] = []
    rings: list[tuple[Point, ...]] = []
    reach: list[tuple[float, float, float]] = []
    across: list[tuple[float, float]] = []
    back: list[tuple[float, float]] = []
    forms = [spec.form for spec in job.spec.sections]
    places = stack([footing(section, form) for section, form in zip(job.sections, forms, strict=True)])
    for section, spec, found, standing in zip(
        job.sections, job.spec.sections, job.take_off.sections, places, strict=True
    ):
        if found.casts != len(standing):
            raise EstimatorError(
                "casts",
                found.casts,
                f"{section.name} is cast {found.casts} times and stands {len(standing)} time"
                f"{'' if len(standing) == 1 else 's'} in the drawing; lift its casts one by one.",
            )
        for place in standing:
            at = Placement(place.x_m, place.z_m + lift_m, place.mirrored)
            back_m = back_m_of(section)
            across.append((place.x_m, place.z_m))
            back.append((back_m, place.z_m))
            parts += cast_parts(section, spec, found, at, named=f" of {section.name}", back_m=back_m)
            rings += _rings(section, at)
            reach.append((abs(at.x_m) + spec.form.length_m / 2, spec.form.width_m, at.z_m + spec.form.height_m))
    if base:
        aside_m, behind_m = middle_of_feet(across), middle_of_feet(back)
        parts.append(base_part(base.mass_kg, base.thickness_m, aside_m=aside_m, behind_m=behind_m))
        half = base.plate.length_mm / 2000
        left_m, right_m = aside_m - half, aside_m + half
        rings.append(((left_m, 0.0), (right_m, 0.0), (right_m, base.thickness_m), (left_m, base.thickness_m)))
    length_m, width_m, height_m = (max(column) for column in zip(*reach, strict=True))
    return Load("the whole", tuple(parts), tuple(rings), 2 * length_m, width_m, height_m)


def middle_of_feet(feet: Sequence[tuple[float, float]]) -> float:
    """The middle of the feet on the floor; of each how far across it stands and how high its foot is [m]."""
    floor_m = min(high_m for _, high_m in feet)
    across = [across_m for across_m, high_m in feet if high_m <= floor_m + SAME_FLOOR_M]
    return (min(across) + max(across)) / 2


def base_part(mass_kg: float, thickness_m: float, *, aside_m: float, behind_m: float) -> LoadPart:
    """The plate that everything stands on, under the middle of its feet [m]."""
    return LoadPart(
        Term("base", mass_kg, "kg", "entered for the base"),
        Term("height of the base's middle", thickness_m / 2, "m", "half its thickness"),
        Term("base to the right", aside_m, "m", "under the middle of the feet"),
        Term("base to the back", behind_m, "m", "under the middle of the feet"),
    )


def back_m_of(section: Section) -> float:
    """How far back its middle stands; a model's sections alone know [m]."""
    return float(section.dimensions["y_m"]) if section.shape == Shape.MESH else 0.0


def cast_parts(
    section: Section, spec: SectionSpec, found: SectionFigures, at: Placement, *, named: str, back_m: float = 0.0
) -> Iterator[LoadPart]:
    """One cast in its place: the shell with its filler and paint, and the metal in it where there is any."""
    form = spec.form
    x_m, y_m, z_m = shell_centre_m(form)
    is_known = form.shell_centre_m or form.centre_of_mass_m
    middle = form.origin if is_known else "taken in the middle: its form does not say"
    aside = Term(f"shell{named} to the right", at.x_m + (-x_m if at.mirrored else x_m), "m", middle)
    behind = Term(f"shell{named} to the back", back_m + y_m, "m", middle)
    high = Term(f"height of the shell{named}", at.z_m + z_m, "m", _skin_words(form))
    cast = found.cast
    made_of = f"one cast, from the take-off: laminate {cast.mass_kg:.1f} kg, filler and paint {cast.finish_kg:.1f} kg"
    yield LoadPart(Term(f"shell{named}", cast.mass_kg + cast.finish_kg, "kg", made_of), high, aside, behind)
    if cast.metal_kg:
        yield _metal_part(section, cast.metal_kg, form, at, named=f"metalwork{named}", back_m=back_m)


def _metal_part(section: Section, mass_kg: float, form: Form, at: Placement, *, named: str, back_m: float) -> LoadPart:
    """The metal where it was said to be; else an armature as high as the section, in its middle."""
    aside_m, height_m = metal_place(section)
    entered, mass = "entered with the section", Term(named, mass_kg, "kg", "entered with the section")
    high = Term(f"height of the {named}", at.z_m + (height_m or 0.0), "m", entered)
    if height_m is None:
        high = replace(high, value=at.z_m + form.height_m / 2, origin="taken at half the height, as an armature")
    aside = Term(f"{named} to the right", at.x_m + (-aside_m if at.mirrored else aside_m), "m", entered)
    if not aside_m:
        aside = replace(aside, origin="taken in the middle")
    return LoadPart(mass, high, aside, Term(f"{named} to the back", back_m, "m", "taken in the middle"))


def _skin_words(form: Form) -> str:
    return f"balance of an even skin: {form.origin}"


def _rings(section: Section, at: Placement) -> Rings:
    """Its outline from the front, in its place."""
    turned = -1.0 if at.mirrored else 1.0
    silhouette: Sequence[Sequence[Point]] = read_shape(shape_spec(section), section.name).outline("front").silhouette
    return tuple(tuple((at.x_m + turned * x, at.z_m + z) for x, z in ring) for ring in silhouette)
