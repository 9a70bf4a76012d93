"""The first minutes on a new machine."""

import os
import signal
import socket
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from studio import bootstrap

ROOT = Path(__file__).resolve().parents[2]
PRESENT = bootstrap.Package("there", lambda: True)
ABSENT = bootstrap.Package("libabsent0", lambda: False)


@pytest.fixture
def commands(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """The commands that would have been run; sudo asks for a password here, everything else succeeds."""
    run: list[list[str]] = []

    def record(command: list[str], **options: object) -> subprocess.CompletedProcess[bytes]:
        run.append([str(part) for part in command])
        return subprocess.CompletedProcess(command, 1 if command[0] == "sudo" else 0)

    monkeypatch.setattr(bootstrap.subprocess, "run", record)
    return run


@pytest.fixture
def settings_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setattr(bootstrap, "LOCAL_SETTINGS", tmp_path / ".env")
    return tmp_path / ".env"


def test_it_makes_local_settings_that_only_their_owner_can_read(settings_file: Path) -> None:
    values = bootstrap.local_settings()
    assert values["DEBUG"] == "true"
    assert len(values["SECRET_KEY"]) >= 50
    assert stat.S_IMODE(settings_file.stat().st_mode) == 0o600


def test_it_keeps_the_settings_that_are_there(settings_file: Path) -> None:
    settings_file.write_text("# mine\n\nSECRET_KEY='kept'\nDATABASE_URL=postgresql://a:b=c@d/e\n")
    assert bootstrap.local_settings() == {"SECRET_KEY": "kept", "DATABASE_URL": "postgresql://a:b=c@d/e"}


def test_it_names_the_line_of_the_settings_that_it_cannot_read(
    settings_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    settings_file.write_text("DEBUG=true\nexport SECRET_KEY=x\n")
    with pytest.raises(SystemExit) as left:
        bootstrap.local_settings()
    assert left.value.code == 1
    assert capsys.readouterr().err == "Line 2 of .env is not NAME=value; correct it and run this again.\n"


def test_it_refuses_an_older_python_in_one_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(bootstrap.sys, "version_info", (3, 10, 4, "final", 0))
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: None)
    with pytest.raises(SystemExit):
        bootstrap.require_python()
    assert capsys.readouterr().err == (
        "Mouldwright needs Python 3.11 or newer and found 3.10; install a newer one and run this again.\n"
    )


def test_it_goes_on_with_a_newer_python_where_there_is_one(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[list[str]] = []
    monkeypatch.setattr(bootstrap.sys, "version_info", (3, 10, 4, "final", 0))
    monkeypatch.setattr(bootstrap.sys, "argv", ["studio/bootstrap.py", "run"])
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: "/opt/python3.12" if name == "python3.12" else None)
    monkeypatch.setattr(bootstrap.os, "execv", lambda path, arguments: started.append(arguments))
    with pytest.raises(SystemExit):  # only because the new Python did not take over here
        bootstrap.require_python()
    assert started == [["/opt/python3.12", "-I", "studio/bootstrap.py", "run"]]


def test_it_installs_nothing_where_nothing_is_missing(commands: list[list[str]]) -> None:
    bootstrap.install_system((PRESENT,), required=True)
    assert commands == []


def test_it_prints_the_line_to_run_where_it_may_not_install(
    commands: list[list[str]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(bootstrap.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: f"/usr/bin/{name}")
    with pytest.raises(SystemExit) as left:
        bootstrap.install_system((PRESENT, ABSENT), required=True)
    assert left.value.code == 1
    assert commands == [["sudo", "-n", "true"]]
    assert "\n    sudo apt-get install --no-install-recommends libabsent0\n" in capsys.readouterr().err


def test_it_installs_as_root_and_stops_only_if_that_did_not_help(
    commands: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap.os, "geteuid", lambda: 0)
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: f"/usr/bin/{name}")
    answers = iter([False, True])
    bootstrap.install_system((bootstrap.Package("libfound0", lambda: next(answers)),), required=True)
    assert commands[-1][-4:] == ["install", "-y", "--no-install-recommends", "libfound0"]


def test_it_goes_on_without_what_is_not_required(commands: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: None)
    bootstrap.install_system((ABSENT,), required=False)
    assert commands == []


def test_it_finds_what_this_machine_has_and_has_not() -> None:
    assert bootstrap.library("libc.so.6")()
    assert not bootstrap.library("libabsent.so.0")()
    assert bootstrap.program("env")()
    assert not bootstrap.program("no-such-program")()
    assert bootstrap.module("json")()
    assert not bootstrap.module("no_such_module")()


def test_it_says_when_the_port_is_taken_and_how_to_choose_another(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(SystemExit):
            bootstrap.require_free_port(port)
    assert f"make run PORT={port + 1}" in capsys.readouterr().err
    bootstrap.require_free_port(port)


def test_it_installs_once_for_the_same_pins_and_again_for_others(
    commands: list[list[str]], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    python = tmp_path / ".venv" / "bin" / "python"
    python.parent.mkdir(parents=True)
    python.touch()
    pins = tmp_path / "requirements.txt"
    pins.write_text("Django==5.2.19\n")
    for name, value in (("ROOT", tmp_path), ("VENV", tmp_path / ".venv"), ("PYTHON", python)):
        monkeypatch.setattr(bootstrap, name, value)

    def installs() -> int:
        commands.clear()
        bootstrap.install_python_packages(pins)
        return sum("install" in command for command in commands)

    assert installs() == 1
    assert installs() == 0
    pins.write_text("Django==5.2.20\n")
    assert installs() == 1


def test_only_what_is_named_is_built_from_its_source(
    commands: list[list[str]], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(bootstrap, "VENV", tmp_path)
    monkeypatch.setattr(bootstrap, "PYTHON", tmp_path / "python")
    bootstrap.install_python_packages(ROOT / "requirements.txt")
    (install,) = [command for command in commands if "install" in command]
    options = install[install.index("--only-binary") : install.index("-r")]
    assert options == ["--only-binary", ":all:", "--no-binary", "rectpack"]
    pinned = (ROOT / "requirements.txt").read_text()
    assert all(f"\n{name}==" in pinned for name in bootstrap.FROM_SOURCE)


def test_it_needs_nothing_but_the_standard_library() -> None:
    done = subprocess.run(
        [sys.executable, "-I", "-S", str(ROOT / "studio" / "bootstrap.py"), "--help"],
        cwd=os.sep,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0
    assert "run" in done.stdout


SERVER = """
import signal, sys, time
signal.signal(signal.SIGINT, lambda *_: sys.exit(7))
signal.signal(signal.SIGTERM, lambda *_: sys.exit(3))
print("serving", flush=True)
time.sleep(60)
"""


def test_an_interrupt_from_the_terminal_reaches_the_server_once_and_ends_it() -> None:
    command = f"[sys.executable, '-c', {SERVER!r}]"
    code = f"import os, sys; from studio import bootstrap; sys.exit(bootstrap.serve({command}, os.environ))"
    running = subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stdout=subprocess.PIPE, start_new_session=True)
    with running:
        assert running.stdout is not None
        assert running.stdout.readline() == b"serving\n"
        os.killpg(running.pid, signal.SIGINT)
        assert running.wait(timeout=30) == 3
