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

from tests.rules.tree import ROOT

ENQUEUE = """
import django
django.setup()
from studio.accounts.models import User
from studio.tasks.running import enqueue
person = User.objects.create_user(username="tam", password=None, role="office", shown_name="Tam")
enqueue(kind="slow", title="Slow", about={}, page="/", by=person)
"""
PATIENCE_SECONDS = 40


def eventually(seen: Callable[[], Any]) -> Any:
    for _ in range(PATIENCE_SECONDS * 10):
        found = seen()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"it did not happen in {PATIENCE_SECONDS} s")


def test_a_killed_worker_is_followed_by_one_that_finishes_its_work(tmp_path: Path) -> None:
    database, attempts = tmp_path / "studio.sqlite3", tmp_path / "attempts"
    env = {
        **os.environ,
        "DATABASE_URL": f"sqlite:///{database}",
        "DJANGO_SETTINGS_MODULE": "studio.settings",
        "PYTHONPATH": str(ROOT),
    }
    for command in ([sys.executable, "manage.py", "migrate", "--verbosity", "0"], [sys.executable, "-c", ENQUEUE]):
        subprocess.run(command, cwd=ROOT, env=env, check=True)
    worker = [sys.executable, str(Path(__file__).with_name("slow_worker.py")), str(attempts)]

    def work(column: str) -> Any:
        with sqlite3.connect(database, timeout=20) as connection:
            connection.row_factory = sqlite3.Row
            return connection.execute("SELECT * FROM tasks_work").fetchone()[column]

    first = subprocess.Popen(worker, cwd=ROOT, env=env)
    try:
        eventually(lambda: work("progress") >= 100)
        before = work("progress")
        eventually(lambda: work("progress") > before)
    finally:
        first.send_signal(signal.SIGKILL)
        first.wait()
    assert work("state") == "running"
    second = subprocess.Popen(worker, cwd=ROOT, env=env)
    try:
        eventually(lambda: work("state") == "done")
    finally:
        second.terminate()
        second.wait()
    assert attempts.read_text() == "1\n2\n"
    assert work("result") == '{"attempts": 2}'
