"""Whether a crate goes through a door and into a lorry, with room to spare.

A crate is moved upright, its narrower side across the door, on a pallet truck
that lifts it a little. Common practice, no source.
"""

from dataclasses import dataclass

from jobs.delivery.crate_parts import Box
from materials.estimator.ranges import within


@dataclass(frozen=True, slots=True)
class Door:
    """A doorway, gate or lift: name, and its clear width and height [m]."""

    name: str
    width_m: float
    height_m: float

    def __post_init__(self) -> None:
        within(f"{self.name}, clear width", self.width_m, "m", 0.1, 50)
        within(f"{self.name}, clear height", self.height_m, "m", 0.1, 50)


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A van, lorry or container.

    Attributes
    ----------
    name : str
    room : Box
        Where the load stands; of an open one the bed, and the height that may be loaded.
    door : Door or None
        What the load has to pass; None where it is lifted on, or the whole side opens.
    payload_kg : float
        [kg]
    deck_m : float
        Height of the floor above the road [m].
    overall_width_m : float
        The vehicle itself [m].
    is_open : bool
        Whether the load may stand out beyond it.
    """

    name: str
    room: Box
    door: Door | None
    payload_kg: float
    deck_m: float
    overall_width_m: float
    is_open: bool

    def __post_init__(self) -> None:
        within(f"{self.name}, payload", self.payload_kg, "kg", 1, 200_000)
        within(f"{self.name}, height of the floor", self.deck_m, "m", 0, 3)
        within(f"{self.name}, width", self.overall_width_m, "m", 0.5, 6)


@dataclass(frozen=True, slots=True)
class Room:
    """The room that is wanted: beside a crate in all, above it, and by how much a pallet truck lifts it [m]."""

    beside_m: float
    above_m: float
    raised_m: float

    def __post_init__(self) -> None:
        for name, length_m in (("beside", self.beside_m), ("above", self.above_m)):
            within(f"Room wanted {name} a crate", length_m, "m", 0, 2)
        within("How much a pallet truck lifts", self.raised_m, "m", 0, 1)


@dataclass(frozen=True, slots=True)
class Gap:
    """One measure of a passage: what it is, what is left over [m], and what is wanted [m]."""

    name: str
    left_m: float
    wanted_m: float

    @property
    def is_enough(self) -> bool:
        """Whether what is wanted is left."""
        return self.left_m >= self.wanted_m - 1e-9

    @property
    def is_open(self) -> bool:
        """Whether anything is left at all."""
        return self.left_m >= -1e-9


@dataclass(frozen=True, slots=True)
class Passage:
    """How a crate goes through one door or into one vehicle.

    Attributes
    ----------
    name : str
    gaps : tuple of Gap
    spare_kg : float or None
        Payload that is left [kg]; None for a door.
    """

    name: str
    gaps: tuple[Gap, ...]
    spare_kg: float | None = None

    @property
    def verdict(self) -> str:
        """ "passes", "tight" where it passes without the room wanted, or "no"."""
        if not all(gap.is_open for gap in self.gaps) or (self.spare_kg is not None and self.spare_kg < 0):
            return "no"
        return "passes" if all(gap.is_enough for gap in self.gaps) else "tight"

    @property
    def closest(self) -> Gap:
        """The measure with the least left beyond what is wanted."""
        return min(self.gaps, key=lambda gap: gap.left_m - gap.wanted_m)


def through_door(crate: Box, door: Door, room: Room) -> Passage:
    """How a crate goes through a door.

    Parameters
    ----------
    crate : Box
        Outside.
    door : Door
    room : Room

    Returns
    -------
    Passage
    """
    return Passage(door.name, _door_gaps(crate, door, room))


def _door_gaps(crate: Box, door: Door, room: Room) -> tuple[Gap, ...]:
    across_m = min(crate.length_m, crate.width_m)
    return (
        Gap("width of the door", door.width_m - across_m, room.beside_m),
        Gap("height of the door", door.height_m - crate.height_m - room.raised_m, room.above_m),
    )


def into_vehicle(crate: Box, gross_kg: float, vehicle: Vehicle, room: Room) -> Passage:
    """How a crate goes into a vehicle, the way round in which it goes better.

    Parameters
    ----------
    crate : Box
        Outside.
    gross_kg : float
        With what is in it [kg].
    vehicle : Vehicle
    room : Room

    Returns
    -------
    Passage

    Raises
    ------
    OutOfRange
        For a mass that is none.
    """
    within("Mass of the crate", gross_kg, "kg", 0.1, 100_000)
    ways = [(crate.length_m, crate.width_m), (crate.width_m, crate.length_m)]
    return max(
        (_loaded(crate, gross_kg, vehicle, room, *way) for way in ways),
        key=lambda passage: (passage.verdict != "no", passage.closest.left_m - passage.closest.wanted_m),
    )


def _loaded(crate: Box, gross_kg: float, vehicle: Vehicle, room: Room, along_m: float, across_m: float) -> Passage:
    gaps = [
        Gap("length of the floor", vehicle.room.length_m - along_m, 0.0),
        Gap("width of the floor", vehicle.room.width_m - across_m, 0.0 if vehicle.is_open else room.beside_m),
        Gap("height", vehicle.room.height_m - crate.height_m, 0.0 if vehicle.is_open else room.above_m),
    ]
    if vehicle.door is not None:
        gaps += _door_gaps(Box(along_m, across_m, crate.height_m), vehicle.door, room)
    return Passage(vehicle.name, tuple(gaps), vehicle.payload_kg - gross_kg)
