"""What a variation adds to the budgets of the stages, or takes from them.

The build-ups before and after are each parted among the stages, with overhead,
consumables and handling, and set against each other. A stage gives back at most
what its budget has: what is left out is credited at the prices of the variation's
day, which may be above those of the quote, and a budget cannot fall below nought.
Common practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.figures.budget import NOWHERE, budget_rows
from jobs.figures.quote import BuildUpLine
from jobs.figures.standing import Cost, whole_costs
from jobs.figures.varied import Place
from materials.estimator.lines import TakeOff

SPREAD = ("overhead", "consumables", "handling")
"""What a build-up has in one line for all stages."""
_NOTHING = (0, Cost())


@dataclass(frozen=True, slots=True)
class PlaceBudget:
    """What one stage gains, or with a minus gives back.

    Attributes
    ----------
    section, stage : str
    minutes : int
        Productive minutes [minute].
    cost : Cost
        With its part of overhead, consumables and handling.
    """

    section: str
    stage: str
    minutes: int
    cost: Cost

    def at_most(self, minutes: int, cost: Cost) -> "PlaceBudget":
        """The same, giving back no more than there is.

        Parameters
        ----------
        minutes : int
            That the stage has [minute].
        cost : Cost
            That the stage has.

        Returns
        -------
        PlaceBudget
        """
        return PlaceBudget(
            self.section,
            self.stage,
            max(-minutes, self.minutes),
            Cost(
                max(-cost.work_minor, self.cost.work_minor),
                max(-cost.material_minor, self.cost.material_minor),
                max(-cost.sent_out_minor, self.cost.sent_out_minor),
            ),
        )


def budget_changes(
    was: tuple[TakeOff, Sequence[BuildUpLine]],
    now: tuple[TakeOff, Sequence[BuildUpLine]],
    places: Mapping[str, Place] = NOWHERE,
) -> tuple[PlaceBudget, ...]:
    """Set two build-ups against each other, stage by stage.

    Parameters
    ----------
    was, now : tuple of TakeOff and sequence of BuildUpLine
        Each build-up with the take-off that it was priced from.
    places : mapping of str to (str, str)
        Section and stage of lines that no take-off gives, by their keys.

    Returns
    -------
    tuple of PlaceBudget
        The stages that differ; their sum is the difference of the two bases.
    """
    before, after = _parted(*was, places), _parted(*now, places)
    found = []
    for place in [*after, *(place for place in before if place not in after)]:
        (was_minutes, was_cost), (now_minutes, now_cost) = before.get(place, _NOTHING), after.get(place, _NOTHING)
        if (was_minutes, was_cost) != (now_minutes, now_cost):
            found.append(
                PlaceBudget(
                    *place,
                    minutes=now_minutes - was_minutes,
                    cost=Cost(
                        now_cost.work_minor - was_cost.work_minor,
                        now_cost.material_minor - was_cost.material_minor,
                        now_cost.sent_out_minor - was_cost.sent_out_minor,
                    ),
                )
            )
    return tuple(found)


def _parted(
    take_off: TakeOff, lines: Sequence[BuildUpLine], places: Mapping[str, Place]
) -> dict[Place, tuple[int, Cost]]:
    rows = budget_rows(take_off, lines, places)
    costs = whole_costs(rows, *(sum(line.amount_minor for line in lines if line.kind == kind) for kind in SPREAD))
    return {(row.section, row.stage): (row.minutes, cost) for row, cost in zip(rows, costs, strict=True)}
