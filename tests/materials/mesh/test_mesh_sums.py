"""Area, volume and their centres: against closed forms, under moving, turning, scaling and meshing anew."""

from collections.abc import Callable

import numpy as np
import pytest
import trimesh
from scipy import integrate, special

from materials.mesh import welding
from materials.mesh.balance import hashes_of
from materials.mesh.triangles import Mesh, add_up, extremes
from materials.mesh.welding import weld
from tests.materials.mesh import solids


def superellipsoid_area(a: float, b: float, c: float, e1: float, e2: float) -> float:
    """By quadrature of the parametric surface over one eighth; there is no closed form."""

    def power(value: float, exponent: float) -> float:
        return abs(value) ** exponent

    def element(v: float, u: float) -> float:
        cu, su, cv, sv = np.cos(u), np.sin(u), np.cos(v), np.sin(v)
        along_u = (
            a * power(cv, e1) * e2 * power(cu, e2 - 1) * -su,
            b * power(cv, e1) * e2 * power(su, e2 - 1) * cu,
            0.0,
        )
        along_v = (
            a * e1 * power(cv, e1 - 1) * -sv * power(cu, e2),
            b * e1 * power(cv, e1 - 1) * -sv * power(su, e2),
            c * e1 * power(sv, e1 - 1) * cv,
        )
        return float(np.linalg.norm(np.cross(along_u, along_v)))

    eighth, _ = integrate.dblquad(element, 0, np.pi / 2, 0, np.pi / 2, epsabs=1e-9, epsrel=1e-9)
    return 8 * eighth


def superellipsoid_volume(a: float, b: float, c: float, e1: float, e2: float) -> float:
    return float(2 * a * b * c * e1 * e2 * special.beta(e1 / 2 + 1, e1) * special.beta(e2 / 2, e2 / 2))


# Name, mesh of so many steps, exact area, exact volume. The ellipsoid's area is the elliptic-integral value of
# Legendre's form, 13.59979 m² for 1.5, 1.1, 0.55 m; the rest are definitions.
SOLIDS: list[tuple[str, Callable[[int], Mesh], float, float]] = [
    ("sphere", lambda n: solids.ellipsoid(1, 1, 1, n), 4 * np.pi, 4 / 3 * np.pi),
    ("ellipsoid", lambda n: solids.ellipsoid(1.5, 1.1, 0.55, n), 13.59979, 3.801327),
    ("torus", lambda n: solids.torus(1.0, 0.3, n), 4 * np.pi**2 * 0.3, 2 * np.pi**2 * 0.09),
    ("frustum", lambda n: solids.frustum(0.5, 0.3, 1.2, 2 * n), 4.125671, 0.6157522),
    (
        "superellipsoid",
        lambda n: solids.superellipsoid(0.9, 0.7, 0.5, 1.2, 1.4, n),
        superellipsoid_area(0.9, 0.7, 0.5, 1.2, 1.4),
        superellipsoid_volume(0.9, 0.7, 0.5, 1.2, 1.4),
    ),
]


@pytest.mark.parametrize(("name", "make", "area", "volume"), SOLIDS, ids=[row[0] for row in SOLIDS])
def test_fine_meshes_come_to_the_closed_forms(
    name: str, make: Callable[[int], Mesh], area: float, volume: float
) -> None:
    fine = make(192)
    sums = add_up(fine.vertices, fine.faces)
    # Chords of 192 steps in half a turn cut off about (pi/192)^2 / 3; the sharper superellipsoid a little more.
    assert sums.area == pytest.approx(area, rel=3e-4)
    assert sums.volume == pytest.approx(volume, rel=3e-4)
    assert sums.area < area
    assert sums.volume < volume


@pytest.mark.parametrize(("name", "make", "area", "volume"), SOLIDS[:4], ids=[row[0] for row in SOLIDS[:4]])
def test_the_error_falls_with_the_square_of_the_step(
    name: str, make: Callable[[int], Mesh], area: float, volume: float
) -> None:
    coarse, fine = make(48), make(96)
    at_48, at_96 = add_up(coarse.vertices, coarse.faces), add_up(fine.vertices, fine.faces)
    # Richardson: four times the finer less the coarser, over three, has no error of second order left. The published
    # values have seven digits.
    assert (4 * at_96.area - at_48.area) / 3 == pytest.approx(area, rel=2e-6)
    assert (4 * at_96.volume - at_48.volume) / 3 == pytest.approx(volume, rel=2e-6)


def test_the_identities_of_cube_and_tetrahedron_hold() -> None:
    """Definitions: unit cube 6 and 1; regular tetrahedron of edge 1, sqrt 3 and 1 / (6 sqrt 2)."""
    cube = solids.box(1, 1, 1)
    found = add_up(cube.vertices, cube.faces)
    assert (found.area, found.volume) == pytest.approx((6, 1), rel=1e-12)
    assert found.volume_centre == pytest.approx((0.5, 0.5, 0.5), rel=1e-12)
    corners = np.array([[1, 1, 1], [-1, -1, 1], [-1, 1, -1], [1, -1, -1]]) / np.sqrt(8)
    faces = np.array([[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]], dtype=np.int32)
    found = add_up(corners, faces)
    assert found.area == pytest.approx(1.73205080757, rel=1e-9)
    assert abs(found.volume) == pytest.approx(0.117851130198, rel=1e-9)


