"""How many patterns, moulds and casts a section takes.

A foam pattern is lost when its mould comes off it, so each mould has a pattern
of its own: common practice, no source.
"""

from dataclasses import dataclass
from math import floor

from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.spec import SectionSpec


@dataclass(frozen=True, slots=True)
class Run:
    """Casts taken one after another from one mould: ``pulls`` of them, by ``moulds`` moulds alike."""

    pulls: int
    moulds: int


@dataclass(frozen=True, slots=True)
class Counts:
    """How many of each are made in all [each], and in which runs the casts are taken."""

    patterns: int
    moulds: int
    casts: int
    runs: tuple[Run, ...]
    made: str

    @property
    def pattern_term(self) -> Term:
        """Patterns, as a working shows them."""
        return Term("patterns", self.patterns, "", f"{self.made}; one to a mould")

    @property
    def mould_term(self) -> Term:
        """Moulds, as a working shows them."""
        return Term("moulds", self.moulds, "", self.made)

    @property
    def cast_term(self) -> Term:
        """Casts, as a working shows them."""
        return Term("casts", self.casts, "", self.made)


def counts_of(section: SectionSpec, pulls_per_mould: float) -> Counts:
    """Patterns, moulds and casts of a section.

    Parameters
    ----------
    section : SectionSpec
    pulls_per_mould : float
        Casts that a mould is counted on for [dimensionless].

    Returns
    -------
    Counts

    Raises
    ------
    OutOfRange
        When a mould is counted on for less than one cast.
    """
    within("Casts from one mould", pulls_per_mould, "", 1, 1_000_000)
    life = floor(pulls_per_mould)
    sets = section.count * (2 if section.mirrored else 1)
    full, rest = divmod(section.cast.pulls, life)
    runs = tuple(Run(pulls, sets * many) for pulls, many in ((life, full), (rest, 1)) if pulls and many)
    moulds = sum(run.moulds for run in runs)
    made = f"{section.count} made"
    if section.mirrored:
        made += " left and right"
    made += f", {section.cast.pulls} cast{'' if section.cast.pulls == 1 else 's'} of each, {life} at most to a mould"
    return Counts(patterns=moulds, moulds=moulds, casts=sets * section.cast.pulls, runs=runs, made=made)
