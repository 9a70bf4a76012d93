"""How many people lift a load, by the guideline filter.

The filter is that of HSE L23 and INDG143. It is a filter and no limit: a load
that passes it is not proven safe, one that fails it wants an assessment.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from materials.estimator.errors import OutOfRange
from materials.estimator.lines import Term
from materials.estimator.ranges import one_of, within
from materials.estimator.reckoned import Reckoned, product

# What the hands pass through, from the floor up.
ZONES = ("floor", "leg", "knuckle", "elbow", "shoulder")
REACHES = ("close", "arm")
TWISTS = ("none", "45", "90")


@dataclass(frozen=True, slots=True)
class Filter:
    """The filter with a studio's figures.

    Attributes
    ----------
    limits : mapping of (str, str) to Term
        Mass for one person by zone and reach [kg].
    borders : tuple of float
        Heights at which the second and every further zone begins, ascending [m].
    often : mapping of float to Term
        Share taken off up to so many lifts a minute, the last without end [dimensionless].
    twist : mapping of str to Term
        Share taken off for a twist beyond so many degrees [dimensionless].
    teams : mapping of int to Term
        Share of the sum that two and three people lift together [dimensionless].
    """

    limits: Mapping[tuple[str, str], Term]
    borders: tuple[float, ...]
    often: Mapping[float, Term]
    twist: Mapping[str, Term]
    teams: Mapping[int, Term]


@dataclass(frozen=True, slots=True)
class Movement:
    """How a load is taken.

    Attributes
    ----------
    pick_m, set_m : float
        Height of the hands where it is picked up and where it is set down [m].
    reach : str
        "close" or "arm": held against the body, or at arm's length.
    lifts_per_min : float
        [1/min]
    twist : str
        "none", "45" or "90": whether the trunk is turned beyond that while it is held [deg].
    """

    pick_m: float
    set_m: float
    reach: str
    lifts_per_min: float
    twist: str

    def __post_init__(self) -> None:
        within("Height of the hands where it is picked up", self.pick_m, "m", 0, 2.5)
        within("Height of the hands where it is set down", self.set_m, "m", 0, 2.5)
        within("Lifts a minute", self.lifts_per_min, "", 0, 15, "Faster than that nobody lifts; use a machine.")
        one_of("Reach", self.reach, REACHES)
        one_of("Twist", self.twist, TWISTS)


@dataclass(frozen=True, slots=True)
class Team:
    """Who lifts it.

    Attributes
    ----------
    people : int
        1 to 3; 0 where the filter has no team for it [each].
    zone : str
        The zone, among those the hands pass through, that allows least.
    alone : Reckoned
        What one person lifts [kg].
    together : tuple of Reckoned
        What two and what three lift [kg].
    """

    people: int
    zone: str
    alone: Reckoned
    together: tuple[Reckoned, ...]


def zones_passed(movement: Movement, borders: tuple[float, ...]) -> tuple[str, ...]:
    """The zones that the hands pass through on the way.

    Parameters
    ----------
    movement : Movement
    borders : tuple of float
        Where the second and every further zone begins, ascending [m].

    Returns
    -------
    tuple of str
        From the floor up; HSE L23: the smallest figure among them counts.
    """
    low, high = sorted((movement.pick_m, movement.set_m))
    first = sum(1 for border in borders if border <= low)
    last = sum(1 for border in borders if border <= high)
    return ZONES[first : last + 1]


def team_for(load: Term, movement: Movement, figures: Filter) -> Team:
    """How many people the filter asks for.

    Between the rates that the filter prints, the share of the next faster one is taken off.

    Parameters
    ----------
    load : Term
        [kg]
    movement : Movement
    figures : Filter

    Returns
    -------
    Team
        HSE L23 and INDG143.

    Raises
    ------
    OutOfRange
        When the load is none.
    """
    within("Mass of the load", load.value, "kg", 1e-3, 1e6)
    passed = zones_passed(movement, figures.borders)
    zone = min(passed, key=lambda each: figures.limits[each, movement.reach].value)
    factors = [figures.limits[zone, movement.reach], *_kept(movement, figures)]
    alone = product("one person lifts", "kg", factors)
    together = tuple(
        product(f"{count} people lift", "kg", [alone.term, Term("people", count, "", "in the team"), share])
        for count, share in sorted(figures.teams.items())
    )
    enough = [count for count, most in enumerate((alone, *together), start=1) if most.value >= load.value]
    return Team(min(enough, default=0), zone, alone, together)


def _kept(movement: Movement, figures: Filter) -> list[Term]:
    """What is left after lifting often, and after twisting, as factors."""
    taken = []
    # INDG143 allows for thirty lifts an hour without taking anything off.
    if movement.lifts_per_min > 0.5:
        taken.append(next(share for rate, share in sorted(figures.often.items()) if movement.lifts_per_min <= rate))
    if movement.twist != "none":
        taken.append(figures.twist[movement.twist])
    for share in taken:
        if not 0 <= share.value < 1:
            raise OutOfRange(share.label.capitalize(), share.value, "", 0, 0.99, "It is a share of what one lifts.")
    return [Term(f"what is left: {share.label}", 1 - share.value, "", f"1 − {share.value:g}") for share in taken]
