"""Standing, boxes, stations and the whole set of measurements."""

import numpy as np
import pytest

from materials.estimator.errors import Missing, OutOfRange, UnknownChoice
from materials.mesh.boxes import least_box
from materials.mesh.measuring import first_look, measure
from materials.mesh.reading import Model
from materials.mesh.standing import UPS, placing_of
from materials.mesh.stations import form_of
from materials.mesh.tidying import tidy
from materials.mesh.triangles import Mesh, add_up
from tests.materials.mesh import solids


def made(points: np.ndarray, faces: np.ndarray | None, unit: str | None = None) -> Model:
    return Model(points, faces, unit, None, add_up(points, faces))


def model_of(mesh: Mesh, unit: str | None = None) -> Model:
    return made(mesh.vertices, mesh.faces, unit)


def stood(mesh: Mesh, **how: object) -> Mesh:
    return Mesh(placing_of(model_of(mesh), **{"up": "z", **how}).points(mesh.vertices), mesh.faces)  # type: ignore[arg-type]


def test_a_finished_height_brings_the_model_to_size_and_to_the_floor() -> None:
    mesh = stood(solids.turned(solids.figure()), finished_height_m=3.0)
    low, high = mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)
    assert (low[2], high[2]) == pytest.approx((0, 3.0), abs=1e-12)
    assert low[:2] == pytest.approx(-high[:2], abs=1e-12)


@pytest.mark.parametrize(("unit", "metres"), [("mm", 0.001), ("cm", 0.01), ("m", 1), ("in", 0.0254), ("ft", 0.3048)])
def test_a_unit_brings_the_model_to_size(unit: str, metres: float) -> None:
    """Inch and foot are exact by definition (international yard and pound, 1959)."""
    mesh = stood(solids.box(10, 20, 30), unit=unit)
    assert np.ptp(mesh.vertices, axis=0) == pytest.approx(np.array([10, 20, 30]) * metres, rel=1e-12)


def test_the_unit_that_a_file_states_is_used() -> None:
    mesh = solids.box(10, 20, 30)
    assert placing_of(model_of(mesh, "in"), up="z").scale == 0.0254


@pytest.mark.parametrize("up", UPS)
def test_the_named_axis_points_up_and_nothing_is_mirrored(up: str) -> None:
    mesh = stood(solids.box(1, 2, 3), up=up, unit="m")
    assert np.ptp(mesh.vertices[:, 2]) == {"x": 1, "y": 2, "z": 3}[up[-1]]
    assert add_up(mesh.vertices, mesh.faces).volume == pytest.approx(6, rel=1e-12)
    cone = solids.revolved(np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.1, 3.0]), 32)
    # The tip of a cone that lies along the axis comes to the top, or to the foot where the axis points down.
    along = {"x": [2, 0, 1], "y": [1, 2, 0], "z": [0, 1, 2]}[up[-1]]
    points = stood(Mesh(cone.vertices[:, along], cone.faces), up=up, unit="m").vertices
    tip = points[-1, 2]
    assert tip == pytest.approx(0 if up.startswith("-") else 3, abs=1e-12)


def test_it_refuses_to_guess_a_unit() -> None:
    with pytest.raises(Missing, match="unit of the model is missing; the file does not state one: give its unit or"):
        placing_of(model_of(solids.box(1, 1, 1)), up="z")


def test_it_refuses_sizes_that_make_no_sense() -> None:
    with pytest.raises(OutOfRange, match=r"is 1700 m; it must be between 0\.001 and 50 m\. Give the unit"):
        placing_of(model_of(solids.box(1700, 300, 300)), up="z", unit="m")
    with pytest.raises(OutOfRange, match="finished height is nan m"):
        placing_of(model_of(solids.box(1, 1, 1)), up="z", finished_height_m=float("nan"))
    with pytest.raises(OutOfRange, match=r"It lies flat; say which way is up\."):
        placing_of(made(np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0]]), None), up="z", finished_height_m=1)


def test_it_refuses_words_it_does_not_know() -> None:
    with pytest.raises(UnknownChoice, match="up 'north' is not known; use one of z"):
        placing_of(model_of(solids.box(1, 1, 1)), up="north", unit="m")
    with pytest.raises(UnknownChoice, match="unit of the model 'ell' is not known; use one of mm, cm, m, in, ft, um"):
        placing_of(model_of(solids.box(1, 1, 1)), up="z", unit="ell")


def test_the_least_box_of_a_turned_box_is_the_box() -> None:
    for seed in range(6):
        found = least_box(solids.turned(solids.box(3, 2, 1, 4), seed).vertices)
        assert (found.length_m, found.width_m, found.height_m) == pytest.approx((3, 2, 1), rel=1e-4)


