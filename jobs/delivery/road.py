"""What a load on the road has to do for its size, and what holds it on the lorry.

Limits are rows that a studio edits: what is measured, above how much, and what
is then to be done. The rules as delivered are those of Great Britain for
ordinary vehicles, as summarised on gov.uk ("Overhanging loads on vehicles")
after the Construction and Use Regulations 1986, reg. 82.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from jobs.delivery.crate_parts import GRAVITY_M_S2, Box
from jobs.delivery.passage import Vehicle
from materials.estimator.lines import Term
from materials.estimator.ranges import one_of, within
from materials.estimator.reckoned import Reckoned, product

MEASURES = {
    "width": "overall width",
    "side": "standing out at one side",
    "rear": "standing out behind",
    "front": "standing out in front",
    "length": "overall length of a rigid vehicle",
    "train": "overall length of a combination",
    "height": "overall height",
}


@dataclass(frozen=True, slots=True)
class RoadRule:
    """One step of a limit.

    Attributes
    ----------
    measure : str
        A key of ``MEASURES``.
    above_m : float
        Beyond it the rule holds [m].
    action : str
        What is to be done, as a sentence.
    source : str
        Where it is published.
    """

    measure: str
    above_m: float
    action: str
    source: str = ""

    def __post_init__(self) -> None:
        one_of("Measure on the road", self.measure, MEASURES)
        within("Limit on the road", self.above_m, "m", 0, 100)


@dataclass(frozen=True, slots=True)
class OnTheRoad:
    """One measure of a load [m], and the rule that it meets; None where it meets none."""

    measure: str
    value_m: float
    rule: RoadRule | None

    @property
    def name(self) -> str:
        """What is measured."""
        return MEASURES[self.measure]


def rule_for(measure: str, value_m: float, rules: Iterable[RoadRule]) -> RoadRule | None:
    """The strictest rule that a measure meets.

    Parameters
    ----------
    measure : str
        A key of ``MEASURES``.
    value_m : float
        [m]
    rules : iterable of RoadRule

    Returns
    -------
    RoadRule or None
        The one with the highest limit below the value.

    Raises
    ------
    UnknownChoice
        For any other measure.
    OutOfRange
        For a value that is none.
    """
    one_of("Measure on the road", measure, MEASURES)
    within(MEASURES[measure].capitalize(), value_m, "m", 0, 1000)
    met = [rule for rule in rules if rule.measure == measure and value_m > rule.above_m + 1e-9]
    return max(met, key=lambda rule: rule.above_m, default=None)


def on_the_road(crate: Box, vehicle: Vehicle, rules: Sequence[RoadRule]) -> tuple[OnTheRoad, ...]:
    """What a crate on a vehicle measures, its longer side along the lorry and its front against the headboard.

    Parameters
    ----------
    crate : Box
        Outside.
    vehicle : Vehicle
    rules : sequence of RoadRule

    Returns
    -------
    tuple of OnTheRoad
        A closed vehicle is as wide and as high as it is; of an open one also what stands out.
    """
    values = {"height": vehicle.deck_m + (crate.height_m if vehicle.is_open else vehicle.room.height_m)}
    values["width"] = vehicle.overall_width_m
    if vehicle.is_open:
        values["width"] = max(vehicle.overall_width_m, crate.width_m)
        values["side"] = max(0.0, (crate.width_m - vehicle.overall_width_m) / 2)
        values["rear"] = max(0.0, crate.length_m - vehicle.room.length_m)
    order = [measure for measure in MEASURES if measure in values]
    return tuple(OnTheRoad(each, values[each], rule_for(each, values[each], rules)) for each in order)


def restraint(mass_kg: Term, forward: Term, sideways: Term) -> tuple[Reckoned, Reckoned]:
    """What straps, blocks and headboard have to hold, forwards, and to each side and rearwards.

    Parameters
    ----------
    mass_kg : Term
        Crate with its piece [kg].
    forward, sideways : Term
        Shares of the weight [dimensionless].

    Returns
    -------
    tuple of Reckoned
        [kN]

    Raises
    ------
    OutOfRange
        For a mass or a share that is none.

    References
    ----------
    DfT and DVSA code of practice, Safety of Loads on Vehicles: the full weight forwards, half of it sideways and
    rearwards; from memory.
    """
    within("Mass of the load", mass_kg.value, "kg", 0.1, 100_000)
    for share in (forward, sideways):
        within(share.label.capitalize(), share.value, "", 0.1, 2)
    gravity = Term("gravity", GRAVITY_M_S2 / 1000, "kN/kg", "by definition")
    return (
        product("to be held forwards", "kN", [mass_kg, gravity, forward]),
        product("to be held to each side and rearwards", "kN", [mass_kg, gravity, sideways]),
    )
