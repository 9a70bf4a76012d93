"""The bench's table is what a reader trusts: a limit exceeded must be seen and must fail."""

import math
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.table import Row, table

ROOT = Path(__file__).resolve().parents[2]


def test_a_row_at_its_limit_is_within_and_one_above_is_over() -> None:
    assert Row("cuts", 1.5, 1.5, "x").verdict == "within"
    assert Row("cuts", 1.51, 1.5, "x").verdict == "OVER"


def test_a_measurement_that_is_not_a_number_keeps_no_limit() -> None:
    assert not Row("cuts", math.nan, 1.5, "x").within


def test_a_row_without_a_limit_is_shown_only() -> None:
    assert Row("peak", 400.0, None, "MB").verdict == "shown only"


def test_the_columns_are_aligned_and_the_note_comes_last() -> None:
    text = table([Row("cuts", 1.234, 1.5, "x", "12 planes"), Row("a longer name", 12, None, "MB")])
    assert text.splitlines() == [
        "name           measured  limit  unit  verdict     note",
        "cuts               1.23    1.5  x     within      12 planes",
        "a longer name        12         MB    shown only",
    ]


@pytest.mark.parametrize(("measured", "code"), [(1.0, 0), (3.0, 1)])
def test_the_command_exits_with_one_only_when_a_limit_is_exceeded(tmp_path: Path, measured: float, code: int) -> None:
    package = tmp_path / "tests" / "bench"
    package.mkdir(parents=True)
    for name in ("__main__.py", "table.py"):
        (package / name).write_text((ROOT / "tests" / "bench" / name).read_text())
    (package / "bench_cuts.py").write_text(
        f"from tests.bench.table import Row\ndef run():\n    return [Row('cuts', {measured}, 2.0, 'x')]\n"
    )
    done = subprocess.run([sys.executable, "-m", "tests.bench"], cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == code, done.stderr
    assert "cuts" in done.stdout


def test_an_unknown_bench_is_refused_with_the_names_there_are() -> None:
    done = subprocess.run([sys.executable, "-m", "tests.bench", "nothing"], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 2
    assert done.stderr.startswith("There is no bench nothing; there are ")
