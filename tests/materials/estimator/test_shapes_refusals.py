"""What shapes refuse, and in which words."""

from collections.abc import Callable

import pytest

from materials.estimator.errors import EstimatorError, Missing, OutOfRange, UnknownChoice
from materials.estimator.shapes import (
    SHAPES,
    Box,
    Cap,
    Cylinder,
    Ellipsoid,
    Frustum,
    Measured,
    Prism,
    Shape,
    Sphere,
    Superellipsoid,
    Torus,
    Turned,
    ellipse_perimeter_m,
    ellipsoid_area_m2,
    make_shape,
    outline_of,
    scaled,
    superellipse_area_m2,
)

NAN, INFINITE = float("nan"), float("inf")
SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: Sphere(0.0), "diameter is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Sphere(-1.6), "diameter is -1.6 m; it must be between 0.001 and 100 m."),
        (lambda: Sphere(1600.0), "diameter is 1600 m; it must be between 0.001 and 100 m."),
        (lambda: Sphere(NAN), "diameter is nan m; it must be between 0.001 and 100 m."),
        (lambda: Sphere(INFINITE), "diameter is inf m; it must be between 0.001 and 100 m."),
        (lambda: Ellipsoid(0.0, 1.0, 1.0), "half length a is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Ellipsoid(1.0, 0.0, 1.0), "half width b is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Ellipsoid(1.0, 1.0, 0.0), "half height c is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Superellipsoid(1.0, 1.0, 0.0, 1.0, 1.0), "half height c is 0 m; it must be between 0.001 and 100 m."),
        (
            lambda: Superellipsoid(1.0, 1.0, 1.0, 0.05, 1.0),
            "upright exponent e1 is 0.05; it must be between 0.1 and 2.",
        ),
        (lambda: Superellipsoid(1.0, 1.0, 1.0, 1.0, 2.5), "plan exponent e2 is 2.5; it must be between 0.1 and 2."),
        (lambda: Superellipsoid(1.0, 1.0, 1.0, 1.0, NAN), "plan exponent e2 is nan; it must be between 0.1 and 2."),
        (lambda: Cylinder(0.0, 1.0), "diameter is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Cylinder(1.0, 0.0), "height is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Frustum(-0.1, 1.0, 1.0), "bottom diameter is -0.1 m; it must be between 0 and 100 m."),
        (lambda: Frustum(1.0, 101.0, 1.0), "top diameter is 101 m; it must be between 0 and 100 m."),
        (
            lambda: Frustum(0.0, 0.0, 1.0),
            "bottom diameter is 0 m and top diameter 0 m; the larger must be at least 0.001 m.",
        ),
        (lambda: Box(0.0, 1.0, 1.0), "length is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Box(1.0, 0.0, 1.0), "width is 0 m; it must be between 0.001 and 100 m."),
        (lambda: Torus(0.0, 0.1), "ring diameter is 0 m; it must be between 0.001 and 100 m."),
        (
            lambda: Torus(0.5, 0.6),
            "tube diameter is 0.6 m on a ring of 0.5 m; it must be less than the ring diameter, "
            "which is measured to the middle of the tube.",
        ),
        (
            lambda: Torus(0.5, 0.5),
            "tube diameter is 0.5 m on a ring of 0.5 m; it must be less than the ring diameter, "
            "which is measured to the middle of the tube.",
        ),
        (lambda: Cap(0.0, 0.1), "sphere diameter is 0 m; it must be between 0.001 and 100 m."),
        (
            lambda: Cap(1.0, 1.2),
            "height is 1.2 m on a sphere of 1 m; it must be at most the sphere diameter.",
        ),
        (lambda: Prism(SQUARE, 0.0), "height is 0 m; it must be between 0.001 and 100 m."),
        (
            lambda: Turned(((0.0, 0.0), (0.0, 1.0), (0.5, 1.0))),
            "the profile encloses nothing; its side must rise somewhere away from the axis.",
        ),
        (lambda: Measured(0.0, None, 1.0, 1.0, 1.0), "area is 0 m^2; it must be between 1e-06 and 10000 m^2."),
        (lambda: Measured(1.0, 0.0, 1.0, 1.0, 1.0), "volume is 0 m^3; it must be between 1e-09 and 1e+06 m^3."),
        (lambda: Measured(1.0, None, NAN, 1.0, 1.0), "length is nan m; it must be between 0.001 and 100 m."),
        (
            lambda: Measured(6.0, 1.5, 1.0, 1.0, 1.0),
            "volume is 1.5 m^3, but the box round the section holds 1 m^3; check the volume and the extents.",
        ),
    ],
)
def test_it_refuses_a_size_no_section_has(make: Callable[[], Shape], sentence: str) -> None:
    with pytest.raises(EstimatorError) as refusal:
        make()
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("corners", "sentence"),
    [
        ((), "the outline has 0 corners; it must have between 3 and 200."),
        (SQUARE[:1], "the outline has 1 corner; it must have between 3 and 200."),
        (SQUARE[:2], "the outline has 2 corners; it must have between 3 and 200."),
        (SQUARE * 51, "the outline has 204 corners; it must have between 3 and 200."),
        (((0.0, 0.0), (1.0, NAN), (1.0, 1.0)), "y of corner 2 is nan m; it must be between -100 and 100 m."),
        (((0.0, 0.0), (1.0, 0.0), (101.0, 1.0)), "x of corner 3 is 101 m; it must be between -100 and 100 m."),
        (((0.0, 0.0), (1e-4, 0.0), (0.0, 1e-4)), "the outline is 0.0001 m across; it must be at least 0.001 m."),
        (
            (*SQUARE, (0.0, 0.0)),
            "the outline has corners 5 and 1 in one place; give each corner once, the first not again at the end.",
        ),
        (
            ((0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (1.0, 1.0)),
            "the outline has corners 2 and 3 in one place; give each corner once, the first not again at the end.",
        ),
        (
            ((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)),
            "the outline has all its corners on one line; it must enclose an area.",
        ),
        (
            ((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)),
            "the outline crosses itself where sides 1 and 3 meet; give the corners in order round it.",
        ),
        (
            ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.0), (0.0, 2.0)),
            "the outline touches itself where corner 4 lies on side 1; move them apart.",
        ),
        (
            ((0.0, 0.0), (2.0, 0.0), (1.0, 0.0), (1.0, 1.0)),
            "the outline touches itself where corner 3 lies on side 1; move them apart.",
        ),
    ],
)
def test_it_refuses_an_outline_that_is_no_simple_loop(corners: tuple[tuple[float, float], ...], sentence: str) -> None:
    with pytest.raises(EstimatorError) as refusal:
        Prism(corners, 1.0)
    assert str(refusal.value) == sentence


