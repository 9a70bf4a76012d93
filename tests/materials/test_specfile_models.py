"""A model named in a specification: each part of it becomes a section of its own."""

import json
import math
from pathlib import Path
from typing import Any

import pytest

from materials.estimator.errors import EstimatorError
from materials.estimator.reference import studio_figures
from materials.estimator.shapes import ellipsoid_area_m2
from materials.estimator.takeoff import take_off
from materials.specfile import form_data, outlines_data, read_file, read_shape, read_spec
from materials.takeoff_report import as_data
from tests.jobs.models_sent import egg, stl

CUTS = [{"normal": [0, 0, 1], "offset": "1.2 m"}, {"normal": [0, 0, 2], "offset": "2.2 m"}]


def written(folder: Path, **section: Any) -> Path:
    (folder / "egg.stl").write_bytes(stl(egg()))
    given = {"name": "Egg", "shape": "mesh", "file": "egg.stl", "finished_height": "3.2 m", "up": "z"} | section
    path = folder / "job.json"
    path.write_text(json.dumps({"name": "Great Egg", "sections": [given]}))
    return path


def test_each_part_is_a_section_with_its_seam_and_balance(tmp_path: Path) -> None:
    job = read_file(written(tmp_path, cuts=CUTS), defaults=studio_figures())
    sections = as_data(take_off(job), job)["sections"]
    assert [section["name"] for section in sections] == ["Egg 1", "Egg 2", "Egg 3"]
    # A mesh of flats lies inside the ellipsoid it stands for, by about a hundredth at this fineness.
    assert sum(each["area_m2"] for each in sections) == pytest.approx(ellipsoid_area_m2(1.0, 0.8, 1.6), rel=0.01)
    assert sum(each["volume_m3"] for each in sections) == pytest.approx(4 / 3 * math.pi * 1.28, rel=0.015)
    assert sections[1]["seam_m"] == pytest.approx(sections[0]["seam_m"] + sections[2]["seam_m"])
    assert sections[0]["extents_m"][2] == pytest.approx(1.2)
    assert 0 < sections[0]["centre_of_mass_m"][2] < 1.2


def test_a_model_that_is_not_cut_is_one_section_under_its_own_name(tmp_path: Path) -> None:
    job = read_file(written(tmp_path), defaults=studio_figures())
    assert [section.name for section in job.sections] == ["Egg"]
    assert job.sections[0].form.height_m == pytest.approx(3.2)


@pytest.mark.parametrize(
    ("section", "told"),
    [
        ({"file": "missing.stl"}, "cannot be opened"),
        ({"finished_height": "tall"}, "tall"),
        ({"up": "w"}, "up"),
        ({"cuts": [{"normal": [0, 0], "offset": "1 m"}]}, "cut 1, normal"),
        ({"cuts": [{"normal": [0, 0, 1], "offset": "9 m"}]}, "misses the model"),
        ({"dimensions": {}}, "cannot be given here"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(tmp_path: Path, section: dict[str, Any], told: str) -> None:
    with pytest.raises(EstimatorError, match=told) as refused:
        read_file(written(tmp_path, **section), defaults=studio_figures())
    assert str(refused.value).startswith("Section 1")


def test_a_stored_specification_names_no_file() -> None:
    spec = {"name": "x", "sections": [{"shape": "mesh", "file": "/etc/passwd"}]}
    with pytest.raises(EstimatorError, match="from a specification file alone"):
        read_spec(spec, defaults=studio_figures())


def test_figures_by_value_come_back_as_they_were(tmp_path: Path) -> None:
    form = read_file(written(tmp_path, cuts=CUTS), defaults=studio_figures()).sections[1].form
    kept = json.loads(json.dumps({"shape": "mesh", "form": form_data(form), "outlines": outlines_data({})}))
    shape = read_shape(kept)
    assert shape.form() == form
    assert shape.outline("front").note == "extents only"


@pytest.mark.parametrize("spoilt", [{"area_m2": "12"}, {"extents_m": [1, 2]}, {"stations": []}, {"colour": 1}])
def test_spoilt_figures_are_refused(tmp_path: Path, spoilt: dict[str, Any]) -> None:
    form = read_file(written(tmp_path), defaults=studio_figures()).sections[0].form
    with pytest.raises(EstimatorError):
        read_shape({"shape": "mesh", "form": form_data(form) | spoilt})
