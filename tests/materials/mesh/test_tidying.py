"""Faults are found, put right where nothing is guessed, and every change is reported."""

import numpy as np
import pytest

from materials.estimator.errors import OutOfRange
from materials.mesh.balance import is_balanced
from materials.mesh.closing import close_holes
from materials.mesh.measuring import measure
from materials.mesh.tidying import Tidied, hole_of, tidy
from materials.mesh.triangles import Mesh
from materials.mesh.welding import weld
from tests.materials.mesh import solids

CUBE = solids.box(1, 1, 1, 8)


def together(*meshes: Mesh) -> Mesh:
    offsets = np.cumsum([0, *(len(mesh.vertices) for mesh in meshes)])
    faces = [mesh.faces + offset for mesh, offset in zip(meshes, offsets, strict=False)]
    return Mesh(np.concatenate([mesh.vertices for mesh in meshes]), np.concatenate(faces).astype(np.int32))


def moved(mesh: Mesh, *by: float, factor: float = 1.0) -> Mesh:
    return Mesh(mesh.vertices * factor + np.array(by), mesh.faces)


def inside_out(mesh: Mesh) -> Mesh:
    return Mesh(mesh.vertices, mesh.faces[:, ::-1])


def volume_of(tidied: Tidied) -> float:
    volume = measure(tidied).volume_m3
    assert volume is not None
    return volume


def test_a_sound_model_is_left_alone() -> None:
    tidied = tidy(CUBE)
    assert tidied.findings.notes == ()
    assert tidied.findings.closed
    assert np.array_equal(tidied.mesh.faces, CUBE.faces)


def test_faces_that_disagree_are_turned_and_counted() -> None:
    faces = CUBE.faces.copy()
    faces[::5] = faces[::5, ::-1]
    tidied = tidy(Mesh(CUBE.vertices, faces))
    assert tidied.findings.faces_turned == len(faces[::5])
    assert tidied.findings.notes == (f"{len(faces[::5])} faces looked inwards and were turned round.",)
    assert volume_of(tidied) == pytest.approx(1, rel=1e-12)


def test_a_model_that_is_inside_out_is_turned_whole() -> None:
    tidied = tidy(inside_out(CUBE))
    assert tidied.findings.faces_turned == len(CUBE.faces)
    assert volume_of(tidied) == pytest.approx(1, rel=1e-12)


def test_one_body_inside_out_beside_another_is_turned_alone() -> None:
    tidied = tidy(together(CUBE, inside_out(moved(CUBE, 3, 0, 0, factor=0.5))))
    assert tidied.findings.faces_turned == len(CUBE.faces)
    assert volume_of(tidied) == pytest.approx(1.125, rel=1e-12)


def test_a_hollow_stays_a_hollow_and_is_said() -> None:
    hollow = together(CUBE, inside_out(moved(CUBE, 0.25, 0.25, 0.25, factor=0.5)))
    for model in (hollow, inside_out(hollow)):
        tidied = tidy(model)
        assert tidied.findings.hollows == 1
        assert "1 hollow was found within the model and is not in its volume." in tidied.findings.notes
        assert volume_of(tidied) == pytest.approx(0.875, rel=1e-12)


def test_repeated_faces_are_dropped_and_counted() -> None:
    tidied = tidy(Mesh(CUBE.vertices, np.concatenate([CUBE.faces, np.roll(CUBE.faces[:50], 1, axis=1)])))
    assert tidied.findings.duplicates_dropped == 50
    assert measure(tidied).area_m2 == pytest.approx(6, rel=1e-12)
    assert volume_of(tidied) == pytest.approx(1, rel=1e-12)


def test_a_sheet_drawn_on_both_sides_counts_once() -> None:
    side = CUBE.faces[:128]
    found = measure(tidy(Mesh(CUBE.vertices, np.concatenate([side, side[:, ::-1]]))))
    assert found.findings.duplicates_dropped == 128
    assert found.area_m2 == pytest.approx(1, rel=1e-12)
    assert found.volume_m3 is None


def test_two_cubes_that_share_a_wall_keep_both_its_sides() -> None:
    pair = weld(solids.loose(together(CUBE, moved(CUBE, 1, 0, 0))), None)
    found = measure(tidy(pair))
    assert found.findings.duplicates_dropped == 0
    assert found.findings.crowded_edges > 0
    assert found.volume_m3 == pytest.approx(2, rel=1e-12)


def test_points_that_almost_meet_are_joined_and_counted() -> None:
    corners = solids.loose(CUBE)
    corners = corners + np.random.default_rng(2).normal(size=corners.shape) * 1e-7
    tidied = tidy(weld(corners, None))
    assert tidied.findings.closed
    assert tidied.findings.points_joined == len(corners) - len(CUBE.vertices)
    # Corners off by 1e-7 of the side move each face's volume by no more.
    assert volume_of(tidied) == pytest.approx(1, rel=1e-6)


