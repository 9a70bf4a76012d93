"""A take-off arranged for reading: what a sheet of the commission shows."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from jobs.models import Commission, Section
from jobs.specs import commission_spec
from materials.estimator.catalogue import STEPS
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import STAGES, Caution, HourLine, Line, SectionFigures, TakeOff
from materials.estimator.studio import StudioFigures
from materials.estimator.takeoff import take_off
from materials.specfile import read_spec
from materials.units import format_quantity


@dataclass(frozen=True, slots=True)
class NamedLine:
    """One line of the take-off and what people call its material."""

    name: str
    line: Line


@dataclass(frozen=True, slots=True)
class NamedHours:
    """One line of hours and what people call its step."""

    name: str
    line: HourLine


@dataclass(frozen=True, slots=True)
class MaterialTotal:
    """One material over the whole commission, in its own unit."""

    key: str
    name: str
    net: float
    buy: float
    unit: str


@dataclass(frozen=True, slots=True)
class StageHours:
    """Person-hours of one stage [h]."""

    stage: str
    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Worked:
    """A take-off as a sheet shows it; where it cannot be worked, ``problem`` says why and the rest is empty."""

    problem: str = ""
    sections: tuple[SectionFigures, ...] = ()
    stages: tuple[tuple[str, tuple[NamedLine, ...], tuple[NamedHours, ...]], ...] = ()
    materials: tuple[MaterialTotal, ...] = ()
    hours: tuple[StageHours, ...] = ()
    cautions: tuple[Caution, ...] = ()

    @property
    def total_hours(self) -> StageHours:
        """All stages together."""
        return StageHours(
            "all", sum(h.low for h in self.hours), sum(h.likely for h in self.hours), sum(h.high for h in self.hours)
        )

    @property
    def area_m2(self) -> float:
        """Skin of all casts together [m^2]."""
        return sum(figures.area_m2 * figures.casts for figures in self.sections)

    @property
    def cast_mass_kg(self) -> float:
        """All casts together, with the metal in them [kg]."""
        return sum(figures.cast.whole_kg * figures.casts for figures in self.sections)


def take_off_of(commission: Commission, sections: Iterable[Section], figures: StudioFigures) -> TakeOff:
    """What the sections need, worked by the studio's figures."""
    return take_off(read_spec(commission_spec(commission, sections), defaults=figures))


def arranged(worked: TakeOff, names: Mapping[str, str]) -> Worked:
    """A take-off by stage, by material and in all."""
    stages = []
    for stage in STAGES:
        lines = tuple(
            NamedLine(names.get(line.material, line.material), line) for line in worked.lines if line.stage == stage
        )
        hours = tuple(NamedHours(STEPS[stage][line.step], line) for line in worked.hours if line.stage == stage)
        if lines or hours:
            stages.append((stage, lines, hours))
    return Worked(
        sections=worked.sections,
        stages=tuple(stages),
        materials=tuple(_material_totals(worked.lines, names)),
        hours=tuple(
            StageHours(
                stage,
                sum(h.line.low for h in hours),
                sum(h.line.likely for h in hours),
                sum(h.line.high for h in hours),
            )
            for stage, _, hours in stages
            if hours
        ),
        cautions=worked.warnings,
    )


def _material_totals(lines: Iterable[Line], names: Mapping[str, str]) -> list[MaterialTotal]:
    by_key = sorted(lines, key=lambda line: (names.get(line.material, line.material), line.material))
    totals = []
    for key, group in groupby(by_key, key=lambda line: line.material):
        same = list(group)
        net, buy = sum(line.net for line in same), sum(line.buy for line in same)
        totals.append(MaterialTotal(key, names.get(key, key), net, buy, same[0].unit))
    return totals


@dataclass(frozen=True, slots=True)
class SectionRow:
    """One section as the list of sections shows it; no figures where the whole cannot be worked."""

    section: Section
    figures: SectionFigures | None
    size: str


def section_rows(sections: Sequence[Section], worked: Worked, units: str) -> list[SectionRow]:
    """The sections with their measures, in order."""
    by_name = {figures.name: figures for figures in worked.sections}
    rows = []
    for section in sections:
        figures = by_name.get(section.name)
        rows.append(SectionRow(section, figures, _size(figures, units) if figures else ""))
    return rows


def _size(figures: SectionFigures, units: str) -> str:
    extents = (figures.length_m, figures.width_m, figures.height_m)
    if units == "us":
        return " × ".join(format_quantity(extent, "length", "us") for extent in extents)
    return " × ".join(f"{extent:.2f}" for extent in extents) + " m"


def commission_figures(
    commission: Commission, sections: Sequence[Section], figures: StudioFigures, names: Mapping[str, str]
) -> Worked:
    """The whole commission's take-off, or why there is none."""
    if not sections:
        return Worked()
    try:
        return arranged(take_off_of(commission, sections, figures), names)
    except EstimatorError as error:
        return Worked(problem=str(error))


def section_figures(section: Section, figures: StudioFigures, names: Mapping[str, str]) -> Worked:
    """One section's take-off, or why there is none."""
    return commission_figures(section.commission, [section], figures, names)
