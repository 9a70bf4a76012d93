"""What is known of a commission before a sheet asks anything: its sections, the studio's figures, the take-off.

Each is read when it is first wanted and kept, so that a pack of sixty sheets
reads and works a commission once.
"""

from dataclasses import dataclass
from functools import cached_property

from jobs.models import Commission, Section
from jobs.specs import commission_spec
from materials.estimator.errors import EstimatorError, Missing
from materials.estimator.lines import Line, SectionFigures, TakeOff, Term
from materials.estimator.spec import JobSpec, SectionSpec
from materials.estimator.studio import StudioFigures
from materials.estimator.takeoff import take_off
from materials.estimator.working import Basis, basis_of, figure_term
from materials.queries.figures import item_names, studio_figures
from materials.specfile import read_spec
from materials.units import System
from studio.office.models import House
from studio.office.queries import house


class Job:
    """A commission as the sheets see it. Whatever cannot be worked raises an ``EstimatorError`` that says why."""

    def __init__(self, commission: Commission) -> None:
        self.commission = commission

    @cached_property
    def sections(self) -> list[Section]:
        """Its sections in their order."""
        return list(self.commission.sections.select_related("mould_lay_up", "cast_lay_up", "paint_system"))

    @cached_property
    def house(self) -> House:
        """The studio's own settings."""
        return house()

    @cached_property
    def kept(self) -> dict[tuple[int | None, str], dict[str, str]]:
        """What was decided on sheets and kept, by section and group."""
        return {(row.section_id, row.group): row.answers for row in self.commission.kept_sheets.all()}

    @property
    def units(self) -> System:
        """The units that sheets show."""
        return "us" if self.house.units == "us" else "metric"

    @cached_property
    def figures(self) -> StudioFigures:
        """The studio's figures as they are today."""
        return studio_figures()

    @cached_property
    def names(self) -> dict[str, str]:
        """What the catalogue calls each material, by key."""
        return item_names()

    @cached_property
    def spec(self) -> JobSpec:
        """The commission as the take-off reads it."""
        return read_spec(commission_spec(self.commission, self.sections), defaults=self.figures)

    @cached_property
    def take_off(self) -> TakeOff:
        """What it needs, line by line."""
        return take_off(self.spec)

    @cached_property
    def basis(self) -> Basis:
        """The studio's figures and the job's allowances as terms of a working."""
        return basis_of(self.spec)

    def term(self, key: str) -> Term:
        """A studio figure as a term of a working; it needs no section."""
        found = self.figures.coefficients.get(key)
        if found is None:
            raise Missing(f"Studio figure {key}", "restore it among the studio's figures.")
        return figure_term(found)

    def value(self, key: str) -> float:
        """A studio figure as a number in its own unit."""
        return self.figures.value(key)


@dataclass(frozen=True, slots=True)
class Subject:
    """What one sheet is about: the commission, or a section of it, or a stage of that section."""

    job: Job
    section: Section | None = None
    stage: str = ""

    @property
    def words(self) -> str:
        """As a heading has it: "Nut, cast"."""
        return ", ".join(filter(None, (self.section.name if self.section else "", self.stage)))

    @property
    def spec(self) -> SectionSpec:
        """The section as the take-off reads it."""
        return next(each for each in self.job.spec.sections if each.name == self._name)

    @property
    def measures(self) -> SectionFigures:
        """The section's measures: skin, mould, cast, each as it stands once."""
        return next(each for each in self.job.take_off.sections if each.name == self._name)

    @property
    def lines(self) -> tuple[Line, ...]:
        """What the take-off asks for here, for all moulds or casts together."""
        return tuple(
            line
            for line in self.job.take_off.lines
            if (self.section is None or line.section == self._name) and self.stage in ("", line.stage)
        )

    @property
    def _name(self) -> str:
        if self.section is None:
            raise EstimatorError("section", None, "This sheet is about one section; choose which.")
        return self.section.name
