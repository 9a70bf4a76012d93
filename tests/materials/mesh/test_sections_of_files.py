"""From a file and its cuts to sections: the one door that specifications come in by."""

from pathlib import Path

import numpy as np
import pytest

from materials.estimator.errors import EstimatorError
from materials.mesh.loading import load
from materials.mesh.planes import plane_at
from materials.mesh.sections import sections_of
from materials.mesh.triangles import Mesh, add_up
from tests.materials.mesh import files, solids

FIGURE = solids.figure(40)


@pytest.fixture
def figure_file(tmp_path: Path) -> Path:
    path = tmp_path / "figure.stl"
    path.write_bytes(files.encoded(FIGURE, "stl binary"))
    return path


def test_a_model_that_is_not_cut_is_one_section(figure_file: Path) -> None:
    (section,) = sections_of(figure_file, finished_height_m=3.4)
    whole = add_up(FIGURE.vertices, FIGURE.faces)
    # The file holds 32-bit numbers.
    assert section.form.area_m2 == pytest.approx(whole.area, rel=1e-6)
    assert section.form.volume_m3 == pytest.approx(whole.volume, rel=1e-6)
    assert section.extents_m[2] == pytest.approx(3.4, rel=1e-9)
    assert section.foot_m == pytest.approx((0, 0, 0), abs=1e-9)
    assert section.joint_m == 0
    assert section.form.origin == "model, 12 640 triangles"


def test_a_cut_model_comes_in_sections_that_add_up(figure_file: Path) -> None:
    planes = (plane_at("z", 1.2), plane_at("z", 2.4))
    sections = sections_of(figure_file, planes=planes, finished_height_m=3.6)
    (whole,) = sections_of(figure_file, finished_height_m=3.6)
    assert [section.name for section in sections] == ["1", "2", "3"]
    assert sum(section.form.area_m2 for section in sections) == pytest.approx(whole.form.area_m2, rel=1e-6)
    assert sum(section.form.volume_m3 or 0 for section in sections) == pytest.approx(whole.form.volume_m3, rel=1e-6)
    assert [section.foot_m[2] for section in sections] == pytest.approx([0, 1.2, 2.4], abs=1e-9)
    assert [section.extents_m[2] for section in sections] == pytest.approx([1.2, 1.2, 1.2], abs=1e-9)
    # The middle one shares its seams with both others.
    assert sections[1].joint_m == pytest.approx(sections[0].joint_m + sections[2].joint_m, rel=1e-12)
    for section in sections:
        assert section.form.seam_m is None
        assert section.form.stations[-1].z_m == pytest.approx(section.extents_m[2], rel=1e-9)
        assert set(section.outlines) == {"front", "side", "plan"}
        assert section.centre_of_mass_m is not None
        assert section.foot_m[2] < section.centre_of_mass_m[2] < section.foot_m[2] + 1.2


def test_flat_parts_of_a_section_reach_its_form(tmp_path: Path) -> None:
    path = tmp_path / "box.obj"
    path.write_bytes(files.encoded(solids.box(1, 2, 3, 2), "obj"))
    (section,) = sections_of(path, unit="m")
    assert section.form.largest_flat_m2 == pytest.approx(6, rel=1e-9)
    assert [facet.area_m2 for facet in section.facets] == pytest.approx([6, 6, 3, 3, 2, 2], rel=1e-9)
    small, _ = sections_of(path, unit="m", planes=(plane_at("z", 0.1),))
    # The cut face of 2 m² is no flat part of the skin, the foot is.
    assert [facet.area_m2 for facet in small.facets] == pytest.approx([2], rel=1e-6)


def test_what_stands_up_is_said_by_the_format_unless_it_is_given(tmp_path: Path) -> None:
    path = tmp_path / "post.glb"
    path.write_bytes(files.encoded(solids.box(1, 3, 1, 1), "glb"))
    by_format, by_hand = load(path), load(path, up="z")
    assert (by_format.up, by_hand.up) == ("y", "z")
    assert np.ptp(by_format.tidied.mesh.vertices[:, 2]) == pytest.approx(3)
    assert np.ptp(by_hand.tidied.mesh.vertices[:, 2]) == pytest.approx(1)


def test_an_open_model_goes_on_without_a_volume(tmp_path: Path) -> None:
    path = tmp_path / "open.ply"
    path.write_bytes(files.encoded(Mesh(FIGURE.vertices, FIGURE.faces[:-500]), "ply binary"))
    sections = sections_of(path, planes=(plane_at("z", 1.0),), finished_height_m=3.0)
    assert all(section.form.volume_m3 is None and section.form.area_m2 > 0 for section in sections)


def test_every_refusal_on_the_way_is_of_one_kind(figure_file: Path, tmp_path: Path) -> None:
    for act in (
        lambda: sections_of(figure_file),
        lambda: sections_of(tmp_path / "gone.stl", unit="m"),
        lambda: sections_of(figure_file, unit="m", up="w"),
        lambda: sections_of(figure_file, unit="m", planes=(plane_at("z", 9),)),
    ):
        with pytest.raises(EstimatorError, match=r"^.+\.$"):
            act()
