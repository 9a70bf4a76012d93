"""What each cast and mould piece of a commission weighs, and its form, by the take-off."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.models import Section
from jobs.specs import commission_spec
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import SectionFigures
from materials.estimator.spec import SectionSpec
from materials.estimator.studio import StudioFigures
from materials.estimator.takeoff import take_off
from materials.specfile import read_spec


@dataclass(frozen=True, slots=True)
class Weight:
    """One section with what it is made to and what the take-off found."""

    section: Section
    spec: SectionSpec
    figures: SectionFigures

    @property
    def cast_kg(self) -> float:
        """One cast with the metal in it [kg]."""
        return self.figures.cast.mass_kg + self.spec.metal_kg


@dataclass(frozen=True, slots=True)
class Weights:
    """Every section's; where the take-off cannot be worked, ``problem`` says why and there are none."""

    rows: tuple[Weight, ...] = ()
    problem: str = ""


def weights_of(sections: Sequence[Section], figures: StudioFigures) -> Weights:
    """The weights of the sections of one commission, in their order."""
    if not sections:
        return Weights(problem="The commission has no section yet; add one on its Form sheet.")
    try:
        spec = read_spec(commission_spec(sections[0].commission, sections), defaults=figures)
        found = take_off(spec).sections
    except EstimatorError as error:
        return Weights(problem=str(error))
    return Weights(tuple(Weight(*each) for each in zip(sections, spec.sections, found, strict=True)))
