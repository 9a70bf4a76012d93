"""What ``make run``, ``test``, ``check``, ``bench`` and ``faults`` do, from a machine that has nothing yet.

Only the standard library is used, and nothing a somewhat older Python cannot
read: this runs before there is a virtual environment, and has to be able to say
that the Python is too old.
"""

from __future__ import annotations

import argparse
import ctypes
import glob
import hashlib
import importlib.util
import os
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from typing import NoReturn

OLDEST = (3, 11)
ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
LOCAL_SETTINGS = ROOT / ".env"
# Published as source alone, in plain Python: built here. Everything else comes as it was published, or not at all.
FROM_SOURCE = ("rectpack",)
IN_CI = os.environ.get("CI", "").lower() in ("1", "true")


class Package(NamedTuple):
    """A package of Debian and Ubuntu, and how to see that what it brings is there already."""

    name: str
    is_present: Callable[[], bool]


def library(soname: str) -> Callable[[], bool]:
    """A test for a shared library, by asking the loader for it."""

    def is_present() -> bool:
        try:
            ctypes.CDLL(soname)
        except OSError:
            return False
        return True

    return is_present


def program(name: str) -> Callable[[], bool]:
    """A test for a program on the path."""
    return lambda: shutil.which(name) is not None


def module(name: str) -> Callable[[], bool]:
    """A test for a module of this Python's own library, which Debian splits over packages."""

    def is_present() -> bool:
        importlib.invalidate_caches()
        return importlib.util.find_spec(name) is not None

    return is_present


# The PDF library loads these three by name; no wheel carries them.
TO_RUN = (
    Package("python3-venv", module("ensurepip")),
    Package("libpango-1.0-0", library("libpango-1.0.so.0")),
    Package("libpangoft2-1.0-0", library("libpangoft2-1.0.so.0")),
    Package("libharfbuzz-subset0", library("libharfbuzz-subset.so.0")),
)
# The browser is driven through a program that loads libatomic.
TO_TEST = (
    Package("chromium", program("chromium")),
    Package("libatomic1", library("libatomic.so.1")),
    Package("poppler-utils", program("pdftoppm")),
)
TO_TEST_ON_A_SERVER = (Package("postgresql", lambda: bool(glob.glob("/usr/lib/postgresql/*/bin/initdb"))),)


def stop(sentence: str) -> NoReturn:
    """Leave with one sentence that says what to do."""
    print(sentence, file=sys.stderr, flush=True)
    sys.exit(1)


def say(sentence: str) -> None:
    """Tell what is going on, in order with what the commands print."""
    print(sentence, flush=True)


def require_python() -> None:
    """Go on with a newer Python of this machine if there is one, and stop if not."""
    if sys.version_info >= OLDEST:
        return
    for minor in range(20, OLDEST[1] - 1, -1):
        newer = shutil.which(f"python3.{minor}")
        if newer:
            os.execv(newer, [newer, "-I", *sys.argv])  # noqa: S606 - the same script, no shell
    found = ".".join(str(part) for part in sys.version_info[:2])
    stop(f"Mouldwright needs Python 3.11 or newer and found {found}; install a newer one and run this again.")


def apt_prefix() -> list[str] | None:
    """What stands before apt-get here: nothing as root, sudo where it asks for no password, None where neither."""
    if shutil.which("apt-get") is None:
        return None
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo") and subprocess.run(["sudo", "-n", "true"], capture_output=True).returncode == 0:
        return ["sudo", "-n"]
    return None


def missing(packages: Sequence[Package]) -> list[str]:
    """Names of the packages whose contents are not there."""
    return [package.name for package in packages if not package.is_present()]


