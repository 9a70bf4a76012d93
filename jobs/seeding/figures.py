"""The figures of costing, of waiting and of delivery, as rows that the studio may change."""

from typing import Any

from jobs.delivery import reference as delivery
from jobs.delivery.reference.roads import CHECKED_ON, DOORS, FROM_MEMORY, ROAD_RULES, VEHICLES
from jobs.figures import reference as costing
from materials.seeding import seed_figures


def seed(apps: Any) -> None:
    """Add every figure that is missing; ``apps`` is a migration's registry of models."""
    seed_figures(apps.get_model("materials", "Figure"), {**costing.COEFFICIENTS, **delivery.COEFFICIENTS})


def seed_ways(apps: Any) -> None:
    """Give a studio that has none its first doors, vehicles and limits of the road, in their first columns."""
    door, vehicle, limit = (apps.get_model("jobs", name) for name in ("Doorway", "Transport", "RoadLimit"))
    for known in () if door.objects.exists() else DOORS:
        door.objects.create(name=known.name, width_m=known.width_m, height_m=known.height_m)
    for carries in () if vehicle.objects.exists() else VEHICLES:
        vehicle.objects.create(
            name=carries.name,
            length_m=carries.room.length_m,
            width_m=carries.room.width_m,
            height_m=carries.room.height_m,
            door_width_m=carries.door.width_m if carries.door else None,
            door_height_m=carries.door.height_m if carries.door else None,
            payload_kg=carries.payload_kg,
            deck_m=carries.deck_m,
            overall_width_m=carries.overall_width_m,
            is_open=carries.is_open,
            source=FROM_MEMORY,
        )
    for rule in () if limit.objects.exists() else ROAD_RULES:
        limit.objects.create(
            measure=rule.measure, above_m=rule.above_m, action=rule.action, source=rule.source, as_of=CHECKED_ON
        )
