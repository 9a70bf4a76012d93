"""A section of a specification that names a model's file: read, stood up, cut, and each part a section of its own."""

from dataclasses import dataclass, replace
from pathlib import Path

from materials.estimator.errors import EstimatorError, WrongKind
from materials.estimator.form import Form
from materials.mesh.closing import close_holes
from materials.mesh.cutting import Cut, cut
from materials.mesh.planes import Plane, plane_of
from materials.mesh.reading import Model, read_model
from materials.mesh.standing import placing_of
from materials.mesh.stations import form_of
from materials.mesh.tidying import Tidied, tidy
from materials.mesh.welding import weld
from materials.specfile.fields import Fields, number
from materials.specfile.modelled import Modelled
from materials.units import parse

FILE_FIELDS = ("file", "unit", "up", "finished_height", "cuts", "close_holes")


@dataclass(frozen=True, slots=True)
class Part:
    """One section of a model.

    Attributes
    ----------
    name : str
        What to add to the model's name, "" where it is not cut.
    shape : Modelled
    """

    name: str
    shape: Modelled


def stood_up(
    model: Model, *, up: str, unit: str | None, finished_height_m: float | None, close_m: float | None = None
) -> tuple[Tidied, str]:
    """Return a model to size, on the floor, its faults put right, and what was said of closing its holes.

    Parameters
    ----------
    model : Model
    up : str
        The file's axis that points up.
    unit : str or None
        The file's unit, where it does not state it.
    finished_height_m : float or None
        Height it is brought to [m].
    close_m : float, optional
        Widest hole that is closed [m].

    Returns
    -------
    tuple of (Tidied, str)

    Raises
    ------
    EstimatorError
        Where the size is not known, or is none that a section has.
    """
    placing = placing_of(model, up=up, unit=unit, finished_height_m=finished_height_m)
    welded = weld(model.points, model.faces)
    tidied = tidy(replace(welded, vertices=placing.points(welded.vertices)))
    if close_m is None:
        return tidied, ""
    closed = close_holes(tidied.mesh, close_m)
    return closed.tidied, closed.note


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
    close_m = fields.quantity("close_holes", "length") if fields.has("close_holes") else None
    unit = fields.text("unit") if fields.has("unit") else None
    planes = tuple(_plane(each, f"{fields.place('cuts')}, cut {place}") for place, each in enumerate(_cuts(fields), 1))
    model = read_model(folder / fields.text("file"))
    up = fields.text("up", model.up or "z")
    tidied, _ = stood_up(model, up=up, unit=unit, finished_height_m=height_m, close_m=close_m)
    if not planes:
        return (Part("", Modelled(form_of(tidied.mesh), {})),)
    made = cut(tidied.mesh, planes)
    return tuple(Part(section.name, Modelled(_form_in(made, section.name), {})) for section in made.sections)


def _form_in(made: Cut, name: str) -> Form:
    section = next(each for each in made.sections if each.name == name)
    return form_of(section.mesh, seam_m=made.seam_of(name))


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
