"""The panel check: whether each flat part of a cast is stiff and strong enough, and what would make it so."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from jobs.sheets.flats import Flat, flats_of
from jobs.sheets.kind import About, Answer, SheetForm, SheetKind
from jobs.sheets.known import Subject
from materials.estimator.errors import Missing
from materials.estimator.laminate import Stack, stack_of, thickness_mm
from materials.estimator.lines import Term
from materials.estimator.panel import UNMEASURED, Case, Limits, Loads, PanelCheck, check_panel, strength_of
from materials.estimator.plates import Plate, pressure_coefficients
from materials.estimator.reckoned import Reckoned, product
from studio.forms import NumberField, choose
from studio.quantities import QuantityField

MOST_FLATS = 6
EDGES = {"supported": "resting on its edges", "clamped": "held fast at its edges"}
LOADS = {"wind": "Wind", "push": "A push by hand"}
_TABLE_C4 = "ISO 12215-5:2008 Annex C, Table C.4 a), seen second-hand"


@dataclass(frozen=True, slots=True)
class Row:
    """One case as the table prints it."""

    load: str
    edges: str
    case: Case


@dataclass(frozen=True, slots=True)
class FlatChecked:
    """One flat, its check, its cases in words."""

    flat: Flat
    check: PanelCheck
    rows: tuple[Row, ...]

    @property
    def core_times(self) -> float:
        """How many times as stiff the core makes it [dimensionless]."""
        remedies = self.check.remedies
        return remedies.core_times or 0 if remedies else 0


@dataclass(frozen=True, slots=True)
class Value:
    """Every flat that was checked, and how many smaller ones were left."""

    flats: tuple[FlatChecked, ...]
    left: int
    ply: str


class PanelForm(SheetForm):
    """The loads, and a panel of other sides where one is wanted."""

    wind = NumberField(label="Wind pressure, N/m²", wanted="the pressure in N/m², such as 500", high="5000")
    push = NumberField(label="Push by hand, N", wanted="the push in newton, such as 500", high="5000")
    long = QuantityField(
        kind="length", system="metric", label="Longer side", required=False, help_text="For a panel of your own."
    )
    short = QuantityField(
        kind="length", system="metric", label="Shorter side", required=False, help_text="For a panel of your own."
    )
    glass = forms.ChoiceField(
        label="Glass content",
        choices=[("reckoned", "as the lay-up says"), ("measured", "measured on a sample")],
        error_messages=choose("Choose how the glass content is known."),
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The studio's own loads."""
        job = subject.job
        return {"wind": job.value("panel_wind"), "push": job.value("hand_push"), "glass": "reckoned"}

    def clean(self) -> dict[str, Any]:
        """A panel of one's own has two sides, the longer first."""
        cleaned = super().clean() or {}
        long, short = cleaned.get("long"), cleaned.get("short")
        if not self.errors and (long is None) != (short is None):
            self.add_error("short" if short is None else "long", "Enter both sides of the panel, or neither.")
        elif long and short and short > long:
            self.add_error("short", "Enter the longer side as the longer one.")
        return cleaned


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """Every flat of the section, or the panel that was entered."""
    job, lay_up = subject.job, subject.spec.cast.layup
    densities = job.value("glass_density"), job.value("resin_density_cured")
    stack = stack_of(lay_up.plies, *densities)
    first = lay_up.plies[0]
    ply_mm = thickness_mm(first.weight_kg_m2, first.glass_fraction, *densities)
    measured = asked["glass"] == "measured"
    strength = strength_of(stack.glass_fraction, measured=measured)
    loads = Loads(
        Term("wind", float(asked["wind"]), "N/m^2", "studio figure, or as entered"),
        Term("push", float(asked["push"]), "N", "studio figure, or as entered"),
        job.term("palm"),
    )
    limits = Limits(job.term("panel_safety"), job.term("panel_span_share"))
    flats, left = _flats(subject, asked)
    checked = []
    for flat in flats:
        plate = Plate(flat.long_m, flat.short_m, stack.thickness_mm, strength.modulus)
        check = check_panel(plate, strength.flexural, ply_mm, loads, limits)
        checked.append(FlatChecked(flat, check, tuple(_rows(check))))
    worst = next((each for each in checked if not each.check.passes), checked[0])
    figures = _laminate(stack, strength.flexural, strength.modulus, measured, lay_up.name, limits)
    return Answer(
        Value(tuple(checked), left, f"{first.weight_kg_m2 * 1000:.0f} g/m²"),
        big=(*_remedies(worst), figures[0]),
        workings=(*figures[1:], *_deflections(worst, loads)),
        headline=_headline(worst, len(checked)),
        stop=not worst.check.passes,
    )


