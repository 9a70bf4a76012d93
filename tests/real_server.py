"""The program as a studio runs it: a process of its own, on a database of its own, below a folder that goes."""

import json
import os
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
PATIENCE_SECONDS = 40.0
LOOK_SECONDS = 0.05


class RealStudio:
    """A studio of its own, and the means to serve it and to run code inside it."""

    def __init__(self, folder: Path, *, database_url: str, debug: bool, migrated: bool) -> None:
        self.folder = folder
        self._servers: list[Server] = []
        kept = {name: os.environ[name] for name in ("HOME", "LANG", "PATH") if name in os.environ}
        self.env = {
            **kept,
            "VAR_DIR": str(folder),
            "SECRET_KEY": secrets.token_urlsafe(50),
            "ALLOWED_HOSTS": "127.0.0.1",
            "HTTPS": "false",
            "DEBUG": "true" if debug else "false",
            "DJANGO_SETTINGS_MODULE": "studio.settings",
            "PYTHONPATH": str(ROOT),
        }
        if database_url:
            self.env["DATABASE_URL"] = database_url
        (folder / "static").mkdir(parents=True, exist_ok=True)
        if not (folder / "fonts").exists():
            (folder / "fonts").symlink_to(ROOT / "var" / "fonts")
        self.run("manage.py", "fonts", "--verbosity", "0")
        if not debug:
            self.run("manage.py", "collectstatic", "--noinput", "--verbosity", "0")
        if migrated:
            self.run("manage.py", "migrate", "--verbosity", "0")

    def run(self, *arguments: str) -> str:
        """Run Python on this studio and answer what it printed."""
        done = subprocess.run([sys.executable, *arguments], cwd=ROOT, env=self.env, capture_output=True, text=True)
        if done.returncode != 0:
            raise RuntimeError(f"{' '.join(arguments)} failed:\n{done.stdout}{done.stderr}")
        return done.stdout

    def ask(self, *arguments: str) -> Any:
        """Run ``tests.inside_studio`` on this studio and read what it answers."""
        return json.loads(self.run("-m", "tests.inside_studio", *arguments))

    def serve(self) -> "Server":
        """Start a server on a free port; it may not answer yet."""
        self._servers.append(Server(self))
        return self._servers[-1]

    def end(self) -> None:
        """End whatever still serves, however the run ended."""
        for server in self._servers:
            server.kill()


class Server:
    """One serving process with its children."""

    def __init__(self, studio: RealStudio) -> None:
        self.port = free_port()
        self.log = studio.folder / f"server-{self.port}.log"
        with self.log.open("ab") as log:
            self._process = subprocess.Popen(
                [sys.executable, "manage.py", "serve", "--port", str(self.port), "--no-worker", "--skip-checks"],
                cwd=ROOT,
                env=studio.env,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )

    @property
    def address(self) -> str:
        """Where it answers."""
        return f"http://127.0.0.1:{self.port}"

    def wait(self) -> "Server":
        """Wait until it answers."""
        ends = time.monotonic() + PATIENCE_SECONDS
        while time.monotonic() < ends:
            if self._process.poll() is not None:
                break
            try:
                with urllib.request.urlopen(f"{self.address}/worker.js", timeout=5):  # noqa: S310 - our own address
                    return self
            except urllib.error.HTTPError:
                return self
            except OSError:
                time.sleep(LOOK_SECONDS)
        raise RuntimeError(f"The server did not begin to answer:\n{self.log.read_text()[-2000:]}")

    def kill(self) -> None:
        """End it and its children at once, as a power cut would."""
        if self._process.poll() is None:
            os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()

    def stop(self) -> None:
        """End it as Ctrl-C would, or at once if it takes long."""
        if self._process.poll() is None:
            self._process.terminate()
            try:
                self._process.wait(timeout=10)
            except subprocess.TimeoutExpired:
                self.kill()


def free_port() -> int:
    """A port of this machine that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def real_studio(*, database_url: str = "", debug: bool = False, migrated: bool = True) -> Iterator[RealStudio]:
    """An empty studio that goes afterwards; one that is not migrated is there to be restored to."""
    folder = Path(tempfile.mkdtemp(prefix="mouldwright-real-"))
    studio = None
    try:
        studio = RealStudio(folder, database_url=database_url, debug=debug, migrated=migrated)
        yield studio
    finally:
        if studio:
            studio.end()
        shutil.rmtree(folder, ignore_errors=True)
