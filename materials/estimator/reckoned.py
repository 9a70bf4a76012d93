"""One figure of a workshop sheet with its working: the arithmetic and the words for it, made together."""

from collections.abc import Sequence
from dataclasses import dataclass

from materials.estimator.lines import Term
from materials.estimator.working import part


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A figure, and how it came about.

    Attributes
    ----------
    name : str
        What it is ("catalyst for one batch").
    value : float
        The number, in ``unit``.
    unit : str
        Its unit as a take-off writes it ("kg", "m2", "ml"), "each" for a count, "" for a pure number.
    formula : str
        The arithmetic in plain words, naming the terms.
    terms : tuple of Term
        The numbers of the formula, each with where it came from.
    """

    name: str
    value: float
    unit: str
    formula: str
    terms: tuple[Term, ...]

    @property
    def term(self) -> Term:
        """This figure as a number in the next working."""
        return Term(self.name, self.value, self.unit, "worked above")


def product(name: str, unit: str, factors: Sequence[Term], per: Sequence[Term] = ()) -> Reckoned:
    """A figure that is a product of terms over others, so that words and number cannot part ways.

    Parameters
    ----------
    name, unit : str
        What it is, and the unit that the terms make.
    factors, per : sequence of Term
        What is multiplied, and what it is divided by.

    Returns
    -------
    Reckoned
        Arithmetic only: common practice, no source.
    """
    made = part(factors, per)
    return Reckoned(name, made.net, unit, made.words, made.terms)


def summed(name: str, unit: str, terms: Sequence[Term]) -> Reckoned:
    """A figure that is a sum of terms.

    Parameters
    ----------
    name, unit : str
        What it is, and the unit that the terms share.
    terms : sequence of Term

    Returns
    -------
    Reckoned
        Arithmetic only: common practice, no source.
    """
    return Reckoned(
        name, sum([term.value for term in terms]), unit, " + ".join([term.label for term in terms]), tuple(terms)
    )