def test_a_refusal_keeps_the_value_and_the_bounds() -> None:
    with pytest.raises(OutOfRange) as refusal:
        Sphere(1600.0)
    assert (refusal.value.name, refusal.value.value, refusal.value.unit) == ("diameter", 1600.0, "m")
    assert (refusal.value.low, refusal.value.high) == (0.001, 100.0)


@pytest.mark.parametrize("factor", [0.0, -1.0, NAN, INFINITE, 1001.0])
def test_it_refuses_a_scale_that_is_none(factor: float) -> None:
    with pytest.raises(OutOfRange) as refusal:
        scaled(Sphere(1.0), factor)
    assert str(refusal.value) == f"scale is {factor:g}; it must be between 0.001 and 1000."


def test_it_refuses_to_scale_a_section_out_of_its_bounds() -> None:
    with pytest.raises(OutOfRange, match=r"^diameter is 200 m; it must be between 0\.001 and 100 m\.$"):
        scaled(Sphere(1.0), 200.0)


@pytest.mark.parametrize(
    ("measure", "sentence"),
    [
        (lambda: ellipsoid_area_m2(1.0, NAN, 1.0), "half width b is nan m; it must be between 0.001 and 100 m."),
        (lambda: ellipse_perimeter_m(0.0, 1.0), "half length a is 0 m; it must be between 0.001 and 100 m."),
        (lambda: superellipse_area_m2(1.0, 1.0, 0.9), "power n is 0.9; it must be at least 1."),
        (lambda: superellipse_area_m2(1.0, 1.0, INFINITE), "power n is inf; it must be at least 1."),
    ],
)
def test_the_curves_refuse_what_no_section_has(measure: Callable[[], float], sentence: str) -> None:
    with pytest.raises(OutOfRange) as refusal:
        measure()
    assert str(refusal.value) == sentence


