"""Standing in the wind: the whole commission as it will stand, with the wind on its front and on its side."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django import forms
from django.utils.safestring import SafeString

from jobs.delivery.shadow import Rings, Shadow, shadow
from jobs.delivery.wind import SCREENING, Face, Factors, Stance, stance
from jobs.delivery.wind_blocks import block_coefficient
from jobs.delivery.wind_pressure import TERRAINS, Pressure, Terrain, basic_speed, peak_pressure
from jobs.delivery.wind_strips import CODE, pushes_on
from jobs.pictures.wind import Tipping, wind_svg
from jobs.queries.bases import base_of
from jobs.sheets.kind import About, Answer, Picture, SheetForm, SheetKind
from jobs.sheets.known import Job, Subject
from jobs.stood import FACES, Stood, balance_of_all, foot_of, middle_of, silhouettes, stood_of
from materials.estimator.errors import Missing
from materials.estimator.lines import Term
from materials.estimator.outline import ViewName
from materials.estimator.reckoned import Reckoned
from materials.units import System, display_quantity
from studio.forms import NumberField, choose
from studio.quantities import QuantityField

BLOCK = "block"
# What the wind on a face turns it across.
_BASES: Mapping[ViewName, str] = {"front": "base_deep", "side": "base_wide"}
SHAPES = {
    "force_figure": "of any shape",
    "force_board": "flat, like a board",
    "force_round": "round and smooth, upright",
    "force_round_rough": "round and rough, upright",
    "force_ball": "a ball",
    BLOCK: "an upright block",
}

# EN 1991-1-4 6.2, from memory: lower than this, gusts are not taken to shake it.
_STEADY_M = 15.0


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
class Value:
    """The wind on both faces, and what it was worked from."""

    pressure: Pressure
    faces: tuple[Stance, ...]
    terrain: Terrain
    mass: Term
    casts: int
    wind_factor: float
    rest_factor: float
    code: str
    picture: Picture


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The screening of the whole."""
    job = subject.job
    if not job.sections:
        raise Missing("Sections", "describe the first on the Form sheet.")
    stood = stood_of(job)
    outlines = {view: silhouettes(stood, view) for view in FACES}
    shadows = {view: shadow(outlines[view]) for view in FACES}
    terrain = TERRAINS[asked["terrain"]]
    mapped = Term("basic wind speed of the map", float(asked["speed"]), "m/s", "entered, or the studio's usual")
    altitude = Term("ground above the sea", asked["altitude"], "m", "entered on this sheet")
    basic = basic_speed(mapped, job.term("wind_altitude"), altitude)
    top_m = max(seen.top_m for seen in shadows.values()) + asked["plinth"]

    @lru_cache
    def at_height(height_m: float) -> Pressure:
        height = Term("height above the ground", height_m, "m", "outlines, and what it stands on")
        return peak_pressure(basic.term, terrain, height, job.term("air_density"))

    def pressed(height_m: float) -> Term:
        origin = "worked above" if height_m == top_m else "as worked at the top"
        return Term(f"peak pressure at {height_m:.2f} m", at_height(height_m).peak.value, "Pa", origin)

    balance = balance_of_all(stood, asked["base_mass"])
    mass = Term(
        "mass with its base", balance.mass.value, "kg", f"{balance.mass.formula}, from the take-off and entered"
    )
    factors = Factors(job.term("wind_factor"), job.term("rest_factor"), job.term("foot_friction"))
    bases = {name: foot_of(stood, asked[field], wide=name == "side") for name, field in _BASES.items()}
    off_m = {
        "front": abs(balance.behind.value - middle_of(stood, wide=False)),
        "side": abs(balance.aside.value - middle_of(stood, wide=True)),
    }
    coefficient = _coefficient(job, asked["shape"], shadows)
    faces = tuple(
        stance(
            Face(
                name=name,
                pushes=pushes_on(shadows[name], name, asked["plinth"], pressed),
                coefficient=coefficient,
                arm=_arm(bases[name], off_m[name]),
                base=bases[name],
            ),
            mass,
            factors,
        )
        for name in FACES
    )
    pressure = at_height(top_m)
    value = Value(
        pressure=pressure,
        faces=faces,
        terrain=terrain,
        mass=mass,
        casts=len(stood),
        wind_factor=factors.wind.value,
        rest_factor=factors.weight.value,
        code=CODE,
        picture=_picture(faces, outlines, stood, job.units),
    )
    worst = max(faces, key=lambda each: each.ballast.value)
    shaken = f"It stands {top_m:.1f} m high: above {_STEADY_M:g} m gusts may shake it, which this leaves out."
    return Answer(
        value,
        big=(worst.force, worst.turning, worst.ballast),
        workings=(basic, *pressure.workings, balance.aside, balance.behind, *_others(faces, worst)),
        cautions=(SCREENING, *((shaken,) if top_m > _STEADY_M else ())),
        headline=_headline(worst),
        stop=not worst.stands_alone,
    )


def _arm(base: Term, off_m: float) -> Term:
    words = f"half the base less the {off_m:.3f} m that shells, metal and base balance off its middle"
    return Term("centre of mass to the edge", base.value / 2 - off_m, "m", words)


def _picture(
    faces: Sequence[Stance], outlines: Mapping[ViewName, Sequence[Rings]], stood: Sequence[Stood], units: System
) -> Picture:
    """Each face across its wind: what the front catches turns it as the side is seen, and the other way round."""
    views = []
    for each in faces:
        across: ViewName = "side" if each.face.name == "front" else "front"
        middle_m, half_m = middle_of(stood, wide=across == "front"), each.face.base.value / 2
        amount, unit = display_quantity(each.force.value, "N", units)
        views.append(
            Tipping(
                name=f"wind on the {each.face.name}",
                force=f"{amount} {unit}",
                silhouettes=outlines[across],
                base_m=(middle_m - half_m, middle_m + half_m),
                middle_m=each.height_m,
            )
        )
    svg, words = wind_svg(views)
    return Picture(SafeString(svg), words)


def _others(faces: Sequence[Stance], worst: Stance) -> list[Reckoned]:
    """Every figure of both faces but those that stand large at the head."""
    large = (worst.force, worst.turning, worst.ballast)
    return [figure for face in faces for figure in face.workings if face is not worst or figure not in large]


def _coefficient(job: Job, shape: str, shadows: Mapping[ViewName, Shadow]) -> Term:
    if shape != BLOCK:
        return job.term(shape)
    height_m = max(seen.top_m for seen in shadows.values())
    value = block_coefficient(shadows["front"].breadth_m, shadows["side"].breadth_m, height_m)
    return Term("force coefficient of an upright block", value, "", "IS 875-3:2015 Table 23 by its proportions")


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
    has_more=True,
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
