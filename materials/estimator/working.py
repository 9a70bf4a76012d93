"""Lines with their working: the arithmetic and the words for it, made together.

A line is a sum of parts; a part is a product of terms, over some terms, over
what is not lost. The sum is multiplied by how many are made and by one plus
the allowances. The formula is written from the same terms, so that the words
and the number cannot part ways. Arithmetic only: common practice, no source.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from materials.estimator.errors import Missing
from materials.estimator.lines import Line, Term
from materials.estimator.mix import ML_PER_KG_PERCENT, check_catalyst_percent
from materials.estimator.spec import Coefficient, JobSpec

_CATALYST_PER_KG = Term(
    "catalyst to a kilogram at one per cent",
    ML_PER_KG_PERCENT,
    "ml/kg/percent",
    "the trade's volume-on-weight basis: 1 % is 10 ml to 1 kg",
)


@dataclass(frozen=True, slots=True)
class Basis:
    """What every stage of a job is worked by: the studio's figures and the job's allowances, as terms."""

    figures: Mapping[str, Term]
    gel_coat_waste: Term
    glass_waste: Term
    overlap: Term
    resin_waste: Term
    catalyst: Term

    def term(self, key: str) -> Term:
        """One studio figure as a term.

        Parameters
        ----------
        key : str
            A key of ``reference.COEFFICIENTS``.

        Returns
        -------
        Term

        Raises
        ------
        Missing
            When the job came without it.
        """
        found = self.figures.get(key)
        if found is None:
            raise Missing(f"Studio figure {key}", "restore it among the studio's figures.")
        return found

    def value(self, key: str) -> float:
        """One studio figure as a number.

        Parameters
        ----------
        key : str
            A key of ``reference.COEFFICIENTS``.

        Returns
        -------
        float
            In the figure's own unit.

        Raises
        ------
        Missing
            When the job came without it.
        """
        return self.term(key).value


def figure_term(figure: Coefficient) -> Term:
    """A studio figure as a number in a working.

    Parameters
    ----------
    figure : Coefficient

    Returns
    -------
    Term
        With the figure's own source.
    """
    return Term(figure.label, figure.value, figure.unit, f"studio figure: {figure.source}")


def basis_of(spec: JobSpec) -> Basis:
    """The basis of a job.

    Parameters
    ----------
    spec : JobSpec

    Returns
    -------
    Basis

    Raises
    ------
    OutOfRange
        When the catalyst lies outside what resin takes.
    """
    check_catalyst_percent(spec.catalyst_percent)
    given = "allowance of this job"
    return Basis(
        figures={key: figure_term(figure) for key, figure in spec.coefficients.items()},
        gel_coat_waste=Term("gel coat waste", spec.allowances.gel_coat, "", given),
        glass_waste=Term("cutting waste", spec.allowances.glass, "", given),
        overlap=Term("overlap", spec.allowances.overlap, "", given),
        resin_waste=Term("resin waste", spec.allowances.resin, "", given),
        catalyst=Term("catalyst", spec.catalyst_percent, "percent", "catalyst of this job, volume on weight"),
    )


@dataclass(frozen=True, slots=True)
class Place:
    """Where a line belongs: section name and stage."""

    section: str
    stage: str


@dataclass(frozen=True, slots=True)
class Part:
    """One product of a sum: its terms in order, in words, and its value without and with what is lost.

    Attributes
    ----------
    terms : tuple of Term
    words : str
    net, spent : float
        In the unit that the terms make: as in ``terms``.
    """

    terms: tuple[Term, ...]
    words: str
    net: float
    spent: float


def part(factors: Sequence[Term], per: Sequence[Term] = (), lost: Term | None = None) -> Part:
    """A product of terms over others, and over what is not lost.

    Parameters
    ----------
    factors, per : sequence of Term
        What is multiplied, and what it is divided by.
    lost : Term or None
        Share that misses the work [dimensionless].

    Returns
    -------
    Part
    """
    net = 1.0
    for term in factors:
        net *= term.value
    words = " × ".join([term.label for term in factors])
    for term in per:
        net /= term.value
        words += f" ÷ {term.label}"
    if lost is None:
        return Part((*factors, *per), words, net, net)
    return Part((*factors, *per, lost), f"{words} ÷ (1 − {lost.label})", net, net / (1.0 - lost.value))


def worked(
    place: Place,
    material: str,
    unit: str,
    parts: Sequence[Part],
    times: Sequence[Term] = (),
    add: Sequence[Term] = (),
    per: Sequence[Term] = (),
) -> Line:
    """A line from its terms: sum of the parts × times ÷ per × (1 + add).

    Parameters
    ----------
    place : Place
    material, unit : str
        Catalogue key and the unit that the terms make.
    parts : sequence of Part
        What is summed.
    times, per : sequence of Term
        What the sum is multiplied by, and divided by.
    add : sequence of Term
        Allowances, shares of the net quantity [dimensionless].

    Returns
    -------
    Line
    """
    net = sum([part.net for part in parts])
    spent = sum([part.spent for part in parts])
    words = " + ".join([part.words for part in parts])
    if len(parts) > 1 and (times or per or add):
        words = f"({words})"
    many, more = 1.0, 1.0
    for term in times:
        many *= term.value
        words += f" × {term.label}"
    for term in per:
        many /= term.value
        words += f" ÷ {term.label}"
    if add:
        more += sum([term.value for term in add])
        words += f" × (1 + {' + '.join([term.label for term in add])})"
    # A term that several parts share is shown once.
    terms = {term.label: term for part in parts for term in part.terms}
    terms.update([(term.label, term) for term in (*times, *per, *add)])
    return Line(
        place.section, place.stage, material, many * net, many * spent * more, unit, words, tuple(terms.values())
    )


def catalyst_line(place: Place, basis: Basis, mixed: Iterable[Line]) -> Line:
    """Catalyst for everything that is mixed, by volume on the weight that is bought.

    Waste in the pot has been catalysed too, so the weight is that bought.

    Parameters
    ----------
    place : Place
    basis : Basis
    mixed : iterable of Line
        Gel coat and resin lines [kg].

    Returns
    -------
    Line
        [ml]
    """
    mixed = tuple(mixed)
    parts = [part([Term(f"{line.material.replace('_', ' ')} mixed", line.buy, "kg", "its own line")]) for line in mixed]
    line = worked(place, "catalyst", "ml", parts, times=[basis.catalyst, _CATALYST_PER_KG])
    net_kg = sum([one.net for one in mixed])
    return replace(line, net=net_kg * basis.catalyst.value * _CATALYST_PER_KG.value)


def needed(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines that ask for something.

    Parameters
    ----------
    lines : iterable of Line

    Returns
    -------
    tuple of Line
    """
    return tuple(line for line in lines if line.buy > 0)