def _flats(subject: Subject, asked: Mapping[str, Any]) -> tuple[list[Flat], int]:
    if asked.get("long"):
        return [Flat("panel as entered", asked["long"], asked["short"])], 0
    least = subject.job.value("flat_panel")
    large = [flat for flat in flats_of(subject) if flat.area_m2 >= least]
    if not large:
        raise Missing(
            f"A flat of at least {least:g} m²",
            "this section has none that is known; enter the sides of a panel instead.",
        )
    return large[:MOST_FLATS], len(large[MOST_FLATS:])


def _rows(check: PanelCheck) -> list[Row]:
    return [Row(LOADS[case.load], EDGES[case.edges], case) for case in check.cases]


def _headline(worst: FlatChecked, count: int) -> str:
    name = f"{worst.flat.words.capitalize()}, {worst.flat.long_m:.2f} × {worst.flat.short_m:.2f} m"
    if worst.check.passes:
        return "Stiff and strong enough as it is." if count == 1 else "Every flat is stiff and strong enough as it is."
    if worst.check.too_flexible:
        return f"{name}: too flexible as a flat single skin."
    if not all(case.strong for case in worst.check.cases):
        return f"{name}: not strong enough for these loads."
    return f"{name}: stiff enough only where its edges are held fast."


def _remedies(worst: FlatChecked) -> tuple[Reckoned, ...]:
    """What would make the worst flat pass, each alone, as figures to act on."""
    remedies = worst.check.remedies
    if remedies is None:
        return ()
    limit = Term("deflection allowed", worst.check.most_mm, "mm", "half the thickness, or the span's share")
    tried = "tried one after another until every load passes with the edges only resting"
    found = (
        ("more layers", remedies.plies, "each"),
        ("or a core", remedies.core_mm, "mm"),
    )
    return tuple(Reckoned(name, value, unit, tried, (limit,)) for name, value, unit in found if value)


def _laminate(
    stack: Stack, flexural: float, modulus: float, measured: bool, name: str, limits: Limits
) -> tuple[Reckoned, ...]:
    fraction = Term("glass fraction", stack.glass_fraction, "", f"lay-up {name}")
    sure = Term(
        "share that counts",
        1.0 if measured else UNMEASURED,
        "",
        f"1 where the glass content is measured, else 0.8: {_TABLE_C4}",
    )
    terms = (sure, fraction)
    strength = Reckoned(
        "flexural strength", flexural, "N/mm2", f"{sure.label} × (502 × {fraction.label}² + 107)", terms
    )
    safety = limits.safety
    return (
        Reckoned(
            "thickness", stack.thickness_mm, "mm", "each ply by its weight, glass fraction and densities", terms[1:]
        ),
        Reckoned("modulus", modulus, "N/mm2", f"{sure.label} × (38 000 × {fraction.label} − 5 000)", terms),
        strength,
        product("stress allowed", "N/mm2", [strength.term], [safety]),
    )


def _deflections(worst: FlatChecked, loads: Loads) -> list[Reckoned]:
    """Wind on the worst flat, by each edge; past half the thickness linear theory forecasts nothing."""
    plate, found = worst.check.plate, []
    for case in worst.check.cases:
        if case.load != "wind":
            continue
        beta, alpha = pressure_coefficients(plate.long_m / plate.short_m, case.edges)
        terms = (
            loads.wind,
            Term("short side", plate.short_m, "m", worst.flat.words),
            Term("thickness", plate.thickness_mm, "mm", "lay-up"),
            Term("modulus", plate.modulus_mpa, "N/mm^2", _TABLE_C4),
            Term("beta", beta, "", f"plate theory, long over short side {plate.long_m / plate.short_m:.3g}"),
            Term("alpha", alpha, "", "plate theory"),
        )
        edges = EDGES[case.edges]
        found.append(
            Reckoned(
                f"stress by wind, {edges}",
                case.bent.stress_mpa,
                "N/mm2",
                "beta × wind × short side² ÷ thickness²",
                terms,
            )
        )
        if case.linear:
            words = "alpha × wind × short side⁴ ÷ (modulus × thickness³)"
            found.append(Reckoned(f"deflection by wind, {edges}", case.bent.deflection_mm, "mm", words, terms))
    return found


def has_flats(subject: Subject) -> bool:
    """Whether any flat of the section is large enough to be looked at."""
    least = subject.job.value("flat_panel")
    return any(flat.area_m2 >= least for flat in flats_of(subject))


KIND = SheetKind(
    key="panel",
    title="Panel check",
    says="Whether each flat part is stiff enough under wind and hand, and what would make it so.",
    about=About.SECTION,
    stages=("pattern", "cast"),
    form=PanelForm,
    build=build,
    has_more=True,
    offered=has_flats,
    cautions=(
        "Screening of flat parts alone: no joints, fixings, openings or armature, and nothing of the whole piece.",
        "Modulus and strength fall with heat, damp, voids and age; a rib counts only if it is itself stiff, bonded all "
        "along and ends on something.",
    ),
    judgement="An engineer designs whatever people lean on, climb or stand beneath; this check does not replace that.",
)
