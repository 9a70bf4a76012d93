"""How far waits may lie from what a plan reckons with, where somebody outside the house ends them.

A cure is not among them: chemistry keeps its time, and nobody shortens it.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Doubt:
    """By how much a wait may turn out shorter or longer than likely.

    Attributes
    ----------
    sooner, later : int
        By the clock [min].
    """

    sooner: int = 0
    later: int = 0

    def within(self, minutes: int) -> "Doubt":
        """The same of a wait that cannot be shorter than nothing.

        Parameters
        ----------
        minutes : int
            The wait as it is likely [min].

        Returns
        -------
        Doubt
        """
        return Doubt(min(self.sooner, minutes), self.later)

    def __add__(self, other: "Doubt") -> "Doubt":
        """Of one wait after another: both are early or late together, which is the widest it can be."""
        return Doubt(self.sooner + other.sooner, self.later + other.later)


CERTAIN = Doubt()


@dataclass(frozen=True, slots=True)
class Doubts:
    """The doubts of a studio.

    Attributes
    ----------
    signature : Doubt
        Of a signature, whenever it was asked for.
    firm : tuple of float
        Of work at a firm outside: how much sooner and later, shares of its time [dimensionless].
    """

    signature: Doubt = CERTAIN
    firm: tuple[float, float] = (0.0, 0.0)

    def of_firm(self, minutes: int) -> Doubt:
        """Of work that a firm has for so long.

        Parameters
        ----------
        minutes : int
            As it is likely [min].

        Returns
        -------
        Doubt
        """
        return Doubt(round(minutes * self.firm[0]), round(minutes * self.firm[1])).within(minutes)


NO_DOUBTS = Doubts()