def test_faces_without_width_are_dropped() -> None:
    faces = np.concatenate([CUBE.faces, [[0, 0, 1]]]).astype(np.int32)
    tidied = tidy(Mesh(CUBE.vertices, faces))
    assert tidied.findings.faces_dropped == 1
    assert tidied.findings.notes == ("1 face had no width and was left out.",)


def test_an_open_model_gives_area_and_extents_but_no_volume() -> None:
    found = measure(tidy(Mesh(CUBE.vertices, CUBE.faces[2:])))
    assert found.area_m2 == pytest.approx(6 - 2 / 128, rel=1e-12)
    assert (found.length_m, found.width_m, found.height_m) == (1, 1, 1)
    assert found.volume_m3 is None
    assert found.centre_of_mass_m is None
    assert found.volume_refused == (
        "The model is open (6 open edges, 2 holes, the widest 177 mm across), so it has no volume; "
        "close holes of up to 177 mm to give it one."
    )


def test_a_model_with_a_wide_opening_is_not_offered_to_be_closed() -> None:
    found = measure(tidy(Mesh(CUBE.vertices, CUBE.faces[128:])))
    assert found.volume_refused.endswith(
        "1 hole, the widest 1,414 mm across), so it has no volume; "
        "close it in the modelling program and export it again, or go on with area and extents alone."
    )


def test_loose_faces_have_no_volume() -> None:
    corners = np.random.default_rng(4).uniform(size=(3 * 40_000, 3))
    found = measure(tidy(weld(corners, None)))
    assert found.volume_m3 is None
    assert "it is loose faces rather than one surface" in found.volume_refused


def test_small_holes_are_closed_on_request_and_reported() -> None:
    opened = tidy(Mesh(CUBE.vertices, np.delete(CUBE.faces, [10, 11, 12, 400], axis=0)))
    closed = close_holes(opened.mesh, 0.4)
    assert closed.tidied.findings.closed
    assert len(closed.holes) == len(opened.findings.holes)
    assert closed.area_m2 == pytest.approx(4 / 128, rel=1e-9)
    assert volume_of(closed.tidied) == pytest.approx(1, rel=1e-12)
    assert closed.note == (
        f"{len(closed.holes)} holes were closed, the widest {closed.holes[0].width_m * 1000:.0f} mm across; "
        "this added 0.0312 m² of skin."
    )


def test_wider_holes_stay_open() -> None:
    opened = tidy(Mesh(CUBE.vertices, CUBE.faces[128:]))
    closed = close_holes(opened.mesh, 0.4)
    assert closed.holes == ()
    assert closed.note == "No hole was narrow enough to be closed."
    assert not closed.tidied.findings.closed


def test_a_hole_is_as_wide_as_it_is() -> None:
    """A square of one eighth of the side: edge 4/8, diagonal sqrt(2)/8."""
    hole = tidy(Mesh(CUBE.vertices, np.delete(CUBE.faces, [0, 64], axis=0))).findings.holes[0]
    assert hole.edge_m == pytest.approx(0.5, rel=1e-12)
    assert hole.width_m == pytest.approx(np.sqrt(2) / 8, rel=1e-12)


def test_a_long_ring_is_measured_along_many_directions() -> None:
    angles = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    ring = np.stack([2 * np.cos(angles), np.sin(angles), 0 * angles], axis=1)
    # 256 directions miss the longest axis by some degrees.
    assert hole_of(ring).width_m == pytest.approx(4, rel=0.02)


@pytest.mark.parametrize("width", [0, -1, float("nan"), float("inf"), 6])
def test_it_refuses_a_width_of_hole_that_makes_no_sense(width: float) -> None:
    with pytest.raises(OutOfRange, match=r"widest hole to close is .* it must be between 0 and 5 m"):
        close_holes(CUBE, width)


def test_bodies_that_run_into_each_other_are_reported() -> None:
    found = measure(tidy(together(CUBE, moved(CUBE, 0.5, 0.5, 0.5))))
    assert found.findings.bodies == 2
    assert found.overlap_m3 == pytest.approx(0.125, rel=1e-9)
    assert any("0.1250 m³ is counted twice" in note for note in found.notes)


def test_bodies_apart_from_each_other_do_not_overlap() -> None:
    found = measure(tidy(together(CUBE, moved(CUBE, 2, 0, 0))))
    assert (found.findings.bodies, found.overlap_m3) == (2, 0)


def test_balance_agrees_with_tidying_on_whether_a_model_is_closed() -> None:
    for mesh in (CUBE, solids.figure(), Mesh(CUBE.vertices, CUBE.faces[1:])):
        corners = solids.loose(mesh)
        assert is_balanced(corners, None) == tidy(mesh).findings.closed
        assert is_balanced(corners.astype(np.float32), None) == tidy(mesh).findings.closed
        assert is_balanced(mesh.vertices, mesh.faces) == tidy(mesh).findings.closed


def test_balance_sees_a_single_face_turned() -> None:
    faces = CUBE.faces.copy()
    faces[7] = faces[7, ::-1]
    assert not is_balanced(CUBE.vertices, faces)
