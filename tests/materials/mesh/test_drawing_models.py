"""Outline views: the right shape, the seen lines and none of the hidden ones."""

import numpy as np
import pytest
import shapely

from materials.estimator.errors import OutOfRange
from materials.estimator.outline import Outline
from materials.mesh.cutting import cut
from materials.mesh.depth import DepthMap
from materials.mesh.drawing import VIEWS, exploded, outlines_of, outlines_of_cut
from materials.mesh.planes import plane_at
from materials.mesh.silhouette import silhouette_of
from materials.mesh.triangles import Mesh
from tests.materials.mesh import solids

FIGURE = solids.figure(40)


def shape_of(outline: Outline) -> shapely.Geometry:
    """The silhouette filled even-odd."""
    filled = shapely.Polygon()
    for ring in outline.silhouette:
        filled = filled.symmetric_difference(shapely.Polygon(ring))
    return filled


def tilted(mesh: Mesh, degrees: float = 35) -> Mesh:
    """Turned about the vertical and then leant back, so that no side is seen edge on."""
    a = np.radians(degrees)
    c, s = np.cos(a), np.sin(a)
    about_z = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
    about_x = np.array([[1, 0, 0], [0, c, -s], [0, s, c]])
    return Mesh(mesh.vertices @ (about_x @ about_z).T, mesh.faces)


def together(*meshes: Mesh) -> Mesh:
    offsets = np.cumsum([0, *(len(mesh.vertices) for mesh in meshes)])
    faces = [mesh.faces + offset for mesh, offset in zip(meshes, offsets, strict=False)]
    return Mesh(np.concatenate([mesh.vertices for mesh in meshes]), np.concatenate(faces).astype(np.int32))


def moved(mesh: Mesh, *by: float) -> Mesh:
    return Mesh(mesh.vertices + np.array(by), mesh.faces)


def test_each_view_has_its_own_extents() -> None:
    views = outlines_of(moved(solids.box(1, 2, 3, 2), 7, -4, 2))
    assert {view: shape_of(views[view]).bounds for view in VIEWS} == {
        "front": pytest.approx((-0.5, 0, 0.5, 3)),
        "side": pytest.approx((-1, 0, 1, 3)),
        "plan": pytest.approx((-0.5, -1, 0.5, 1)),
    }


def test_the_front_is_seen_from_the_front_and_the_side_from_the_right() -> None:
    # A wedge that is highest at the right and at the back.
    x, y, z = solids.box(1, 1, 1, 1).vertices.T
    wedge = Mesh(np.stack([x, y, z * (1 + x + 2 * y)], axis=1), solids.box(1, 1, 1, 1).faces)
    front, side = (shape_of(outlines_of(wedge)[view]) for view in ("front", "side"))
    # From the front the right is higher; from the right the back is to the right.
    assert shapely.Point(0.45, 3.5).within(front)
    assert not shapely.Point(-0.45, 3.5).within(front)
    assert shapely.Point(0.45, 3.5).within(side)
    assert not shapely.Point(-0.45, 3.5).within(side)


@pytest.mark.parametrize("closed", [True, False])
def test_the_silhouette_covers_what_the_triangles_cover(closed: bool) -> None:
    mesh = tilted(FIGURE)
    if not closed:
        middles = FIGURE.vertices[FIGURE.faces].mean(axis=1)
        mesh = Mesh(mesh.vertices, mesh.faces[(middles[:, 2] < 2.6) & ((middles[:, 2] < 1) | (middles[:, 1] > 0))])
    flat = mesh.vertices[:, [0, 2]]
    triangles = shapely.polygons(flat[mesh.faces])
    meant = shapely.union_all(shapely.make_valid(triangles[shapely.area(triangles) > 1e-12]))
    picture = DepthMap(mesh.vertices[:, [0, 2, 1]][mesh.faces])
    found = shape_of(Outline("front", silhouette_of(flat, mesh.faces, picture)))
    # Corners nearer than a 2 000th of the size are left out, along an outline about ten sizes long.
    assert found.symmetric_difference(meant).area < 0.004 * meant.area


def test_a_heap_of_loose_faces_is_traced_to_a_spot_of_the_picture() -> None:
    rng = np.random.default_rng(3)
    corners = rng.uniform(-1, 1, size=(900, 1, 3)) + rng.uniform(-0.1, 0.1, size=(900, 3, 3))
    heap = Mesh(corners.reshape(-1, 3), np.arange(2700, dtype=np.int32).reshape(-1, 3))
    outline = outlines_of(heap)["plan"]
    low, high = heap.vertices.min(axis=0), heap.vertices.max(axis=0)
    middle = (low + high)[:2] / 2
    meant = shapely.union_all(shapely.polygons(heap.vertices[heap.faces][:, :, :2] - middle))
    found = shape_of(outline)
    # Half a spot of a 512th along the whole of the edge.
    assert found.symmetric_difference(meant).area < meant.length * 2.2 / 512


def test_a_ring_has_its_hole() -> None:
    views = outlines_of(solids.torus(1.0, 0.3, 71))
    assert len(views["plan"].silhouette) == 2
    area = shape_of(views["plan"]).area
    assert area == pytest.approx(np.pi * (1.3**2 - 0.7**2), rel=3e-3)
    assert len(views["front"].silhouette) == 1


def test_bodies_apart_are_rings_apart() -> None:
    pair = together(solids.box(1, 1, 1, 1), moved(solids.box(1, 1, 1, 1), 3, 0, 0))
    assert len(outlines_of(pair)["front"].silhouette) == 2
    assert len(outlines_of(pair)["side"].silhouette) == 1


