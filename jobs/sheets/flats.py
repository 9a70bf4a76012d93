"""The flat parts of a section: from its model, from its dimensions, or the largest that is known."""

import math
from dataclasses import dataclass

from jobs.models import CommissionModel, Section, Shape
from jobs.sheets.known import Subject
from jobs.specs import shape_spec
from materials.estimator.shapes.straight import Box, Prism
from materials.specfile import read_shape


@dataclass(frozen=True, slots=True)
class Flat:
    """A flat part: what it is in words, its longer and shorter side [m]."""

    words: str
    long_m: float
    short_m: float

    @property
    def area_m2(self) -> float:
        """Of the rectangle [m²]."""
        return self.long_m * self.short_m


def flats_of(subject: Subject) -> tuple[Flat, ...]:
    """Every flat of a section, the largest first."""
    section = subject.section
    if section is None:
        return ()
    found = _of_model(section) if section.shape == Shape.MESH else _of_shape(section)
    if not found:
        largest_m2 = subject.spec.form.largest_flat_m2
        side = math.sqrt(largest_m2)
        found = [Flat(f"largest flat, {largest_m2:.2f} m², taken as square", side, side)] if largest_m2 else []
    return tuple(sorted(found, key=lambda flat: -flat.area_m2))


def _of_shape(section: Section) -> list[Flat]:
    shape = read_shape(shape_spec(section), section.name)
    if isinstance(shape, Box):
        length, width, height = shape.length_m, shape.width_m, shape.height_m
        return [_flat("front and back", length, height), _flat("sides", width, height), _flat("ends", length, width)]
    if isinstance(shape, Prism):
        corners = shape.polygon
        sides = [math.dist(one, other) for one, other in zip(corners, (*corners[1:], corners[0]), strict=True)]
        return [_flat(f"side {number}", side, shape.height_m) for number, side in enumerate(sides, start=1)]
    return []


def _flat(words: str, one_m: float, other_m: float) -> Flat:
    return Flat(words, max(one_m, other_m), min(one_m, other_m))


def _of_model(section: Section) -> list[Flat]:
    """The model's flats whose middle lies in this part of it."""
    kept = section.dimensions
    model = CommissionModel.objects.filter(pk=kept["model"]).first()
    parts = model.cut.get("sections", []) if model else []
    part = next((each for each in parts if each["name"] == kept["part"]), None)
    if model is None or part is None:
        return []
    reach = [side / 2 for side in part["extents_m"]]
    x, y, z = part["place_m"]
    middle = (x, y, z + reach[2])
    return [
        Flat(f"flat facing {_facing(facet['normal'])}", facet["length_m"], facet["width_m"])
        for facet in model.figures.get("facets", [])
        if all(abs(at - of) <= half + 0.001 for at, of, half in zip(facet["centre_m"], middle, reach, strict=True))
    ]


def _facing(normal: list[float]) -> str:
    """Which way a flat faces, seen from the front."""
    axis = max(range(3), key=lambda index: abs(normal[index]))
    words = (("right", "left"), ("back", "front"), ("up", "down"))[axis]
    return words[0] if normal[axis] > 0 else words[1]
