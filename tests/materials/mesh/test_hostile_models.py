"""Models that are valid files and nothing like a sculpture: everything ends, in a result or in plain words."""

from collections.abc import Callable

import numpy as np
import pytest

from materials.estimator.errors import EstimatorError
from materials.mesh.closing import close_holes
from materials.mesh.cutting import BadCut, cut
from materials.mesh.drawing import outlines_of
from materials.mesh.measuring import measure
from materials.mesh.mirror import compare_sides, mirror_of
from materials.mesh.planes import plane_at, plane_of
from materials.mesh.preview import preview_of
from materials.mesh.solid import NotASolid
from materials.mesh.stations import form_of
from materials.mesh.suggesting import Fit, suggest_planes
from materials.mesh.tidying import Shapeless, tidy
from materials.mesh.triangles import Mesh
from materials.mesh.welding import weld
from tests.materials.mesh import solids

RNG = np.random.default_rng(11)


def many_boxes(count: int, *, inside_out: bool) -> Mesh:
    cube = solids.box(0.01, 0.01, 0.01)
    places = RNG.uniform(-1, 1, size=(count, 1, 3))
    vertices = (cube.vertices[None] + places).reshape(-1, 3)
    faces = (cube.faces[None] + np.arange(count)[:, None, None] * len(cube.vertices)).reshape(-1, 3)
    return Mesh(vertices, (faces[:, ::-1] if inside_out else faces).astype(np.int32))


def one_sided_band() -> Mesh:
    """A band with half a twist: one side only, so nothing can be made to agree."""
    steps = 60
    u = np.linspace(0, 2 * np.pi, steps, endpoint=False)
    across = np.array([-0.2, 0.2])
    radius = 1 + across[None, :] * np.cos(u / 2)[:, None]
    points = np.stack(
        [radius * np.cos(u)[:, None], radius * np.sin(u)[:, None], across[None, :] * np.sin(u / 2)[:, None]]
    )
    rows = np.arange(2 * steps).reshape(steps, 2)
    ahead = np.concatenate([rows[1:], rows[:1, ::-1]])
    faces = np.concatenate(
        [
            np.stack([rows[:, 0], ahead[:, 0], ahead[:, 1]], axis=1),
            np.stack([rows[:, 0], ahead[:, 1], rows[:, 1]], axis=1),
        ]
    )
    return Mesh(points.transpose(1, 2, 0).reshape(-1, 3), faces.astype(np.int32))


def heap_of_points() -> Mesh:
    """A great many corners in one spot and one far away, so that all of the heap lies within the weld's reach."""
    corners = RNG.uniform(0, 1e-6, size=(3 * 12_000, 3))
    corners[0] = 10
    return weld(corners, None)


def slivers(count: int) -> Mesh:
    ends = RNG.uniform(-1, 1, size=(count, 2, 3))
    beside = ends[:, 1] + RNG.normal(size=(count, 3)) * 1e-5
    return weld(np.concatenate([ends.reshape(count, 6), beside], axis=1).reshape(-1, 3), None)


HOSTILE: dict[str, Callable[[], Mesh]] = {
    "loose faces": lambda: weld(RNG.uniform(-1, 1, size=(3 * 2_000, 3)), None),
    "slivers": lambda: slivers(3_000),
    "flat sheet": lambda: Mesh(solids.box(1, 1, 1, 6).vertices * (1, 1, 0), solids.box(1, 1, 1, 6).faces),
    "line": lambda: Mesh(solids.box(1, 1, 1, 2).vertices * (1, 0, 0), solids.box(1, 1, 1, 2).faces),
    "heap": heap_of_points,
    "many boxes": lambda: many_boxes(1_500, inside_out=False),
    "boxes inside out": lambda: many_boxes(1_500, inside_out=True),
    "more boxes than are compared": lambda: many_boxes(2_100, inside_out=False),
    "one-sided band": one_sided_band,
    "all faces thrice": lambda: Mesh(solids.box(1, 1, 1, 3).vertices, np.tile(solids.box(1, 1, 1, 3).faces, (3, 1))),
    "crossing itself": lambda: Mesh(
        solids.torus(1, 0.3, 24).vertices * (1, 1, 1) + np.sin(9 * solids.torus(1, 0.3, 24).vertices[:, ::-1]),
        solids.torus(1, 0.3, 24).faces,
    ),
    "random corners": lambda: Mesh(
        RNG.uniform(-1, 1, size=(60, 3)), RNG.integers(0, 60, size=(900, 3), dtype=np.int32)
    ),
    "one triangle": lambda: Mesh(np.eye(3), np.array([[0, 1, 2]], dtype=np.int32)),
}
SHAPELESS = ("line",)
ACTS: dict[str, Callable[[Mesh], object]] = {
    "form": form_of,
    "close": lambda mesh: close_holes(mesh, 0.05),
    "cut": lambda mesh: cut(mesh, (plane_at("z", 0.013), plane_of((1, 0.2, 0.1), 0.02))),
    "draw": outlines_of,
    "suggest": lambda mesh: suggest_planes(mesh, Fit((1.1, 1.1, 0.7))),
    "mirror": mirror_of,
    "sides": lambda mesh: compare_sides(mesh, plane_at("x", 0.017)),
    "preview": lambda mesh: preview_of(mesh, 200),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_everything_ends_in_a_result_or_in_plain_words(name: str) -> None:
    mesh = HOSTILE[name]()
    if name in SHAPELESS:
        with pytest.raises(Shapeless, match="too thin to have an area"):
            tidy(mesh)
        return
    tidied = tidy(mesh)
    assert np.isfinite(measure(tidied).area_m2)
    for act in ACTS.values():
        try:
            assert act(tidied.mesh) is not None or act is mirror_of
        except EstimatorError as refusal:
            message = str(refusal)
            assert message.endswith("."), message


def test_a_one_sided_surface_has_no_volume() -> None:
    found = measure(tidy(one_sided_band()))
    assert found.volume_m3 is None


def test_a_heap_of_points_is_not_joined_pair_by_pair() -> None:
    assert tidy(heap_of_points()).findings.points_joined == 0


def test_more_bodies_than_are_compared_are_said_to_be_so() -> None:
    found = measure(tidy(many_boxes(2_100, inside_out=False)))
    assert found.overlap_m3 is None
    assert any("bodies lie in one another cannot be told" in note for note in found.notes)


def test_bodies_inside_out_without_number_are_all_turned() -> None:
    found = measure(tidy(many_boxes(1_500, inside_out=True)))
    assert found.volume_m3 == pytest.approx(1_500 * 1e-6, rel=1e-9)


def test_loose_faces_have_no_holes_to_close() -> None:
    corners = np.random.default_rng(4).uniform(size=(3 * 40_000, 3))
    with pytest.raises(NotASolid, match="so it has no holes to close"):
        close_holes(weld(corners, None), 0.1)


def test_planes_that_make_too_many_sections_are_refused() -> None:
    planes = tuple(plane_at(axis, place) for axis in "xyz" for place in np.linspace(0.05, 0.95, 9))
    with pytest.raises(BadCut, match="make more than 600 sections; use fewer of them"):
        cut(solids.box(1, 1, 1, 2), planes)
