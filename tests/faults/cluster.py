"""A PostgreSQL of our own, on a socket in a folder that goes with it."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

SERVED, RESTORED = "postgres", "restored"
PROGRAMS = "/usr/lib/postgresql"
# Unlike the gate's, this one writes to the disk in earnest: what is acknowledged has to be there.
OPTIONS = "-c listen_addresses= -c unix_socket_directories={folder} -c max_connections=80"


@contextmanager
def cluster() -> Iterator[str]:
    """The address of a fresh database; beside it is an empty one to restore to."""
    found = sorted(Path(PROGRAMS).glob("*/bin"), key=lambda path: int(path.parent.name))
    if not found:
        raise FileNotFoundError("There is no PostgreSQL here; install the package postgresql and run this again.")
    folder = Path(tempfile.mkdtemp(prefix="mouldwright-faults-server-", dir="/tmp"))
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres")
    options = OPTIONS.format(folder=folder)
    try:
        _run(
            found[-1] / "initdb",
            "--pgdata",
            folder / "data",
            "--username",
            "mouldwright",
            "--auth",
            "trust",
            "--encoding",
            "UTF8",
        )
        _run(
            found[-1] / "pg_ctl",
            "--pgdata",
            folder / "data",
            "--log",
            folder / "log",
            "--wait",
            "--options",
            options,
            "start",
        )
        _run(found[-1] / "createdb", "--host", folder, "--username", "mouldwright", RESTORED)
        yield f"postgresql://mouldwright@{str(folder).replace('/', '%2F')}/{SERVED}"
    finally:
        _run(found[-1] / "pg_ctl", "--pgdata", folder / "data", "--mode", "immediate", "stop", check=False)
        shutil.rmtree(folder, ignore_errors=True)


def _run(*command: object, check: bool = True) -> None:
    words = [str(word) for word in command]
    if os.geteuid() == 0:
        # It refuses to run as root, so that it runs as the user its package made.
        words = ["runuser", "-u", "postgres", "--", *words]
    subprocess.run(words, cwd="/", check=check, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
