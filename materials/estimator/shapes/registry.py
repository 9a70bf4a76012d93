"""Every shape by name, with the dimensions a form asks for and a specification gives."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

from materials.estimator.errors import Missing, UnknownChoice
from materials.estimator.form import Form
from materials.estimator.outline import Outline, ViewName
from materials.estimator.shapes.curved import Cap, Ellipsoid, Sphere, Superellipsoid, Torus
from materials.estimator.shapes.limits import check_between
from materials.estimator.shapes.measured import Measured
from materials.estimator.shapes.polygon import Polygon
from materials.estimator.shapes.straight import Box, Cylinder, Frustum, Prism
from materials.estimator.shapes.turned import Turned

Shape = Sphere | Ellipsoid | Superellipsoid | Cylinder | Frustum | Box | Torus | Cap | Prism | Turned | Measured

Kind = Literal["length", "area", "volume", "number", "polygon"]

_SUFFIX: Mapping[Kind, str] = {"length": "_m", "area": "_m2", "volume": "_m3", "number": "", "polygon": ""}
_POWER: Mapping[Kind, int] = {"length": 1, "area": 2, "volume": 3, "number": 0}

SMALLEST_SCALE = 0.001
LARGEST_SCALE = 1000.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """One thing to give for a shape.

    Attributes
    ----------
    name : str
        Key in a specification ("bottom_diameter").
    label : str
        In words, as messages and forms print it ("bottom diameter").
    kind : str
        "length", "area", "volume", "number" or "polygon".
    hint : str
        How it is measured, "" where the label says it.
    required : bool
        Whether it has to be given.
    """

    name: str
    label: str
    kind: Kind
    hint: str = ""
    required: bool = True

    @property
    def field(self) -> str:
        """Name of the shape's attribute, with the unit at its end."""
        return self.name + _SUFFIX[self.kind]


@dataclass(frozen=True, slots=True)
class ShapeKind:
    """One shape a section may have.

    Attributes
    ----------
    name, label, hint : str
        Key in a specification, the word for it, and one line that says what is meant.
    shape : type
        The class.
    dimensions : tuple of Dimension
        What to give, in the order to ask.
    """

    name: str
    label: str
    hint: str
    shape: type[Shape]
    dimensions: tuple[Dimension, ...]


def _length(name: str, hint: str = "") -> Dimension:
    return Dimension(name, name.replace("_", " "), "length", hint)


_AXES = (
    Dimension("a", "half length a", "length", "from the middle to the end, along x"),
    Dimension("b", "half width b", "length", "from the middle to the side, along y"),
    Dimension("c", "half height c", "length", "from the middle to the top"),
)
_EXTENTS = (_length("length", "along x"), _length("width", "along y"), _length("height"))

SHAPES: Mapping[str, ShapeKind] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            ShapeKind("sphere", "Sphere", "A ball.", Sphere, (_length("diameter"),)),
            ShapeKind(
                "ellipsoid", "Ellipsoid", "An egg or cushion with rounded ends, standing upright.", Ellipsoid, _AXES
            ),
            ShapeKind(
                "superellipsoid",
                "Superellipsoid",
                "Between an ellipsoid and a box or diamond; 1 is round, 0.1 squared off, 2 drawn to edges.",
                Superellipsoid,
                (
                    *_AXES,
                    Dimension("e1", "upright exponent e1", "number", "roundness seen from the floor, 0.1 to 2"),
                    Dimension("e2", "plan exponent e2", "number", "roundness seen from above, 0.1 to 2"),
                ),
            ),
            ShapeKind(
                "cylinder",
                "Cylinder",
                "A round column, both ends closed.",
                Cylinder,
                (_length("diameter"), _length("height")),
            ),
            ShapeKind(
                "frustum",
                "Frustum",
                "A cone cut level, both ends closed; 0 for one diameter makes it a whole cone.",
                Frustum,
                (_length("bottom_diameter"), _length("top_diameter"), _length("height")),
            ),
            ShapeKind("box", "Box", "A block, all six faces moulded.", Box, _EXTENTS),
            ShapeKind(
                "torus",
                "Torus",
                "A round ring lying flat.",
                Torus,
                (_length("ring_diameter", "to the middle of the tube"), _length("tube_diameter")),
            ),
            ShapeKind(
                "cap",
                "Cap",
                "The top of a sphere; its flat is where it joins and is not counted.",
                Cap,
                (_length("sphere_diameter", "of the whole sphere"), _length("height", "of the cap alone")),
            ),
            ShapeKind(
                "prism",
                "Prism",
                "A plan of straight sides carried straight up, both ends closed.",
                Prism,
                (
                    Dimension("polygon", "outline", "polygon", "corners in order, each once"),
                    _length("height"),
                ),
            ),
            ShapeKind(
                "turned",
                "Turned",
                "A side turned about its upright axis; its ends are where it joins and are not counted.",
                Turned,
                (Dimension("profile", "profile", "polygon", "radius and height of each point, from the foot up"),),
            ),
            ShapeKind(
                "measured",
                "Measured",
                "Skin area and extents taken from the maquette or pattern.",
                Measured,
                (
                    Dimension("area", "area", "area", "the skin to be moulded"),
                    Dimension("volume", "volume", "volume", "leave out where it is not known", required=False),
                    *_EXTENTS,
                ),
            ),
        )
    }
)

