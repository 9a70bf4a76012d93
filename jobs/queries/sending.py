"""Doors, vehicles and limits of the road, as the delivery room takes them."""

from jobs.delivery.crate_parts import Box
from jobs.delivery.passage import Door, Vehicle
from jobs.delivery.road import MEASURES, RoadRule
from jobs.models import Doorway, RoadLimit, Transport


def door_value(row: Doorway) -> Door:
    """One door as a value."""
    return Door(row.name, row.width_m, row.height_m)


def vehicle_value(row: Transport) -> Vehicle:
    """One vehicle as a value."""
    door = None
    if row.door_width_m is not None and row.door_height_m is not None:
        door = Door(f"{row.name}, door", row.door_width_m, row.door_height_m)
    room = Box(row.length_m, row.width_m, row.height_m)
    return Vehicle(row.name, room, door, row.payload_kg, row.deck_m, row.overall_width_m, row.is_open)


def limit_value(row: RoadLimit) -> RoadRule:
    """One limit as a value; its source names the day on which it was last checked."""
    checked = f"checked on {row.checked_on:%-d %B %Y}" if row.checked_on else ""
    return RoadRule(row.measure, row.above_m, row.action, ", ".join(filter(None, (row.source, checked))))


def doors() -> list[Door]:
    """Every door, the narrowest first."""
    return [door_value(row) for row in Doorway.objects.all()]


def vehicles() -> list[Vehicle]:
    """Every vehicle: closed ones by payload, then open ones."""
    return [vehicle_value(row) for row in Transport.objects.all()]


def road_rules() -> list[RoadRule]:
    """Every limit of the road."""
    return [limit_value(row) for row in RoadLimit.objects.all()]


def limits_by_measure() -> list[tuple[str, list[RoadLimit]]]:
    """The limits under what they measure, in the order of ``MEASURES``."""
    rows = list(RoadLimit.objects.all())
    return [(name, own) for key, name in MEASURES.items() if (own := [row for row in rows if row.measure == key])]
