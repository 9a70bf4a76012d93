"""The command: a report or JSON on stdout, one sentence on stderr, neither a database nor an environment."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import call_command

from materials.mesh.triangles import Mesh
from tests.materials.mesh import files, solids

CUBE = solids.box(1, 1, 1, 8)


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    """The command in an interpreter of its own, with nothing in the environment but a database that is not there."""
    return subprocess.run(
        [sys.executable, "manage.py", "measure", *arguments],
        cwd=settings.BASE_DIR,
        env={"DATABASE_URL": "sqlite:////nowhere/at/all.sqlite3"},
        capture_output=True,
        text=True,
        encoding="utf-8",
    )


@pytest.fixture
def cube_file(tmp_path: Path) -> str:
    path = tmp_path / "cube.stl"
    path.write_bytes(files.encoded(CUBE, "stl binary"))
    return str(path)


def measured(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    call_command("measure", *arguments, "--json")
    answer: dict[str, object] = json.loads(capsys.readouterr().out)
    return answer


def test_it_needs_neither_a_database_nor_an_environment(cube_file: str) -> None:
    done = run(cube_file, "--height", "3 m", "--json")
    assert (done.returncode, done.stderr) == (0, "")
    found = json.loads(done.stdout)
    assert found["area_m2"] == pytest.approx(54, rel=1e-6)
    assert found["volume_m3"] == pytest.approx(27, rel=1e-6)
    assert found["notes"] == []


@pytest.mark.parametrize(
    ("content", "name", "sentence"),
    [
        (b"", "empty.stl", "The file is empty; export the model again."),
        (b"x", "model.doc", "The file is named 'model.doc'; send a model that ends in .stl, .obj, .ply, .3mf or .glb."),
        (
            files.encoded(solids.box(1700, 300, 300), "obj"),
            "far.obj",
            "Give the unit of the file or the finished height.",
        ),
    ],
)
def test_what_is_wrong_is_one_sentence_on_stderr(tmp_path: Path, content: bytes, name: str, sentence: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    done = run(str(path))
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.strip().endswith(sentence)
    assert done.stderr.count("\n") == 1


def test_a_length_without_a_unit_is_refused(cube_file: str) -> None:
    with pytest.raises(SystemExit, match=r"finished height .3. has no unit"):
        call_command("measure", cube_file, "--height", "3")


def test_numbers_without_a_unit_are_taken_as_metres_and_it_is_said(
    cube_file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    found = measured(capsys, cube_file)
    assert found["extents_m"] == pytest.approx([1, 1, 1])
    assert found["notes"] == ["The file states no unit, so its numbers are taken as metres; give --unit or --height."]


def test_unit_and_axis_are_taken_from_the_options(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bar.ply"
    path.write_bytes(files.encoded(solids.box(100, 200, 300), "ply text"))
    found = measured(capsys, str(path), "--unit", "mm", "--up=-x")
    assert found["extents_m"] == pytest.approx([0.3, 0.2, 0.1])


def test_an_open_model_is_measured_and_its_volume_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "open.obj"
    path.write_bytes(files.encoded(Mesh(CUBE.vertices, CUBE.faces[2:]), "obj"))
    found = measured(capsys, str(path), "--unit", "m")
    assert found["area_m2"] == pytest.approx(6 - 1 / 64)
    assert found["volume_m3"] is None
    assert "so it has no volume" in str(found["volume_refused"])
    closed = measured(capsys, str(path), "--unit", "m", "--close-holes", "200 mm")
    assert closed["volume_m3"] == pytest.approx(1)
    assert closed["notes"] == ["2 holes were closed, the widest 177 mm across; this added 0.0156 m² of skin."]


def test_the_report_can_be_read_aloud(cube_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("measure", cube_file, "--unit", "m")
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "cube.stl"
    assert [line.split() for line in lines[1:4]] == [
        ["triangles", "768"],
        ["area", "6.0000", "m²"],
        ["volume", "1.00000", "m³"],
    ]
