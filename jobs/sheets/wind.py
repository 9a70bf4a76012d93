"""Standing in the wind: the whole commission as it will stand, with the wind on its front and on its side."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.safestring import SafeString

from jobs.delivery.balance import shell_centre_m
from jobs.delivery.shadow import Rings, shadow
from jobs.delivery.wind import (
    SCREENING,
    TERRAINS,
    Face,
    Factors,
    Pressure,
    Stance,
    Terrain,
    basic_speed,
    peak_pressure,
    stance,
)
from jobs.delivery.wind_blocks import block_coefficient
from jobs.models import Section, Shape
from jobs.pictures.outlines import footing
from jobs.pictures.wind import Tipping, wind_svg
from jobs.queries.bases import base_of
from jobs.sheets.kind import About, Answer, Picture, SheetForm, SheetKind
from jobs.sheets.known import Job, Subject
from jobs.specs import shape_spec
from materials.drawing import Placement, stack
from materials.estimator.errors import Missing
from materials.estimator.form import Form
from materials.estimator.lines import Term
from materials.estimator.outline import Outline, ViewName
from materials.estimator.reckoned import Reckoned
from materials.estimator.spec import SectionSpec
from materials.specfile import read_shape
from materials.units import System, display_quantity
from studio.forms import NumberField, choose
from studio.quantities import QuantityField

FACES: tuple[ViewName, ...] = ("front", "side")
BLOCK = "block"
SHAPES = {
    "force_figure": "of any shape",
    "force_board": "flat, like a board",
    "force_round": "round and smooth, upright",
    "force_round_rough": "round and rough, upright",
    "force_ball": "a ball",
    BLOCK: "an upright block",
}

# A foot this far above the lowest one still stands on the base.
_SAME_FLOOR_M = 0.02


class WindForm(SheetForm):
    """Where it will stand, and on what."""

    speed = NumberField(
        label="Basic wind speed, m/s",
        help_text="From the wind map of the place; not a gust.",
        wanted="the basic wind speed of the place in m/s, such as 23",
        low="10",
        high="80",
        decimals=1,
    )
    altitude = QuantityField(
        kind="length",
        system="metric",
        allow_zero=True,
        label="Ground above the sea",
        error_messages={"required": "Enter the ground's height above the sea, such as 80 m."},
    )
    terrain = forms.ChoiceField(
        label="The wind comes over",
        choices=[(each.key, each.name) for each in TERRAINS.values()],
        error_messages=choose("Choose what the wind comes over."),
    )
    plinth = QuantityField(
        kind="length",
        system="metric",
        allow_zero=True,
        label="Stands above the ground",
        help_text="Plinth or mound.",
        error_messages={"required": "Enter how high it stands above the ground, such as 0 m."},
    )
    shape = forms.ChoiceField(
        label="To the wind it is", choices=list(SHAPES.items()), error_messages=choose("Choose what it is to the wind.")
    )
    base_wide = QuantityField(
        kind="length",
        system="metric",
        label="Base, from left to right",
        help_text="Left blank: its own foot.",
        required=False,
    )
    base_deep = QuantityField(
        kind="length",
        system="metric",
        label="Base, from front to back",
        help_text="Left blank: its own foot.",
        required=False,
    )
    base_mass = QuantityField(
        kind="mass",
        system="metric",
        allow_zero=True,
        label="Base or ballast fixed to it",
        error_messages={"required": "Enter the mass of what is fixed to it, such as 0 kg."},
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The studio's usual wind over open country, and the commission's own base where one was entered."""
        base = base_of(subject.job.commission)
        own = {"base_wide": base.plate.length_mm / 1000, "base_deep": base.plate.width_mm / 1000} if base else {}
        return {
            **own,
            "speed": subject.job.value("wind_basic"),
            "altitude": 0.0,
            "terrain": "II",
            "plinth": 0.0,
            "shape": "force_figure",
            "base_mass": base.mass_kg if base else 0.0,
        }


@dataclass(frozen=True, slots=True)
class Stood:
    """One cast in its place: its form, outlines and mass, the middle of its extents and its foot [m], [kg]."""

    form: Form
    outlines: Mapping[ViewName, Outline]
    mass_kg: float
    x_m: float
    y_m: float
    z_m: float
    mirrored: bool


@dataclass(frozen=True, slots=True)
class Value:
    """The wind on both faces, and what it was worked from."""

    pressure: Pressure
    faces: tuple[Stance, ...]
    terrain: Terrain
    mass: Term
    casts: int
    wind_factor: float
    rest_factor: float
    picture: Picture


