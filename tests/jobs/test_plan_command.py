"""The command: a report or JSON on stdout, one sentence on stderr, and neither a database nor an environment."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.management import call_command

PROBLEM: dict[str, Any] = {
    "resources": {"laminators": 2},
    "activities": [
        {"id": "a", "duration": 3, "needs": {"laminators": 1}, "after": ["b"]},
        {"id": "b", "duration": 2, "needs": {"laminators": 2}},
        {"id": "c", "duration": 4, "needs": {"laminators": 1, "welders": 0}},
        {"id": "d", "duration": 1},
    ],
}


def write(folder: Path, problem: object) -> Path:
    path = folder / "work.json"
    path.write_text(problem if isinstance(problem, str) else json.dumps(problem))
    return path


def changed(number: int, **fields: object) -> dict[str, Any]:
    """The problem with fields of one activity changed."""
    activities = [dict(each) for each in PROBLEM["activities"]]
    activities[number].update(fields)
    return {**PROBLEM, "activities": activities}


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    """The command in an interpreter of its own, with nothing in the environment."""
    return subprocess.run(
        [sys.executable, "manage.py", "plan", *arguments],
        cwd=settings.BASE_DIR,
        env={"DATABASE_URL": "sqlite:////nowhere/at/all.sqlite3"},
        capture_output=True,
        text=True,
        encoding="utf-8",
    )


def test_it_needs_neither_a_database_nor_an_environment(tmp_path: Path) -> None:
    done = run(str(write(tmp_path, PROBLEM)), "--json", "--seconds", "20")
    assert (done.returncode, done.stderr) == (0, "")
    data = json.loads(done.stdout)
    # Four laminators' periods of b, three of a and four of c for two: never under six.
    assert (data["makespan"], data["bound"], data["proven"]) == (6, 6, True)
    assert list(data["start"]) == ["a", "b", "c", "d"]
    assert (data["start"]["a"], data["start"]["b"], data["start"]["c"]) == (2, 0, 2)


def test_what_is_wrong_is_one_sentence_on_stderr(tmp_path: Path) -> None:
    done = run(str(write(tmp_path, "{")))
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == "'work.json' is not JSON at line 1, column 2; correct it there.\n"


@pytest.mark.parametrize(
    ("problem", "sentence"),
    [
        (changed(1, after=["a"]), "waits for 'a'; take one of the waits out of this circle."),
        (changed(1, after=["b"]), "'b' waits for 'b'; take one of the waits out of this circle."),
        (changed(0, after=["z"]), "What 'a' waits for is 'z', which is not known; there are a, b, c, d."),
        (changed(0, needs={"welders": 1}), "What 'a' needs is 'welders', which is not known; there are laminators."),
        (changed(0, needs={"laminators": 3}), "'a' needs 3 of 'laminators' and there are 2; need fewer or add some."),
        (changed(0, needs={"laminators": -1}), "'a', need of 'laminators' is -1; it must be between 1 and 10000."),
        (changed(0, needs=["laminators"]), "Activity 1, needs is a list; it must be a set of whole numbers by name."),
        (changed(0, id="b"), "The activity 'b' is there 2 times; name each differently."),
        (changed(0, id=" "), "Activity 1, id is ' '; it must be a text that is not empty."),
        (changed(0, duration=-3), "duration of 'a' is -3 periods; it must be between 0 and 10000 periods."),
        (changed(0, duration=10**30), "duration of 'a' is 1e+30 periods; it must be between 0 and 10000 periods."),
        (changed(0, duration=1.5), "Activity 1, duration is 1.5; it must be a whole number."),
        (changed(0, duration=True), "Activity 1, duration is True; it must be a whole number."),
        (changed(0, after="b"), "Activity 1, after is 'b'; it must be a list."),
        (changed(0, after=[1]), "Activity 1, after is 1; it must be the id of an activity, as text."),
        (changed(0, colour="red"), "Activity 1, field 'colour' is not known; use one of id, duration, needs, after."),
        (
            {**PROBLEM, "resources": {"laminators": -2}},
            "capacity of 'laminators' is -2; it must be between 0 and 10000.",
        ),
        ({"resources": {}}, "The file, activities is missing; list what is to be done."),
        ({"activities": {}}, "The file, activities is a set of named values; it must be a list."),
        ([], "The file is a list; it must be a set of named values: resources, activities."),
        ('{"activities": [{"id": "a", "duration": NaN}]}', "NaN is not a number to work with; give a finite one."),
        ('{"resources": {"a": 1, "a": 2}}', "The field 'a' stands twice in one place; leave one of them out."),
    ],
)
def test_every_refusal_says_what_to_do(tmp_path: Path, problem: object, sentence: str) -> None:
    with pytest.raises(SystemExit) as refused:
        call_command("plan", str(write(tmp_path, problem)))
    assert str(refused.value).endswith(sentence)


def test_a_missing_file_and_an_absurd_time_are_refused(tmp_path: Path) -> None:
    with pytest.raises(SystemExit, match="cannot be read: no such file or directory; give the path"):
        call_command("plan", str(tmp_path / "none.json"))
    with pytest.raises(SystemExit, match="time to solve is -1 s; it must be between"):
        call_command("plan", str(write(tmp_path, PROBLEM)), "--seconds=-1")


def test_the_report_says_how_good_the_plan_is_and_what_begins_when(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    call_command("plan", str(write(tmp_path, PROBLEM)))
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "All is done after 6 periods (best possible, CP-SAT)."
    assert lines[2].split() == ["begins", "ends"]
    assert ["a", "2", "5"] in [line.split() for line in lines]
