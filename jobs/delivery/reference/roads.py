"""Doors, vehicles and rules of the road as a new studio begins with them; it puts in its own.

Vehicles are generic, from memory: the haulier knows his. Doors are common
practice, no source. Rules are those of Great Britain for ordinary vehicles, as
gov.uk ("Overhanging loads on vehicles") and Ask the Police (Q748) summarise
the Construction and Use Regulations 1986, reg. 82, and SI 2003/1998 for
length; 3.0 m and 5.03 m are from memory.
"""

import datetime

from jobs.delivery.crate_parts import Box
from jobs.delivery.passage import Door, Vehicle
from jobs.delivery.road import RoadRule

CHECKED_ON = datetime.date(2025, 1, 1)
"""The last day on which rules and vehicles are known to have been so; the studio checks them and puts in its own."""

DOORS = (
    Door("Single door", 0.8, 2.0),
    Door("Double door", 1.6, 2.0),
    Door("Workshop roller door", 3.0, 3.0),
)

FROM_MEMORY = "generic, from memory; ask the haulier"

_CAR_WIDE_M, _LORRY_WIDE_M = 2.1, 2.55


def _closed(name: str, room: Box, payload_kg: float, deck_m: float, *, door: Door, wide_m: float) -> Vehicle:
    return Vehicle(name, room, door, payload_kg, deck_m, wide_m, is_open=False)


VEHICLES = (
    _closed("Panel van, short", Box(2.4, 1.7, 1.4), 900, 0.6, door=Door("rear doors", 1.5, 1.3), wide_m=_CAR_WIDE_M),
    _closed(
        "Panel van, long and high",
        Box(3.7, 1.37, 1.9),
        1200,
        0.7,
        door=Door("rear doors", 1.37, 1.8),
        wide_m=_CAR_WIDE_M,
    ),
    _closed("Luton van with tail lift", Box(4.0, 2.0, 2.1), 1000, 0.9, door=Door("rear door", 2.0, 2.05), wide_m=2.2),
    _closed("Box lorry, 7.5 t", Box(6.0, 2.4, 2.3), 2500, 1.0, door=Door("rear door", 2.3, 2.2), wide_m=_LORRY_WIDE_M),
    _closed("Box lorry, 18 t", Box(7.3, 2.45, 2.5), 9000, 1.2, door=Door("rear door", 2.35, 2.4), wide_m=_LORRY_WIDE_M),
    Vehicle("Curtain-sided lorry, articulated", Box(13.6, 2.48, 2.65), None, 26000, 1.25, _LORRY_WIDE_M, is_open=False),
    Vehicle("Flatbed, articulated", Box(13.6, 2.5, 3.6), None, 26000, 1.35, _LORRY_WIDE_M, is_open=True),
    _closed(
        "20 ft container",
        Box(5.9, 2.35, 2.39),
        21000,
        1.4,
        door=Door("container doors", 2.34, 2.28),
        wide_m=_LORRY_WIDE_M,
    ),
    _closed(
        "40 ft high container",
        Box(12.03, 2.35, 2.7),
        26000,
        1.4,
        door=Door("container doors", 2.34, 2.585),
        wide_m=_LORRY_WIDE_M,
    ),
)

_REG_82 = "Construction and Use Regulations 1986, reg. 82"
_LENGTH = "SI 2003/1998, articles 12 and 13"
_NOTICE = "notice to the police 2 clear working days ahead"

ROAD_RULES = (
    RoadRule("width", 2.9, f"Give {_NOTICE}; put marker boards on the load.", _REG_82),
    RoadRule("width", 3.5, f"Give {_NOTICE}; put marker boards on the load; take an attendant.", _REG_82),
    RoadRule(
        "width", 4.3, "Not permitted under the ordinary rules: ask for a special order, or part the work.", _REG_82
    ),
    RoadRule("side", 0.305, f"Give {_NOTICE}; put marker boards on the load.", _REG_82),
    RoadRule("rear", 1.0, "Make the end clearly visible.", _REG_82),
    RoadRule("rear", 2.0, "Put marker boards on the end.", _REG_82),
    RoadRule("rear", 3.05, f"Give {_NOTICE}; take an attendant; put marker boards on the end.", _REG_82),
    RoadRule("front", 2.0, "Take an attendant; put marker boards on the end.", _REG_82),
    RoadRule("front", 3.05, f"Give {_NOTICE}; take an attendant; put marker boards on the end.", _REG_82),
    RoadRule("length", 18.65, f"Give {_NOTICE}; take an attendant.", _LENGTH),
    RoadRule("train", 25.9, f"Give {_NOTICE}; take an attendant.", _LENGTH),
    RoadRule("height", 3.0, "Show the height of the loaded vehicle in the cab.", "from memory"),
    RoadRule(
        "height", 5.03, "Higher than the least clearance under a bridge without a sign: plan the route.", "from memory"
    ),
)
