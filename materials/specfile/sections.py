"""One section of a specification: its shape, and how it is patterned, moulded, cast and finished."""

from pathlib import Path

from materials.estimator.errors import EstimatorError, UnknownChoice, WrongKind
from materials.estimator.form import Form
from materials.estimator.shapes import SHAPES, Dimension, Polygon, Shape, make_shape, scaled
from materials.estimator.spec import Block, CastSpec, Joining, MouldSpec, PatternSpec, Ply, SectionSpec
from materials.estimator.studio import StudioFigures
from materials.specfile.fields import Fields, number, quantity, standing_at
from materials.specfile.modelled import MESH, Modelled, read_modelled
from materials.specfile.models import FILE_FIELDS, parts_of
from materials.specfile.schemes import LayUps, read_coats, read_ply
from materials.units import convert

_SHAPE_FIELDS = ("shape", "dimensions", "scale", "form", "outlines")
_FIELDS = (
    *("name", *_SHAPE_FIELDS, *FILE_FIELDS, "count", "mirrored", "grade"),
    *("pattern", "mould", "cast", "finish", "metal", "crate", "stand", "offset"),
)
_POINT_UNITS = ("m", "cm", "mm", "ft", "in")


def read_sections(data: object, place: int, defaults: StudioFigures, folder: Path | None) -> tuple[SectionSpec, ...]:
    """What stands at a place of the list, counted from 1: one section, or each of those a model is cut into.

    ``folder`` is where the specification lies, for the files it names; None where it is no file itself.
    """
    fields = Fields(data, f"Section {place}", _FIELDS)
    # These two are for the drawing alone; here they are only held to be lengths.
    for key in ("stand", "offset"):
        if fields.has(key):
            fields.quantity(key, "length", allow_zero=True)
    layups = LayUps(defaults)
    name, grade = fields.text("name", fields.where), fields.text("grade", "B")
    forms = _forms(fields, folder)
    pattern, mould, cast = _pattern(fields, defaults), _mould(fields, layups, defaults), _cast(fields, layups, defaults)
    coats = read_coats(fields, grade, defaults)
    count, mirrored = fields.whole("count", 1), fields.flag("mirrored", default=False)
    metal_kg = fields.quantity("metal", "mass", 0.0, allow_zero=True)
    crated = fields.flag("crate", default=True)
    with standing_at(fields.where):
        return tuple(
            SectionSpec(
                f"{name} {part}".rstrip(), form, grade, pattern, mould, cast, coats, count, mirrored, metal_kg, crated
            )
            for part, form in forms
        )


def _forms(fields: Fields, folder: Path | None) -> list[tuple[str, Form]]:
    """Each form that stands here, with what tells it from its neighbours, "" where it is the only one."""
    if fields.text("shape") == MESH and fields.has("file"):
        _refuse(fields, ("dimensions", "scale", "form", "outlines"), "a model's file gives them")
        with standing_at(fields.where):
            return [(part.name, part.form) for part in parts_of(fields, folder)]
    return [("", _shape(fields).form())]


def read_shape(data: object, name: str = "The section") -> Shape | Modelled:
    """The shape of a section at full size, from what says how big it is alone.

    Parameters
    ----------
    data : object
        A section's ``shape`` with ``dimensions`` and ``scale``, or with ``form`` and ``outlines``.
    name : str
        What an error calls the section.

    Returns
    -------
    Shape or Modelled

    Raises
    ------
    EstimatorError
        For a shape or dimension that is not known, or a size no section has.
    """
    return _shape(Fields(data, name, _SHAPE_FIELDS))


def _refuse(fields: Fields, keys: tuple[str, ...], why: str) -> None:
    for key in keys:
        if fields.has(key):
            raise EstimatorError(fields.place(key), None, f"{fields.place(key)} cannot be given here: {why}.")


def _shape(fields: Fields) -> Shape | Modelled:
    name = fields.text("shape")
    if name == MESH:
        _refuse(fields, ("dimensions", "scale"), "a model has its figures under form")
        return read_modelled(fields)
    _refuse(fields, ("form", "outlines", *FILE_FIELDS), f"only shape {MESH} has it")
    if name not in SHAPES:
        raise UnknownChoice(fields.place("shape"), name, [*SHAPES, MESH])
    asked = SHAPES[name].dimensions
    has_points = any(dimension.kind == "polygon" for dimension in asked)
    names = [dimension.name for dimension in asked]
    given = fields.inner("dimensions", [*names, "unit"] if has_points else names)
    values = {each.name: _dimension(given, each) for each in asked if each.required or given.has(each.name)}
    factor = _scale(fields)
    with standing_at(given.where):
        shape = make_shape(name, values)
        return shape if factor is None else scaled(shape, factor)