def _stood(job: Job) -> list[Stood]:
    shapes = [read_shape(shape_spec(section), section.name) for section in job.sections]
    footings = [footing(section, shape.form()) for section, shape in zip(job.sections, shapes, strict=True)]
    found = []
    rows = zip(job.sections, shapes, job.spec.sections, job.take_off.sections, stack(footings), strict=True)
    for section, shape, spec, measures, places in rows:
        outlines = {view: shape.outline(view) for view in FACES}
        found += [_placed(section, spec, outlines, measures.cast.whole_kg, place) for place in places]
    return found


def _placed(
    section: Section, spec: SectionSpec, outlines: Mapping[ViewName, Outline], mass_kg: float, place: Placement
) -> Stood:
    y_m = section.dimensions["y_m"] if section.shape == Shape.MESH else 0.0
    return Stood(spec.form, outlines, mass_kg, place.x_m, y_m, place.z_m, place.mirrored)


def _silhouettes(stood: Sequence[Stood], view: ViewName) -> list[Rings]:
    """The outlines of everything in its place, from the front or from the side."""
    found: list[Rings] = []
    for each in stood:
        across_m = each.x_m if view == "front" else each.y_m
        turned = -1.0 if each.mirrored and view == "front" else 1.0
        rings = each.outlines[view].silhouette
        found.append([[(across_m + turned * x, each.z_m + z) for x, z in ring] for ring in rings])
    return found


def _foot(stood: Sequence[Stood], entered_m: float | None, *, wide: bool) -> Term:
    """The base from edge to edge: as entered, or round the feet on the floor."""
    label = "base from left to right" if wide else "base from front to back"
    if entered_m is not None:
        return Term(label, entered_m, "m", "the commission's base, or entered on this sheet")
    floor_m = min(each.z_m for each in stood)
    ends = []
    for each in stood:
        if each.z_m <= floor_m + _SAME_FLOOR_M:
            own_m = each.form.stations[0].length_m if wide else each.form.stations[0].width_m
            middle_m = each.x_m if wide else each.y_m
            ends += [middle_m - own_m / 2, middle_m + own_m / 2]
    if max(ends) - min(ends) <= 0:
        raise Missing(label.capitalize(), "its own foot is a point or an edge; enter the base that it stands on.")
    return Term(label, max(ends) - min(ends), "m", "its own foot, from the take-off")


def _off_middle(stood: Sequence[Stood], *, wide: bool) -> float:
    """How far the centre of mass stands from the middle of the feet, by the sections' own centres."""
    total = sum(each.mass_kg for each in stood)
    place = 0 if wide else 1
    moment = 0.0
    for each in stood:
        own_m = shell_centre_m(each.form)[place]
        turned = -1.0 if each.mirrored and wide else 1.0
        moment += each.mass_kg * ((each.x_m if wide else each.y_m) + turned * own_m)
    return moment / total - _middle(stood, wide=wide)