def test_it_refuses_a_shape_it_does_not_know() -> None:
    with pytest.raises(UnknownChoice) as refusal:
        make_shape("cone", {"height": 1.0})
    assert str(refusal.value) == (
        "shape 'cone' is not known; use one of sphere, ellipsoid, superellipsoid, cylinder, frustum, box, torus, "
        "cap, prism, turned, measured."
    )


def test_it_refuses_a_dimension_the_shape_does_not_have() -> None:
    with pytest.raises(UnknownChoice) as refusal:
        make_shape("cylinder", {"diameter": 1.0, "length": 2.0})
    assert str(refusal.value) == "dimension of a cylinder 'length' is not known; use one of diameter, height."


def test_it_asks_for_a_dimension_left_out() -> None:
    with pytest.raises(Missing) as refusal:
        make_shape("frustum", {"bottom_diameter": 1.0, "top_diameter": None, "height": 1.0})
    assert str(refusal.value) == "top diameter is missing; a frustum needs it."


def test_it_refuses_a_view_it_cannot_draw() -> None:
    with pytest.raises(UnknownChoice) as refusal:
        outline_of(Sphere(1.0), "back")  # type: ignore[arg-type]
    assert str(refusal.value) == "view 'back' is not known; use one of front, side, plan."


EXAMPLES = {
    "sphere": ({"diameter": 1.6}, Sphere(1.6)),
    "ellipsoid": ({"a": 1.5, "b": 1.1, "c": 0.55}, Ellipsoid(1.5, 1.1, 0.55)),
    "superellipsoid": (
        {"a": 1.0, "b": 2.0, "c": 3.0, "e1": 0.5, "e2": 1.5},
        Superellipsoid(1.0, 2.0, 3.0, 0.5, 1.5),
    ),
    "cylinder": ({"diameter": 1.0, "height": 2.0}, Cylinder(1.0, 2.0)),
    "frustum": ({"bottom_diameter": 1.0, "top_diameter": 0.6, "height": 1.2}, Frustum(1.0, 0.6, 1.2)),
    "box": ({"length": 1.0, "width": 2.0, "height": 3.0}, Box(1.0, 2.0, 3.0)),
    "torus": ({"ring_diameter": 1.0, "tube_diameter": 0.3}, Torus(1.0, 0.3)),
    "cap": ({"sphere_diameter": 2.0, "height": 0.4}, Cap(2.0, 0.4)),
    "prism": ({"polygon": SQUARE, "height": 1.0}, Prism(SQUARE, 1.0)),
    "turned": ({"profile": ((0.5, 0.0), (0.2, 1.0))}, Turned(((0.5, 0.0), (0.2, 1.0)))),
    "measured": (
        {"area": 4.0, "volume": None, "length": 1.0, "width": 1.0, "height": 2.0},
        Measured(4.0, None, 1.0, 1.0, 2.0),
    ),
}


@pytest.mark.parametrize("name", SHAPES)
def test_every_shape_is_made_from_its_name_and_dimensions(name: str) -> None:
    dimensions, shape = EXAMPLES[name]
    assert make_shape(name, dimensions) == shape


@pytest.mark.parametrize("kind", SHAPES.values(), ids=SHAPES)
def test_every_shape_names_its_own_attributes_in_order(kind: object) -> None:
    fields = list(kind.shape.__dataclass_fields__)  # type: ignore[attr-defined]
    assert [dimension.field for dimension in kind.dimensions] == fields  # type: ignore[attr-defined]


def test_a_volume_that_is_not_known_may_be_left_out() -> None:
    given = {"area": 4.0, "length": 1.0, "width": 1.0, "height": 2.0}
    assert make_shape("measured", given) == Measured(4.0, None, 1.0, 1.0, 2.0)