def _dimension(given: Fields, dimension: Dimension) -> float | Polygon:
    match dimension.kind:
        case "length":
            return given.quantity(dimension.name, "length", allow_zero=True)
        case "area":
            return given.quantity(dimension.name, "area")
        case "volume":
            return given.quantity(dimension.name, "volume")
        case "number":
            return given.number(dimension.name)
        case "polygon":
            return _points(given, dimension.name)


def _points(given: Fields, key: str) -> Polygon:
    points = given.listing(key, "list the points, each as two numbers.")
    unit = given.raw("unit", f"give that of the points: {', '.join(_POINT_UNITS)}.")
    if not isinstance(unit, str) or unit not in _POINT_UNITS:
        raise UnknownChoice(given.place("unit"), unit, _POINT_UNITS)
    in_metres = convert(1.0, unit, "m")
    read = []
    for place, point in enumerate(points, start=1):
        name = f"{given.place(key)}, point {place}"
        if not isinstance(point, list | tuple) or len(point) != 2:
            raise WrongKind(name, point, "two numbers, such as [1.2, 0.4]")
        x, y = (number(each, name) * in_metres for each in point)
        read.append((x, y))
    return tuple(read)


def _scale(fields: Fields) -> float | None:
    """Full size over the size given; None where the dimensions are full size."""
    if not fields.has("scale"):
        return None
    value = fields.raw("scale", "")
    if isinstance(value, int | float):
        return number(value, fields.place("scale"))
    if not isinstance(value, dict):
        raise WrongKind(fields.place("scale"), value, 'a number, or sizes such as {"from": "0.45 m", "to": "3.6 m"}')
    sizes = fields.inner("scale", ("from", "to"))
    return sizes.quantity("to", "length") / sizes.quantity("from", "length")


def _pattern(fields: Fields, defaults: StudioFigures) -> PatternSpec:
    given = fields.inner("pattern", ("method", "filler", "barrier_coats", "wax_coats", "block"))
    method = given.text("method", "carved")
    filler_mm = 1000 * given.quantity("filler", "length", defaults.value("filler_thickness") / 1000, allow_zero=True)
    barrier_coats = given.whole("barrier_coats", round(defaults.value("barrier_coats")))
    wax_coats = given.whole("wax_coats", round(defaults.value("wax_coats")))
    block = _block(given, defaults)
    with standing_at(given.where):
        return PatternSpec(method, block, filler_mm, barrier_coats, wax_coats)


def _block(given: Fields, defaults: StudioFigures) -> Block:
    if not given.has("block"):
        return defaults.block
    sides, name = given.listing("block", ""), given.place("block")
    if len(sides) != 3:
        raise EstimatorError(name, sides, f"{name} has {len(sides)} sides; give its length, width and thickness.")
    length, width, thickness = (quantity(side, "length", name) for side in sides)
    with standing_at(name):
        return Block(length, width, thickness)


def _mould(fields: Fields, layups: LayUps, defaults: StudioFigures) -> MouldSpec:
    given = fields.inner("mould", ("pieces", "seam", "seam_closed", "return_width", "layup", "frame"))
    pieces = given.whole("pieces", round(defaults.value("mould_pieces")))
    seam_m = given.quantity("seam", "length") if given.has("seam") else None
    return_width_m = given.quantity("return_width", "length", defaults.value("return_width"))
    frame_kg = given.quantity("frame", "mass", defaults.value("backing_frame"), allow_zero=True)
    layup = layups.read(given, defaults.mould_layup)
    closed = given.flag("seam_closed", default=False)
    with standing_at(given.where):
        return MouldSpec(pieces, seam_m, return_width_m, layup, frame_kg, seam_closed=closed)


def _cast(fields: Fields, layups: LayUps, defaults: StudioFigures) -> CastSpec:
    given = fields.inner("cast", ("pulls", "layup", "joining"))
    pulls = given.whole("pulls", 1)
    layup = layups.read(given, defaults.cast_layup)
    joining = _joining(given, layup.plies, defaults)
    with standing_at(given.where):
        return CastSpec(pulls, layup, joining)


def _joining(cast: Fields, plies: tuple[Ply, ...], defaults: StudioFigures) -> Joining:
    given = cast.inner("joining", ("strip_width", "layers", "ply", "bolt_pitch"))
    strip_width_m = given.quantity("strip_width", "length", defaults.value("strip_width"))
    layers = given.whole("layers", round(defaults.value("strip_layers")))
    # Strips are of the skin's own mat, or of its first glass where it has no mat.
    ply = next((ply for ply in plies if ply.kind == "csm"), plies[0])
    if given.has("ply"):
        ply = read_ply(given.raw("ply", ""), given.place("ply"), defaults, layered=False)
    pitch_m = given.quantity("bolt_pitch", "length") if given.has("bolt_pitch") else None
    with standing_at(given.where):
        return Joining(strip_width_m, layers, ply, pitch_m)