_BY_CLASS = {kind.shape: kind for kind in SHAPES.values()}


def make_shape(name: str, dimensions: Mapping[str, float | Polygon | None]) -> Shape:
    """Make a shape from its name and dimensions as a specification gives them.

    Parameters
    ----------
    name : str
        Key of ``SHAPES``.
    dimensions : mapping of str to float, tuple of (float, float), or None
        Values by dimension name: lengths [m], areas [m^2], volumes [m^3], numbers
        [dimensionless]; None counts as not given.

    Returns
    -------
    Shape

    Raises
    ------
    UnknownChoice
        If the shape or one of the dimensions is not known.
    Missing
        If a dimension the shape needs is not given.
    EstimatorError
        If a value is one the shape refuses.
    """
    if name not in SHAPES:
        raise UnknownChoice("shape", name, SHAPES)
    kind = SHAPES[name]
    known = [dimension.name for dimension in kind.dimensions]
    for given in dimensions:
        if given not in known:
            raise UnknownChoice(f"dimension of a {name}", given, known)
    for dimension in kind.dimensions:
        if dimension.required and dimensions.get(dimension.name) is None:
            raise Missing(dimension.label, f"a {name} needs it.")
    values: dict[str, Any] = {dimension.field: dimensions.get(dimension.name) for dimension in kind.dimensions}
    return kind.shape(**values)


def form_of(shape: Shape) -> Form:
    """Area, volume, extents, stations and balance of a shape.

    Parameters
    ----------
    shape : Shape
        Any of the classes in ``SHAPES``.

    Returns
    -------
    Form
    """
    return shape.form()


def outline_of(shape: Shape, view: ViewName) -> Outline:
    """One flat view of a shape, from the middle of its extents and its foot.

    Parameters
    ----------
    shape : Shape
        Any of the classes in ``SHAPES``.
    view : str
        "front", "side" or "plan".

    Returns
    -------
    Outline

    Raises
    ------
    UnknownChoice
        If there is no such view.
    """
    if view not in ("front", "side", "plan"):
        raise UnknownChoice("view", view, ("front", "side", "plan"))
    return shape.outline(view)


def scaled(shape: Shape, factor: float) -> Shape:
    """The shape at another size, as from a maquette.

    Parameters
    ----------
    shape : Shape
        Any of the classes in ``SHAPES``.
    factor : float
        New length over old [dimensionless].

    Returns
    -------
    Shape
        Lengths times the factor, an entered area times its square, an entered volume
        times its cube; exponents stay.

    Raises
    ------
    OutOfRange
        If the factor is not between 0.001 and 1000, or a dimension leaves its bounds.
    """
    check_between("scale", factor, "", SMALLEST_SCALE, LARGEST_SCALE)
    values: dict[str, Any] = {}
    for dimension in _BY_CLASS[type(shape)].dimensions:
        value = getattr(shape, dimension.field)
        if dimension.kind == "polygon":
            values[dimension.field] = tuple((x * factor, y * factor) for x, y in value)
        else:
            values[dimension.field] = None if value is None else value * factor ** _POWER[dimension.kind]
    return type(shape)(**values)