def test_the_least_box_holds_every_point_and_beats_the_upright_one() -> None:
    mesh = solids.turned(solids.ellipsoid(1.5, 0.8, 0.5, 48))
    found = least_box(mesh.vertices)
    assert found.volume_m3 < np.ptp(mesh.vertices, axis=0).prod()
    # By symmetry the ellipsoid's own axes give 8abc; the search comes within 1 %, and box and ball alike.
    assert found.volume_m3 == pytest.approx(8 * 1.5 * 0.8 * 0.5, rel=0.01)


def test_a_flat_model_has_a_least_box_too() -> None:
    sheet = solids.turned(Mesh(*solids_sheet()))
    found = least_box(sheet.vertices)
    assert found.height_m == pytest.approx(0, abs=1e-4)
    assert found.length_m * found.width_m == pytest.approx(2, rel=1e-3)


def solids_sheet() -> tuple[np.ndarray, np.ndarray]:
    return np.array([[0.0, 0, 0], [2, 0, 0], [2, 1, 0], [0, 1, 0]]), np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32)


def test_the_first_look_agrees_with_the_whole_measurement() -> None:
    mesh = solids.turned(solids.figure())
    model = made(solids.loose(mesh).astype(np.float32), None)
    placing = placing_of(model, up="y", finished_height_m=2.0)
    first = first_look(model, placing)
    full = measure(tidy(Mesh(placing.points(mesh.vertices), mesh.faces)))
    assert first.closed
    # The first look is at 32-bit numbers.
    assert first.area_m2 == pytest.approx(full.area_m2, rel=1e-5)
    assert first.volume_m3 == pytest.approx(full.volume_m3, rel=1e-5)
    assert (first.length_m, first.width_m, first.height_m) == pytest.approx(
        (full.length_m, full.width_m, full.height_m), rel=1e-5
    )
    assert first.centre_of_mass_m == pytest.approx(full.centre_of_mass_m, abs=1e-5)
    assert first.shell_centre_m == pytest.approx(full.shell_centre_m, abs=1e-5)
    assert first.least_box.volume_m3 == pytest.approx(full.least_box.volume_m3, rel=0.01)


def test_the_first_look_at_an_open_model_gives_no_volume() -> None:
    mesh = solids.box(1, 1, 1, 4)
    model = made(mesh.vertices, mesh.faces[1:], "m")
    found = first_look(model, placing_of(model, up="z"))
    assert found.volume_m3 is None
    assert found.centre_of_mass_m is None
    assert found.area_m2 == pytest.approx(6 - 1 / 32, rel=1e-12)


def test_a_shell_weighs_its_area_times_its_lay_up() -> None:
    found = measure(tidy(solids.box(1, 2, 3)))
    assert found.shell_mass_kg(4.5) == pytest.approx(22 * 4.5, rel=1e-12)
    for wrong in (0, -1, float("nan"), float("inf")):
        with pytest.raises(OutOfRange, match="lay-up mass"):
            found.shell_mass_kg(wrong)


def test_the_form_of_a_frustum_has_its_stations() -> None:
    form = form_of(solids.frustum(0.5, 0.3, 1.2, 256))
    assert len(form.stations) == 65
    assert form.stations[0].z_m == 0
    assert form.stations[-1].z_m == pytest.approx(form.height_m, rel=1e-12)
    for station in form.stations:
        assert station.length_m == pytest.approx(1.0 - 0.4 * station.z_m / 1.2, rel=1e-9)
        # 256 corners lie on both axes, so the extents are those of the circle.
        assert station.width_m == pytest.approx(station.length_m, rel=1e-9)
    assert form.origin == "model, 1 024 triangles"


def test_the_stations_of_a_ball_follow_its_circle_and_end_in_points() -> None:
    form = form_of(solids.ellipsoid(1, 1, 1, 256))
    for station in form.stations[1:-1]:
        circle = 2 * np.sqrt(max(0.0, 1 - (station.z_m - 1) ** 2))
        # Between two rings the mesh is a chord, at most (pi/256)^2 / 8 of the radius inside, more where it is steep.
        assert station.length_m == pytest.approx(circle, abs=2e-3)
    assert form.stations[0].length_m == form.stations[-1].width_m == 0


def test_the_form_balances_from_the_foot_and_the_middle_of_the_extents() -> None:
    form = form_of(Mesh(solids.box(1, 2, 3).vertices + np.array([5.0, -7.0, 11.0]), solids.box(1, 2, 3).faces))
    assert form.centre_of_mass_m == pytest.approx((0, 0, 1.5), abs=1e-12)
    assert form.volume_m3 == pytest.approx(6, rel=1e-12)
    assert form.seam_m is None


def test_an_open_form_has_no_volume_and_no_balance() -> None:
    mesh = solids.box(1, 2, 3, 3)
    form = form_of(Mesh(mesh.vertices, mesh.faces[2:]), seam_m=4.0)
    assert form.volume_m3 is None
    assert form.centre_of_mass_m is None
    assert form.seam_m == 4.0