def test_a_box_seen_square_has_no_inner_lines() -> None:
    for view in outlines_of(solids.box(1, 2, 3, 6)).values():
        assert view.edges == ()


def test_a_box_seen_aslant_shows_the_three_edges_of_its_nearest_corner() -> None:
    box = tilted(solids.box(1.0, 0.8, 1.4, 8))
    front = outlines_of(box)["front"]
    corner = box.vertices[box.vertices[:, 1].argmin()]
    lines = shapely.MultiLineString([shapely.LineString(edge) for edge in front.edges])
    low, high = box.vertices.min(axis=0), box.vertices.max(axis=0)
    spot = shapely.Point(corner[0] - (low[0] + high[0]) / 2, corner[2] - low[2])
    assert lines.distance(spot) < 0.005
    seen = [1.0 * np.linalg.norm(edge) for edge in edges_as_seen(box, corner)]
    # The lines stop up to two spots of the picture, of which there are 512, short of the outline.
    assert lines.length == pytest.approx(sum(seen), abs=3 * 2 * 2 / 512 * 2)
    assert len(front.silhouette) == 1


def edges_as_seen(box: Mesh, corner: np.ndarray) -> list[np.ndarray]:
    """The three edges from a corner to its neighbours among the box's eight, in the front view."""
    plain = solids.box(1.0, 0.8, 1.4, 8)
    index = int(np.flatnonzero((box.vertices == corner).all(axis=1))[0])
    sizes = np.array([1.0, 0.8, 1.4])
    ends = []
    for axis in range(3):
        other = plain.vertices[index].copy()
        other[axis] = sizes[axis] - other[axis]
        match = int(np.abs(plain.vertices - other).sum(axis=1).argmin())
        ends.append((box.vertices[match] - corner)[[0, 2]])
    return ends


def test_what_lies_behind_is_not_drawn() -> None:
    small, wall = moved(tilted(solids.box(0.3, 0.3, 0.3, 2)), 0, 2, 1), moved(solids.box(2, 0.1, 2, 4), -1, 0, 0)
    behind = outlines_of(together(wall, small))["front"]
    before = outlines_of(together(wall, moved(small, 0, -4, 0)))["front"]
    assert behind.edges == ()
    assert sum(shapely.LineString(edge).length for edge in before.edges) > 1


def test_where_a_rounding_turns_away_before_another_a_line_is_drawn() -> None:
    ball = solids.ellipsoid(0.5, 0.5, 0.5, 48)
    pair = together(ball, moved(ball, 0.6, 1.5, 0))
    front = outlines_of(pair)["front"]
    lines = shapely.MultiLineString([shapely.LineString(edge) for edge in front.edges])
    # The nearer ball's limb, as far as it lies before the other: an arc over the lens both cover.
    assert lines.length == pytest.approx(2 * 0.5 * np.arccos(0.3 / 0.5), rel=0.05)
    middle = shapely.Point(-0.3, 0.5)
    assert all(abs(middle.distance(shapely.Point(spot)) - 0.5) < 0.01 for edge in front.edges for spot in edge)


def test_the_rim_of_an_open_model_is_drawn() -> None:
    bowl = solids.ellipsoid(1, 1, 1, 48)
    bowl = tilted(Mesh(bowl.vertices, bowl.faces[(bowl.vertices[bowl.faces][:, :, 2] < 1e-9).all(axis=1)]), 30)
    assert sum(shapely.LineString(edge).length for edge in outlines_of(bowl)["front"].edges) > 1


def test_seams_are_drawn_where_they_are_seen() -> None:
    parts = cut(FIGURE, (plane_at("z", 1.2), plane_at("z", 2.2)))
    views = outlines_of_cut(FIGURE, parts)
    plain = outlines_of(FIGURE)
    for view in ("front", "side"):
        lines = [edge for edge in views[view].edges if edge not in plain[view].edges]
        assert sorted(round(np.mean([z for _, z in edge]), 2) for edge in lines) == [1.2, 2.2]
        # Level cuts seen from the front are straight across; the back half lies behind and adds nothing.
        for edge in lines:
            height = edge[0][1]
            across = shape_of(views[view]).intersection(shapely.LineString([(-3, height), (3, height)])).length
            assert shapely.LineString(edge).length == pytest.approx(across, abs=0.03)


def test_an_exploded_view_moves_neighbours_apart_by_the_gap() -> None:
    parts = cut(FIGURE, (plane_at("z", 1.2), plane_at("z", 2.2), plane_at("x", 0)))
    apart, together_ = exploded(parts, 0.3), exploded(parts, 0.0)
    assert [part.name for part in apart] == [section.name for section in parts.sections]
    assert min(part.z_m for part in apart) == 0
    heights = sorted({round(part.z_m, 6) for part in apart})
    assert heights == pytest.approx([0, 1.5, 2.8], abs=1e-6)
    for one, other in zip(together_, apart, strict=True):
        assert abs(other.x_m - one.x_m) == pytest.approx(0.15)
        assert other.y_m == pytest.approx(one.y_m)
        assert set(other.outlines) == set(VIEWS)


def test_it_refuses_a_gap_that_makes_no_sense() -> None:
    parts = cut(FIGURE, (plane_at("z", 1.2),))
    for gap in (-0.1, float("nan"), 21.0):
        with pytest.raises(OutOfRange, match="gap between sections is"):
            exploded(parts, gap)


def test_drawing_twice_gives_the_same_lines() -> None:
    assert outlines_of(FIGURE) == outlines_of(FIGURE)