def test_the_shell_of_half_a_ball_balances_at_half_its_radius() -> None:
    """Archimedes: a zone's area grows evenly with its height."""
    ball = solids.ellipsoid(1, 1, 1, 192)
    upper = ball.faces[(ball.vertices[ball.faces][:, :, 2] > -1e-9).all(axis=1)]
    assert add_up(ball.vertices, upper).area_centre == pytest.approx((0, 0, 0.5), abs=5e-5)


def test_sums_agree_with_another_library_on_an_uneven_figure() -> None:
    mesh = solids.figure()
    other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    found = add_up(mesh.vertices, mesh.faces)
    assert found.area == pytest.approx(other.area, rel=1e-12)
    assert found.volume == pytest.approx(other.volume, rel=1e-12)
    np.testing.assert_allclose(found.volume_centre, other.center_mass, atol=1e-12)


def test_moving_and_turning_change_neither_area_nor_volume() -> None:
    mesh = solids.figure()
    found, moved = add_up(mesh.vertices, mesh.faces), None
    for seed in range(5):
        other = solids.turned(mesh, seed)
        moved = add_up(other.vertices, other.faces)
        assert moved.area == pytest.approx(found.area, rel=1e-12)
        assert moved.volume == pytest.approx(found.volume, rel=1e-11)


def test_scaling_squares_the_area_and_cubes_the_volume() -> None:
    mesh = solids.figure()
    found = add_up(mesh.vertices, mesh.faces)
    for factor in (0.001, 0.125, 8.0, 25.4):
        scaled = add_up(mesh.vertices * factor, mesh.faces)
        assert scaled.area == pytest.approx(found.area * factor**2, rel=1e-12)
        assert scaled.volume == pytest.approx(found.volume * factor**3, rel=1e-12)


def test_meshing_anew_changes_nothing_that_is_flat() -> None:
    plain, fine = solids.box(2, 3, 4, 1), solids.box(2, 3, 4, 23)
    one, other = add_up(plain.vertices, plain.faces), add_up(fine.vertices, fine.faces)
    assert other.area == pytest.approx(one.area, rel=1e-12)
    assert other.volume == pytest.approx(one.volume, rel=1e-12)


def test_a_model_far_from_its_origin_loses_no_digits() -> None:
    mesh = solids.torus(1.0, 0.3, 32)
    near, far = add_up(mesh.vertices, mesh.faces), add_up(mesh.vertices + np.array([1e5, -2e5, 3e5]), mesh.faces)
    # At 3e5 m a double keeps 6e-11 m, which is 1e-10 of the model's size.
    assert far.volume == pytest.approx(near.volume, rel=1e-8)


def test_turning_all_faces_turns_the_sign_of_the_volume_alone() -> None:
    mesh = solids.torus(1.0, 0.3, 16)
    there, back = add_up(mesh.vertices, mesh.faces), add_up(mesh.vertices, mesh.faces[:, ::-1])
    assert back.area == pytest.approx(there.area, rel=1e-14)
    assert back.volume == pytest.approx(-there.volume, rel=1e-12)


def test_loose_triangles_give_the_same_sums_as_shared_points() -> None:
    mesh = solids.figure()
    shared, apart = add_up(mesh.vertices, mesh.faces), add_up(solids.loose(mesh), None)
    assert apart.area == pytest.approx(shared.area, rel=1e-14)
    assert apart.volume == pytest.approx(shared.volume, rel=1e-12)


def test_welding_shares_equal_points_and_moves_none() -> None:
    mesh = solids.figure()
    corners = solids.loose(mesh).astype(np.float32)
    welded = weld(corners, None)
    assert len(welded.vertices) == len(mesh.vertices)
    assert np.array_equal(welded.vertices[welded.faces].reshape(-1, 3), corners.astype(np.float64))


def test_welding_holds_minus_zero_and_zero_for_one() -> None:
    corners = np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [-0.0, 0, -0.0], [0, 1, 0], [-1, 0, 0]], dtype=np.float32)
    assert len(weld(corners, None).vertices) == 4


def test_extremes_are_those_of_all_points() -> None:
    points = np.random.default_rng(5).normal(size=(50_000, 3))
    low, high = extremes(points)
    assert np.array_equal(low, points.min(axis=0))
    assert np.array_equal(high, points.max(axis=0))


def test_points_of_round_numbers_are_never_taken_for_each_other() -> None:
    steps = np.linspace(-1, 1, 33)
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 3)
    for points in (grid, grid.astype(np.float32), grid * 1000):
        assert len(np.unique(hashes_of(points))) == len(grid)
        assert len(weld(np.concatenate([points, points[::-1]]), None).vertices) == len(grid)


def test_points_that_share_a_hash_are_kept_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    mesh = solids.box(1, 1, 1, 3)
    monkeypatch.setattr(welding, "hashes_of", lambda points: np.zeros(len(points), dtype=np.uint64))
    welded = weld(solids.loose(mesh), None)
    assert len(welded.vertices) == len(mesh.vertices)
    assert np.array_equal(welded.vertices[welded.faces].reshape(-1, 3), solids.loose(mesh))
