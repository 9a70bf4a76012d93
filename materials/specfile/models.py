"""A section of a specification that names a model's file: read, stood up, cut, and each part a section of its own."""

from dataclasses import dataclass, replace
from pathlib import Path

from materials.estimator.errors import EstimatorError, WrongKind
from materials.estimator.form import Form
from materials.mesh.planes import Plane, plane_of
from materials.mesh.sections import sections_of
from materials.specfile.fields import Fields, number
from materials.units import parse

FILE_FIELDS = ("file", "unit", "up", "finished_height", "cuts")


@dataclass(frozen=True, slots=True)
class Part:
    """One section of a model.

    Attributes
    ----------
    name : str
        What to add to the model's name, "" where it is not cut.
    form : Form
        Its seam is the length along which it meets its neighbours.
    """

    name: str
    form: Form


def parts_of(fields: Fields, folder: Path | None) -> tuple[Part, ...]:
    """Return the sections of the model that a section of a specification names.

    Parameters
    ----------
    fields : Fields
    folder : Path or None
        Where the specification lies; None where it is no file, and may name none.

    Returns
    -------
    tuple of Part
        Lowest first.

    Raises
    ------
    EstimatorError
        For a file that cannot be read, a size that is not known, or planes that do not cut.
    """
    if folder is None:
        place = fields.place("file")
        raise EstimatorError(place, None, f"{place} is read from a specification file alone; give the figures instead.")
    height_m = fields.quantity("finished_height", "length") if fields.has("finished_height") else None
    unit, up = (fields.text(key) if fields.has(key) else None for key in ("unit", "up"))
    planes = tuple(_plane(each, f"{fields.place('cuts')}, cut {place}") for place, each in enumerate(_cuts(fields), 1))
    found = sections_of(folder / fields.text("file"), planes=planes, up=up, unit=unit, finished_height_m=height_m)
    return tuple(
        Part(
            section.name if planes else "",
            replace(
                section.form,
                seam_m=section.joint_m or None,
                largest_flat_m2=max((facet.area_m2 for facet in section.facets), default=0.0),
            ),
        )
        for section in found
    )


def _cuts(fields: Fields) -> list[object]:
    return fields.listing("cuts", "") if fields.has("cuts") else []


def _plane(data: object, where: str) -> Plane:
    given = Fields(data, where, ("normal", "offset"))
    normal = given.listing("normal", "give three numbers, such as [0, 0, 1].")
    if len(normal) != 3:
        raise WrongKind(given.place("normal"), normal, "three numbers, such as [0, 0, 1]")
    x, y, z = (number(each, given.place("normal")) for each in normal)
    offset = given.text("offset")
    sign = -1.0 if offset.startswith(("-", "−")) else 1.0
    away = parse(offset.lstrip("-− "), "length", given.place("offset"), allow_zero=True)
    return plane_of((x, y, z), sign * away)