def _middle(stood: Sequence[Stood], *, wide: bool) -> float:
    floor_m = min(each.z_m for each in stood)
    middles = [each.x_m if wide else each.y_m for each in stood if each.z_m <= floor_m + _SAME_FLOOR_M]
    return (min(middles) + max(middles)) / 2


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The screening of the whole."""
    job = subject.job
    if not job.sections:
        raise Missing("Sections", "describe the first on the Form sheet.")
    stood = _stood(job)
    outlines = {view: _silhouettes(stood, view) for view in FACES}
    shadows = {view: shadow(outlines[view]) for view in FACES}
    plinth_m = asked["plinth"]
    terrain = TERRAINS[asked["terrain"]]
    mapped = Term("basic wind speed of the map", float(asked["speed"]), "m/s", "entered, or the studio's usual")
    altitude = Term("ground above the sea", asked["altitude"], "m", "entered on this sheet")
    basic = basic_speed(mapped, job.term("wind_altitude"), altitude)
    top_m = max(seen.top_m for seen in shadows.values())
    top = Term("height of its top", top_m + plinth_m, "m", "outlines, and what it stands on")
    pressure = peak_pressure(basic.term, terrain, top, job.term("air_density"))
    own_kg = sum(each.mass_kg for each in stood)
    mass = Term(
        "mass with its base",
        own_kg + asked["base_mass"],
        "kg",
        f"casts and metal {own_kg:.1f} kg from the take-off, base {asked['base_mass']:g} kg",
    )
    factors = Factors(job.term("wind_factor"), job.term("rest_factor"), job.term("foot_friction"))
    bases = {"front": _foot(stood, asked["base_deep"], wide=False), "side": _foot(stood, asked["base_wide"], wide=True)}
    faces = []
    for name in FACES:
        seen, wide = shadows[name], name == "side"
        off_m = abs(_off_middle(stood, wide=wide))
        face = Face(
            name=name,
            area=Term(f"shadow from the {name}", seen.area_m2, "m^2", "outlines; what hides another is counted once"),
            height=Term("middle of the shadow above the foot", seen.middle_m, "m", "outlines"),
            coefficient=_coefficient(job, asked["shape"], stood, top_m),
            arm=Term(
                "centre of mass to the edge",
                bases[name].value / 2 - off_m,
                "m",
                f"half the base less {off_m:.3f} m off its middle",
            ),
            base=bases[name],
        )
        faces.append(stance(face, pressure.peak.term, mass, factors))
    picture = _picture(faces, outlines, stood, job.units)
    value = Value(pressure, tuple(faces), terrain, mass, len(stood), factors.wind.value, factors.weight.value, picture)
    worst = max(faces, key=lambda each: each.ballast.value)
    return Answer(
        value,
        big=(worst.force, worst.turning, worst.ballast),
        workings=(basic, *pressure.workings, *_others(faces, worst)),
        cautions=(SCREENING,),
        headline=_headline(worst),
        stop=not worst.stands_alone,
    )


def _picture(
    faces: Sequence[Stance], outlines: Mapping[ViewName, Sequence[Rings]], stood: Sequence[Stood], units: System
) -> Picture:
    """Each face across its wind: what the front catches turns it as the side is seen, and the other way round."""
    views = []
    for each in faces:
        across: ViewName = "side" if each.face.name == "front" else "front"
        middle_m, half_m = _middle(stood, wide=across == "front"), each.face.base.value / 2
        amount, unit = display_quantity(each.force.value, "N", units)
        views.append(
            Tipping(
                name=f"wind on the {each.face.name}",
                force=f"{amount} {unit}",
                silhouettes=outlines[across],
                base_m=(middle_m - half_m, middle_m + half_m),
                middle_m=each.face.height.value,
            )
        )
    svg, words = wind_svg(views)
    return Picture(SafeString(svg), words)


def _others(faces: Sequence[Stance], worst: Stance) -> list[Reckoned]:
    """Every figure of both faces but those that stand large at the head."""
    large = (worst.force, worst.turning, worst.ballast)
    return [figure for face in faces for figure in face.workings if face is not worst or figure not in large]


def _coefficient(job: Job, shape: str, stood: Sequence[Stood], height_m: float) -> Term:
    if shape != BLOCK:
        return job.term(shape)
    front_m, side_m = (_extent(stood, view) for view in ("front", "side"))
    value = block_coefficient(front_m, side_m, height_m)
    return Term("force coefficient of an upright block", value, "", "IS 875-3:2015 Table 23 by its proportions")


def _extent(stood: Sequence[Stood], view: ViewName) -> float:
    ends = []
    for each in stood:
        own_m, middle_m = (each.form.length_m, each.x_m) if view == "front" else (each.form.width_m, each.y_m)
        ends += [middle_m - own_m / 2, middle_m + own_m / 2]
    return max(ends) - min(ends)


def _headline(worst: Stance) -> str:
    if worst.stands_alone:
        return "By this screening its own weight holds it. Few hollow pieces do: have an engineer confirm it."
    if worst.turning.value < 1:
        return f"It turns over in this wind from the {worst.face.name} unless it is anchored or ballasted."
    if worst.sliding.value < 1:
        return f"It slides in this wind from the {worst.face.name} unless it is anchored or ballasted."
    return f"Its weight holds it from the {worst.face.name} only without the margin wanted: anchor or ballast it."


KIND = SheetKind(
    key="wind",
    title="Standing in the wind",
    says="Wind pressure, force, overturning, sliding, ballast or anchors: a screening.",
    about=About.COMMISSION,
    stages=("install",),
    build=build,
    keeps="wind",
    form=WindForm,
    offered=lambda subject: bool(subject.job.sections),
    cautions=(
        "Wind blows harder in gaps, at corners and on hilltops than this reckons; ice, people who climb and lean, and "
        "a lorry's bump are not in it.",
        "Until it is fixed it stands tied down or lies: a half-built hollow piece sails first.",
        "Anchors in glass fibre or in the ground hold only as tested: pull-out tests on the site.",
    ),
    judgement="An engineer designs base, armature and fixings; this screening replaces no design and no site visit.",
)