def install_system(packages: Sequence[Package], *, required: bool) -> None:
    """Install what is missing if that is allowed; stop with the line to run if it is missing still and required."""
    names = missing(packages)
    prefix = apt_prefix() if names else None
    if names and prefix is not None:
        say(f"Installing {', '.join(names)} with apt ...")
        apt = [*prefix, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq", "-o", "DPkg::Lock::Timeout=120"]
        # One by one, so that a package this system does not have keeps back none of the others.
        for arguments in (["update"], *(["install", "-y", "--no-install-recommends", name] for name in names)):
            done = subprocess.run(
                [*apt, *arguments],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                text=True,
            )
            if done.returncode != 0:
                say(done.stdout)
        names = missing(packages)
    if names and required:
        line = f"apt-get install --no-install-recommends {' '.join(names)}"
        stop(f"{', '.join(names)} could not be found or installed. Run this line, then try again:\n\n    sudo {line}\n")


def install_python_packages(requirements: Path) -> None:
    """Make the virtual environment and install the pinned packages, unless that has been done for these very pins."""
    texts = [path.read_bytes() for path in (ROOT / "requirements.txt", requirements)]
    digest = hashlib.sha256(b"\0".join([str(VENV).encode(), *texts])).hexdigest()
    stamp = VENV / f"installed-for-{requirements.parent.name if requirements.parent != ROOT else 'running'}"
    # After the system's Python has moved on, what was installed for the old one is out of its sight.
    works = PYTHON.exists() and subprocess.run([PYTHON, "-m", "pip", "--version"], capture_output=True).returncode == 0
    if works and stamp.exists() and stamp.read_text() == digest:
        return
    if not works:
        say("Making the virtual environment in .venv ...")
        run([sys.executable, "-m", "venv", "--clear", str(VENV)], or_else="The virtual environment could not be made.")
    say(f"Installing the packages of {requirements.relative_to(ROOT)}; the first time this takes a minute or two ...")
    stamp.unlink(missing_ok=True)
    pip = [str(PYTHON), "-m", "pip", "install", "-qq", "--disable-pip-version-check", "--no-input"]
    run(
        [*pip, "--only-binary", ":all:", "--no-binary", ",".join(FROM_SOURCE), "-r", str(requirements)],
        or_else="The packages could not be installed; the lines above say why. Put that right and run this again.",
    )
    stamp.write_text(digest)


def run(command: Sequence[str], *, or_else: str, env: Mapping[str, str] | None = None) -> None:
    """Run a command, and stop with the sentence if it fails."""
    if subprocess.run(command, cwd=ROOT, env=env).returncode != 0:
        stop(or_else)


def local_settings() -> dict[str, str]:
    """Read .env, which is made with a key of its own, readable by its owner only, where there is none."""
    if not LOCAL_SETTINGS.exists():
        text = (
            "# Settings of this machine, made by `make run` for trying things out. Never commit it; see .env.example.\n"
            f"SECRET_KEY={secrets.token_urlsafe(50)}\n"
            "DEBUG=true\n"
        )
        descriptor = os.open(LOCAL_SETTINGS, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(descriptor, "w", encoding="utf-8") as file:
            file.write(text)
    values = {}
    for number, raw in enumerate(LOCAL_SETTINGS.read_text(encoding="utf-8").splitlines(), start=1):
        line = raw.strip()
        if not line or line.startswith("#"):
            continue
        name, equals, value = line.partition("=")
        if not equals or not name.isidentifier():
            stop(f"Line {number} of .env is not NAME=value; correct it and run this again.")
        values[name] = value.strip("'\"")
    return values


def require_free_port(port: int) -> None:
    """Stop before anything is done if another program has the port."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            stop(f"Port {port} is taken by another program; stop that, or choose another: make run PORT={port + 1}")


def command_run(port: int) -> None:
    """Serve the program with its demo; what is in the database already stays."""
    require_free_port(port)
    install_system(TO_RUN, required=True)
    install_python_packages(ROOT / "requirements.txt")
    env = {**local_settings(), **os.environ}
    os.umask(0o077)  # what people enter is for nobody else on this machine
    Path(env.get("VAR_DIR") or ROOT / "var").mkdir(parents=True, exist_ok=True)
    manage = [str(PYTHON), "manage.py"]
    steps = [
        (["fonts", "--verbosity", "0"], "The fonts could not be prepared; the lines above say why."),
        (["migrate", "--verbosity", "0"], "The database could not be brought up to date; the lines above say why."),
        (["demo", "--if-empty"], "The demo could not be loaded; the lines above say why."),
    ]
    if env.get("DEBUG", "").lower() not in ("1", "true"):
        # Only while developing are static files served from where they are written.
        collect = ["collectstatic", "--noinput", "--verbosity", "0"]
        steps.append((collect, "The static files could not be collected; the lines above say why."))
    for arguments, sentence in steps:
        run([*manage, *arguments], or_else=sentence, env=env)
    sys.exit(serve([*manage, "serve", "--port", str(port)], env))


def serve(command: Sequence[str], env: Mapping[str, str]) -> int:
    """Run the server until it ends, or until this is told to stop; its exit code.

    A terminal sends Ctrl-C to every process in it, and a server process that is interrupted from two sides can
    hang. So the server runs in a session of its own, and its main process alone is told.
    """
    server = subprocess.Popen(command, cwd=ROOT, env=env, stdin=subprocess.DEVNULL, start_new_session=True)
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, lambda *_: server.terminate())
    return server.wait()


def prepare_tests() -> None:
    """Everything the suite needs; without Chromium its browser tests are listed as not run, but not in CI."""
    install_system(TO_RUN, required=True)
    install_system(TO_TEST, required=IN_CI)
    install_python_packages(ROOT / "tests" / "requirements.txt")


def command_test() -> None:
    """Run the whole suite on the embedded database."""
    prepare_tests()
    env = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    sys.exit(subprocess.run([str(PYTHON), "-m", "pytest", "-n", "2"], cwd=ROOT, env=env).returncode)


def command_prepare_gate() -> None:
    """What .ci/run needs besides: a PostgreSQL that it can start itself."""
    prepare_tests()
    install_system(TO_TEST_ON_A_SERVER, required=True)


def command_check() -> None:
    """Run every static check, all of them even if one fails, on settings as for production."""
    prepare_tests()
    tool = [str(PYTHON), "-m"]
    manage = [str(PYTHON), "manage.py"]
    checks = (
        ("format", [*tool, "ruff", "format", "--check", "."]),
        ("lint", [*tool, "ruff", "check", "."]),
        ("types", [*tool, "mypy", "studio", "materials", "jobs"]),
        ("templates", [*tool, "djlint", "--lint", "--quiet", "templates"]),
        ("migrations", [*manage, "makemigrations", "--check", "--dry-run"]),
        ("settings", [*manage, "check", "--deploy", "--fail-level", "WARNING"]),
    )
    failed = []
    with tempfile.TemporaryDirectory(prefix="mouldwright-check-") as var:
        env = {name: os.environ[name] for name in ("HOME", "LANG", "PATH") if name in os.environ}
        env.update(VAR_DIR=var, SECRET_KEY=secrets.token_urlsafe(50), ALLOWED_HOSTS="studio.example", DEBUG="false")
        run([*manage, "fonts"], or_else="The fonts could not be prepared; the lines above say why.", env=env)
        for name, command in checks:
            say(f"--- {name}")
            if subprocess.run(command, cwd=ROOT, env=env).returncode != 0:
                failed.append(name)
    if failed:
        stop(f"Failed: {', '.join(failed)}.")
    say("Every static check passed.")


def command_bench() -> None:
    """Measure, and print the table of ratios."""
    prepare_tests()
    sys.exit(subprocess.run([str(PYTHON), "-m", "tests.bench"], cwd=ROOT).returncode)


def command_faults() -> None:
    """Load, kills and races against real servers on both databases, and the table of what was lost."""
    prepare_tests()
    install_system(TO_TEST_ON_A_SERVER, required=True)
    sys.exit(subprocess.run([str(PYTHON), "-m", "tests.faults"], cwd=ROOT).returncode)


def main() -> None:
    """Choose the command."""
    require_python()
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("run").add_argument("--port", type=int, default=8000)
    plain = {
        "test": command_test,
        "check": command_check,
        "bench": command_bench,
        "faults": command_faults,
        "prepare-gate": command_prepare_gate,
    }
    for name in plain:
        commands.add_parser(name)
    arguments = parser.parse_args()
    try:
        if arguments.command == "run":
            command_run(arguments.port)
        else:
            plain[arguments.command]()
    except KeyboardInterrupt:
        sys.exit(130)


if __name__ == "__main__":
    main()
