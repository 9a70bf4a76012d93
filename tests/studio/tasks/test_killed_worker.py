"""A worker that is killed in the middle loses nothing: the next one takes the work up at its start."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.rules.tree import ROOT

ENQUEUE = """
import django
django.setup()
from studio.accounts.models import User
from studio.tasks.queue import enqueue
person = User.objects.create_user(username="tam", password=None, role="office", shown_name="Tam")
enqueue(kind="slow", title="Slow", about={}, page="/", by=person)
"""
PATIENCE_SECONDS = 40
PROGRAM = Path(__file__).with_name("slow_worker.py")


def eventually(seen: Callable[[], Any]) -> Any:
    for _ in range(PATIENCE_SECONDS * 10):
        found = seen()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"it did not happen in {PATIENCE_SECONDS} s")


@pytest.fixture
def studio(tmp_path: Path) -> dict[str, str]:
    """The environment of a studio with one piece of slow work in its queue."""
    env = {
        **os.environ,
        "DATABASE_URL": f"sqlite:///{tmp_path / 'studio.sqlite3'}",
        "ATTEMPTS": str(tmp_path / "attempts"),
        "DJANGO_SETTINGS_MODULE": "studio.settings",
        "PYTHONPATH": str(ROOT),
    }
    for command in ([sys.executable, "manage.py", "migrate", "--verbosity", "0"], [sys.executable, "-c", ENQUEUE]):
        subprocess.run(command, cwd=ROOT, env=env, check=True)
    return env


def worker(env: dict[str, str]) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, str(PROGRAM), "worker"], cwd=ROOT, env=env)


def work(env: dict[str, str], column: str) -> Any:
    with sqlite3.connect(env["DATABASE_URL"].removeprefix("sqlite:///"), timeout=20) as connection:
        connection.row_factory = sqlite3.Row
        return connection.execute("SELECT * FROM tasks_work").fetchone()[column]


def moved(env: dict[str, str]) -> None:
    """Wait until the bar is past the first report, and until the clock has moved it on."""
    eventually(lambda: work(env, "progress") >= 100)
    before = work(env, "progress")
    eventually(lambda: work(env, "progress") > before)


def test_a_killed_worker_is_followed_by_one_that_finishes_its_work(studio: dict[str, str]) -> None:
    first = worker(studio)
    try:
        moved(studio)
    finally:
        first.send_signal(signal.SIGKILL)
        first.wait()
    assert work(studio, "state") == "running"
    second = worker(studio)
    try:
        eventually(lambda: work(studio, "state") == "done")
    finally:
        second.terminate()
        second.wait()
    assert Path(studio["ATTEMPTS"]).read_text() == "1\n2\n"
    assert work(studio, "result") == '{"attempts": 2}'


def test_work_in_a_long_step_stops_when_it_is_asked_to(studio: dict[str, str]) -> None:
    running = worker(studio)
    try:
        moved(studio)
        with sqlite3.connect(studio["DATABASE_URL"].removeprefix("sqlite:///"), timeout=20) as connection:
            connection.execute("UPDATE tasks_work SET cancel_asked = 1")
        eventually(lambda: work(studio, "state") == "cancelled")
    finally:
        running.terminate()
        running.wait()
    assert Path(studio["ATTEMPTS"]).read_text() == "1\n"
