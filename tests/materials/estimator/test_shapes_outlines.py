"""How each shape is seen from the front, the side and above."""

import math

import pytest

from materials.estimator.outline import Outline, ViewName
from materials.estimator.shapes import (
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
    outline_of,
)


def enclosed_m2(outline: Outline) -> float:
    """Area of the outer ring less its holes."""
    areas = []
    for ring in outline.silhouette:
        doubled = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True))
        areas.append(abs(doubled) / 2)
    return areas[0] - sum(areas[1:])


@pytest.mark.parametrize(
    ("shape", "view", "area_m2"),
    [
        (Sphere(1.6), "front", math.pi * 0.64),
        (Sphere(1.6), "plan", math.pi * 0.64),
        (Ellipsoid(1.5, 1.1, 0.55), "front", math.pi * 1.5 * 0.55),
        (Ellipsoid(1.5, 1.1, 0.55), "side", math.pi * 1.1 * 0.55),
        (Ellipsoid(1.5, 1.1, 0.55), "plan", math.pi * 1.5 * 1.1),
        (Superellipsoid(1.0, 0.8, 0.6, 2.0, 1.0), "front", 2 * 0.6),
        (Superellipsoid(1.0, 0.8, 0.6, 2.0, 1.0), "plan", math.pi * 0.8),
        (Cylinder(0.8, 1.5), "side", 1.2),
        (Cylinder(0.8, 1.5), "plan", math.pi * 0.16),
        (Frustum(1.0, 0.6, 1.2), "front", 0.96),
        (Frustum(0.6, 1.0, 1.2), "plan", math.pi * 0.25),
        (Box(1.2, 0.8, 2.0), "front", 2.4),
        (Box(1.2, 0.8, 2.0), "side", 1.6),
        (Box(1.2, 0.8, 2.0), "plan", 0.96),
        (Torus(1.8, 0.5), "front", 0.9 + math.pi / 16),
        (Torus(1.8, 0.5), "plan", math.pi * (1.15**2 - 0.65**2)),
        (Cap(2.0, 1.0), "front", math.pi / 2),
        (Cap(2.0, 0.4), "plan", math.pi * 0.64),
        (Cap(2.0, 1.6), "plan", math.pi),
        (Measured(4.0, None, 1.2, 0.8, 2.0), "side", 1.6),
    ],
)
def test_a_view_shows_the_shadow_of_its_shape(shape: Shape, view: ViewName, area_m2: float) -> None:
    # Ninety-six chords round a circle enclose 0.07 % less than the circle.
    assert enclosed_m2(outline_of(shape, view)) == pytest.approx(area_m2, rel=1e-3)


def test_a_frustum_shows_the_rim_of_a_smaller_top_from_above_and_no_other() -> None:
    (rim,) = outline_of(Frustum(1.0, 0.6, 1.2), "plan").edges
    assert rim[0] == rim[-1]
    assert max(x for x, _ in rim) == pytest.approx(0.3)
    assert outline_of(Frustum(0.6, 1.0, 1.2), "plan").edges == ()
    assert outline_of(Frustum(1.0, 0.0, 1.2), "plan").edges == ()
    assert outline_of(Frustum(1.0, 0.6, 1.2), "front").edges == ()


HEXAGON = tuple((math.cos(math.pi * turn / 3), math.sin(math.pi * turn / 3)) for turn in range(6))


def places(shape: Prism, view: ViewName) -> list[float]:
    return [edge[0][0] for edge in outline_of(shape, view).edges]


def test_a_prism_shows_the_upright_edges_on_the_near_side() -> None:
    assert places(Prism(HEXAGON, 2.0), "front") == pytest.approx([-0.5, 0.5])
    assert places(Prism(HEXAGON, 2.0), "side") == pytest.approx([0.0])
    (edge, _) = outline_of(Prism(HEXAGON, 2.0), "front").edges
    assert [y for _, y in edge] == [0.0, 2.0]


def test_a_prism_hides_the_upright_edges_on_the_far_side() -> None:
    wedge = Prism(((0.0, 0.0), (1.0, 0.0), (0.3, 1.0)), 1.0)
    assert places(wedge, "front") == []
    turned_round = Prism(((0.0, 0.0), (-1.0, 0.0), (-0.3, -1.0)), 1.0)
    assert places(turned_round, "front") == pytest.approx([0.2])


def test_a_prism_shows_edges_as_the_viewer_from_the_right_sees_them() -> None:
    # The tip at x = 1 points at that viewer; y runs to the right.
    pointing = Prism(((0.0, 0.0), (1.0, 0.2), (0.0, 1.0)), 1.0)
    assert places(pointing, "side") == pytest.approx([-0.3])
    away = Prism(((0.0, 0.0), (0.0, 1.0), (-1.0, 0.2)), 1.0)
    assert places(away, "side") == []


def test_a_prism_shows_both_sides_of_a_notch_that_opens_to_the_viewer() -> None:
    notched = ((0.0, 0.0), (1.0, 0.0), (1.4, 1.0), (1.6, 1.0), (2.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0))
    assert places(Prism(notched, 1.0), "front") == pytest.approx([-0.5, -0.1, 0.1, 0.5])
    assert places(Prism(tuple((x, -y) for x, y in notched), 1.0), "front") == []


def test_a_corner_on_a_straight_side_is_no_edge() -> None:
    plan = ((0.0, 0.0), (0.5, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    assert places(Prism(plan, 1.0), "front") == []


@pytest.mark.parametrize("view", ["front", "side", "plan"])
def test_a_measured_section_says_that_only_its_extents_are_drawn(view: ViewName) -> None:
    assert outline_of(Measured(4.0, None, 1.2, 0.8, 2.0), view).note == "extents only"
    assert outline_of(Box(1.2, 0.8, 2.0), view).note == ""
