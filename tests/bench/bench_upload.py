"""From sending a model of 50 MB to its figures on the page, through a real server and a real worker."""

import http.cookiejar
import os
import re
import sqlite3
import subprocess
import sys
import tempfile
import time
import urllib.request
from contextlib import closing
from pathlib import Path

import numpy as np

from tests.bench.table import Row
from tests.materials.mesh.solids import ellipsoid
from tests.real_server import RealStudio, Server, real_studio

PASSWORD = "four unrelated garden words"
PREPARE = f"""
import django
django.setup()
from studio.accounts.models import User
from jobs.models import Commission
from studio.office.models import TaxCategory
User.objects.create_user(username="tam", password="{PASSWORD}", role="office", shown_name="Tam")
tax = TaxCategory.objects.first()
Commission.objects.create(number="26-001", title="Egg", commissioner="Somebody", tax_category=tax)
"""
LONGEST_GAP_SECONDS = 1.0
PATIENCE_SECONDS = 600
LOOK_SECONDS = 0.05


def model_of_50_mb(path: Path) -> int:
    """Write an egg of nearly a million triangles as a binary STL in millimetres; its size."""
    mesh = ellipsoid(500, 400, 1600, 500)
    corners = mesh.vertices[mesh.faces]
    records = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
    records["corners"] = corners
    path.write_bytes(b"egg".ljust(80) + np.uint32(len(corners)).tobytes() + records.tobytes())
    return path.stat().st_size


class Visitor:
    """Somebody with a browser that keeps its cookies and sends the token of each form."""

    def __init__(self, server: Server) -> None:
        self.address = server.address
        self._opener = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar()),
        )

    def get(self, path: str) -> str:
        with self._opener.open(f"{self.address}{path}", timeout=60) as answer:
            return str(answer.read().decode())

    def send(self, path: str, values: dict[str, str], file: Path | None = None) -> str:
        """Fill in the form at a path and send it; the path that it leads to."""
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', self.get(path))
        assert token
        parts = [
            f'--edge\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'.encode()
            for name, value in {**values, "csrfmiddlewaretoken": token[1]}.items()
        ]
        if file is not None:
            head = f'--edge\r\nContent-Disposition: form-data; name="file"; filename="{file.name}"\r\n\r\n'
            parts += [head.encode(), file.read_bytes(), b"\r\n"]
        request = urllib.request.Request(  # noqa: S310 - our own address
            f"{self.address}{path}",
            data=b"".join([*parts, b"--edge--\r\n"]),
            headers={"Content-Type": "multipart/form-data; boundary=edge", "Referer": f"{self.address}{path}"},
        )
        with self._opener.open(request, timeout=300) as answer:
            return str(answer.url).removeprefix(self.address)


def watched(database: Path) -> tuple[float, float, float]:
    """Wait for the work to end; how long bar and words stood still [s], its processor time [s], its memory [MB]."""
    last, since, longest, busy, most = None, time.monotonic(), 0.0, 0.0, 0.0
    ends = time.monotonic() + PATIENCE_SECONDS
    while time.monotonic() < ends:
        with closing(sqlite3.connect(database, timeout=20)) as rows:
            state, problem, *shown = rows.execute("SELECT state, problem, progress, step FROM tasks_work").fetchone()
        now = time.monotonic()
        if state == "waiting":
            since = now
        elif shown != last:
            longest, last, since = max(longest, now - since), shown, now
        taken, held = attempt_so_far()
        busy, most = max(busy, taken), max(most, held)
        if state not in ("waiting", "running"):
            assert state == "done", problem
            return longest, busy, most
        time.sleep(LOOK_SECONDS)
    raise RuntimeError("the model was not measured in time")


def attempt_so_far() -> tuple[float, float]:
    """Processor time [s] and most memory [MB] of the running attempt so far; 0 where none runs."""
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            if b"attempt" in (folder / "cmdline").read_bytes().split(b"\0"):
                high = re.search(r"VmHWM:\s+(\d+) kB", (folder / "status").read_text())
                fields = (folder / "stat").read_text().rpartition(")")[2].split()
                ticks = int(fields[11]) + int(fields[12])
                return ticks / os.sysconf("SC_CLK_TCK"), int(high[1]) / 1000 if high else 0.0
        except OSError:
            continue
    return 0.0, 0.0


def worker_of(studio: RealStudio) -> subprocess.Popen[bytes]:
    command = [sys.executable, "manage.py", "worker"]
    return subprocess.Popen(command, env=studio.env, stdin=subprocess.DEVNULL)


def run() -> list[Row]:
    """Send, wait, look."""
    with real_studio(debug=True) as studio, tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "egg.stl"
        size = model_of_50_mb(file)
        studio.run("-c", PREPARE)
        visitor, worker = Visitor(studio.serve().wait()), worker_of(studio)
        try:
            visitor.send("/sign-in/", {"username": "tam", "password": PASSWORD})
            start = time.perf_counter()
            values = {"name": "Egg", "unit": "mm", "height": "", "up": "", "holes": ""}
            sheet = visitor.send("/commissions/1/form/model/", values, file)
            sent = time.perf_counter() - start
            gap, busy, memory = watched(studio.folder / "mouldwright.sqlite3")
            assert "Balance of its skin" in visitor.get(sheet)
            whole = time.perf_counter() - start
        finally:
            worker.terminate()
            worker.wait()
    note = f"{size / 1e6:.0f} MB, {(size - 84) // 50:,} triangles"
    return [
        Row("sending a model", sent, None, "s", note),
        Row("sending to figures shown", whole, None, "s", note),
        Row(
            "longest time that progress stood still",
            gap,
            LONGEST_GAP_SECONDS,
            "s",
            "bar and words, once the worker has it",
        ),
        Row("processor time of the attempt", busy, None, "s", "without reading, which is a process of its own"),
        Row("memory of the attempt", memory, None, "MB", "its highest"),
    ]
