"""How many weeks a job takes: its working weeks, and the holds of the section that waits longest.

The rule, common practice, no source: all hours are shared by the crew, and a
section's stages follow one another with their holds between. Holds of
different sections run at once, and the crew works elsewhere meanwhile, so only
the longest sum of holds is added. A hold that a night covers costs no day.
More people shorten the work and never a hold.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from materials.estimator.errors import Missing
from materials.estimator.lines import Term
from materials.estimator.ranges import whole, within
from materials.estimator.spec import Coefficient, SectionSpec

DAYS_A_WEEK = 7
HOURS_A_DAY = 24


@dataclass(frozen=True, slots=True)
class SectionHolds:
    """The holds of one section that cost days.

    Attributes
    ----------
    section : str
    terms : tuple of Term
        Each hold with its days, all of the section's casts counted [day].
    """

    section: str
    terms: tuple[Term, ...]

    @property
    def days(self) -> float:
        """Calendar days of holds, one after another [day]."""
        return sum(term.value for term in self.terms)


@dataclass(frozen=True, slots=True)
class Programme:
    """A programme in weeks, with its working.

    Attributes
    ----------
    weeks : int
        Whole weeks, rounded up [week].
    working_weeks : float
        Weeks of the whole crew's work [week].
    hold_days : float
        Calendar days of holds [day].
    longest : str
        The section whose holds are counted, "" when nothing waits.
    formula : str
    terms : tuple of Term
    """

    weeks: int
    working_weeks: float
    hold_days: float
    longest: str
    formula: str
    terms: tuple[Term, ...]


def section_holds(section: SectionSpec, figures: Mapping[str, Coefficient]) -> SectionHolds:
    """The holds that a section's making asks for.

    Parameters
    ----------
    section : SectionSpec
        Filler thickness, casts from a mould and paint are read.
    figures : mapping of str to Coefficient
        With the keys of topic "holds" of ``reference.COEFFICIENTS``.

    Returns
    -------
    SectionHolds
        In days [day]; casts queue on their mould, so each waits its own time in it.

    Raises
    ------
    Missing
        When a figure is not there.
    """
    filler = _figure(figures, "hold_filler")
    holds = [(filler, filler.value * section.pattern.filler_mm, 1)]
    for key, times in (
        ("hold_mould_on_pattern", 1),
        ("hold_new_mould", 1),
        ("hold_cast", section.cast.pulls),
        ("hold_paint", 1 if section.coats else 0),
    ):
        figure = _figure(figures, key)
        holds.append((figure, figure.value, times))
    night = _figure(figures, "hold_overnight").value
    return SectionHolds(
        section.name,
        tuple(
            Term(figure.label, hours * times / HOURS_A_DAY, "day", f"studio figure: {figure.source}")
            for figure, hours, times in holds
            if times and hours > night
        ),
    )


def programme(hours: float, crew: int, week_hours: float, sections: Sequence[SectionHolds]) -> Programme:
    """Estimate how long a job takes.

    Parameters
    ----------
    hours : float
        Productive hours of the whole job [h].
    crew : int
        People who work on it [each].
    week_hours : float
        Productive hours of one of them in a week [h].
    sections : sequence of SectionHolds

    Returns
    -------
    Programme
        Whole weeks [week] and their working.
    """
    within("hours of the job", hours, "h", 0.0, None)
    whole("crew", crew, "people", 1, 100)
    within("hours of a week", week_hours, "h", 1.0, 100.0)
    working = hours / (crew * week_hours)
    longest = max(sections, key=lambda section: section.days, default=SectionHolds("", ()))
    return Programme(
        weeks=max(1, ceil(round(working + longest.days / DAYS_A_WEEK, 6))),
        working_weeks=working,
        hold_days=longest.days,
        longest=longest.section if longest.terms else "",
        formula="hours / (crew x hours of a week) + holds / 7, rounded up",
        terms=(
            Term("hours of the job", hours, "h", "take-off"),
            Term("crew", crew, "", "studio figure"),
            Term("hours of a week", week_hours, "h", "studio figure"),
            *longest.terms,
        ),
    )


def _figure(figures: Mapping[str, Coefficient], key: str) -> Coefficient:
    if key not in figures:
        raise Missing(f"Studio figure {key}", "restore it among the studio's figures.")
    return figures[key]
