"""The command: a report or JSON on stdout, one sentence on stderr, and neither a database nor an environment."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.management import call_command

from materials.estimator.reference import studio_figures
from materials.estimator.takeoff import take_off
from materials.specfile import read_spec

SPEC: dict[str, Any] = {
    "name": "Two Balls",
    "sections": [
        {"name": "Large", "shape": "sphere", "dimensions": {"diameter": "1.6 m"}, "metal": "35 kg"},
        {"name": "Small", "shape": "sphere", "dimensions": {"diameter": "60 cm"}, "cast": {"pulls": 3}},
    ],
}


@pytest.fixture
def spec_file(tmp_path: Path) -> Path:
    path = tmp_path / "balls.json"
    path.write_text(json.dumps(SPEC))
    return path


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    """The command in an interpreter of its own, with nothing in the environment."""
    return subprocess.run(
        [sys.executable, "manage.py", "takeoff", *arguments],
        cwd=settings.BASE_DIR,
        env={"DATABASE_URL": "sqlite:////nowhere/at/all.sqlite3"},
        capture_output=True,
        text=True,
        encoding="utf-8",
    )


def test_it_needs_neither_a_database_nor_an_environment(spec_file: Path) -> None:
    done = run(str(spec_file), "--json")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["name"] == "Two Balls"


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        ('{"sections": [{"shape": "egg"}]}', "Section 1, shape 'egg' is not known; use one of sphere, "),
        ("{", "'bad.json' is not JSON at line 1, column 2; correct it there."),
    ],
)
def test_what_is_wrong_is_one_sentence_on_stderr(tmp_path: Path, content: str, sentence: str) -> None:
    path = tmp_path / "bad.json"
    path.write_text(content)
    done = run(str(path))
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith(sentence)
    assert done.stderr.count("\n") == 1


def test_a_missing_file_is_said_to_be_missing(tmp_path: Path) -> None:
    done = run(str(tmp_path / "none.json"))
    assert done.returncode == 1
    assert "cannot be read: no such file or directory" in done.stderr


def test_the_json_holds_the_whole_take_off(spec_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("takeoff", str(spec_file), "--json")
    data = json.loads(capsys.readouterr().out)
    taken = take_off(read_spec(SPEC, defaults=studio_figures()))
    assert list(data) == ["name", "sections", "lines", "hours", "warnings"]
    assert [line["buy"] for line in data["lines"]] == [line.buy for line in taken.lines]
    assert [line["net"] for line in data["lines"]] == [line.net for line in taken.lines]
    assert set(data["lines"][0]) == {"section", "stage", "material", "net", "buy", "unit", "formula", "working"}
    assert set(data["lines"][0]["working"][0]) == {"label", "value", "unit", "origin"}
    assert [hours["likely"] for hours in data["hours"]] == [hours.likely for hours in taken.hours]
    assert set(data["hours"][0]) == {"section", "stage", "step", "low", "likely", "high"}
    assert [each["code"] for each in data["warnings"]] == [each.code for each in taken.warnings]
    large = data["sections"][0]
    assert large["extents_m"] == [1.6, 1.6, 1.6]
    assert large["pattern"]["yield"] == taken.sections[0].pattern.yield_fraction
    assert large["mould"]["piece_mass_kg"] == taken.sections[0].mould.piece_mass_kg
    assert large["cast"] == {
        "thickness_mm": taken.sections[0].cast.thickness_mm,
        "mass_kg": taken.sections[0].cast.mass_kg,
    }


def test_the_report_names_every_section_material_step_and_caution(
    spec_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    call_command("takeoff", str(spec_file))
    report = capsys.readouterr().out
    assert report.startswith("Two Balls\n=========\n\nLarge\n-----\n")
    for words in (
        "Small\n-----",
        "Chopped strand mat 450 g/m²",
        "Galvanising",
        "Carve to form",
        "patterns 1, moulds 1, casts 3",
        "Cautions",
        "Large: A cast with its 35 kg of metal weighs ",
    ):
        assert words in report


def test_the_columns_of_the_report_stand_under_one_another(spec_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("takeoff", str(spec_file))
    report = capsys.readouterr().out
    rows = report.partition("Hours ")[2].partition("\n\n")[0].splitlines()[1:]
    ends = {len(row) for row in rows if row.startswith("  ")}
    assert len(ends) == 1


def test_the_hours_of_the_report_are_summed(spec_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("takeoff", str(spec_file))
    report = capsys.readouterr().out
    taken = take_off(read_spec(SPEC, defaults=studio_figures()))
    assert f"{sum(hours.likely for hours in taken.hours):.1f}" in report.partition("Together")[2].splitlines()[0]
