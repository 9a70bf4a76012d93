"""Backup and restore by the commands, into a database and a folder of their own."""

import json
import os
import sqlite3
import subprocess
import sys
import uuid
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command
from django.db import connection, transaction
from django.db.migrations.recorder import MigrationRecorder

from studio.archive import write_archive
from tests.factories import make_person

Env = dict[str, str]
PERSON = """
from studio.accounts.models import User
from studio.accounts.services import add_person
owner = User.objects.create_user(username="{0}", password="four unrelated garden words", role="owner", shown_name="{0}")
"""
SEEN = """
import json
from django.db import connection, transaction, IntegrityError
from studio.accounts.models import AuditEntry, User
from studio.audit import record
with transaction.atomic():
    record(actor=None, subject="test", act="seen")
try:
    with transaction.atomic():
        AuditEntry.objects.update(act="altered")
except IntegrityError:
    refused = True
else:
    refused = False
print(json.dumps({"people": sorted(User.objects.values_list("username", flat=True)), "refused": refused}))
"""


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Callable[[str], Env]]:
    """Makes the environment of a studio elsewhere, on the kind of database that the suite runs on."""
    made: list[str] = []

    def make(name: str) -> Env:
        env = {**os.environ, "VAR_DIR": str(tmp_path / name)}
        if connection.vendor == "postgresql":
            database = f"backup_{uuid.uuid4().hex}"
            made.append(database)
            with connection.cursor() as cursor:
                cursor.execute(f'CREATE DATABASE "{database}"')
            env["DATABASE_URL"] = f"{os.environ['DATABASE_URL'].rpartition('/')[0]}/{database}"
        (tmp_path / name / "fonts").mkdir(parents=True)
        return env

    yield make
    for database in made:
        with connection.cursor() as cursor:
            cursor.execute(f'DROP DATABASE "{database}" WITH (FORCE)')


def manage(env: Env, *arguments: str, works: bool = True) -> str:
    done = subprocess.run(
        [sys.executable, "manage.py", *arguments], cwd=settings.BASE_DIR, env=env, capture_output=True, text=True
    )
    assert (done.returncode == 0) is works, done.stdout + done.stderr
    return done.stdout if works else done.stderr


def seen(env: Env) -> object:
    return json.loads(manage(env, "shell", "--no-imports", "-c", SEEN).splitlines()[-1])


def media(env: Env) -> dict[str, bytes]:
    root = Path(env["VAR_DIR"]) / "media"
    return {str(path.relative_to(root)): path.read_bytes() for path in root.rglob("*") if path.is_file()}


@pytest.mark.django_db(transaction=True)
def test_a_studio_comes_back_whole_and_takes_no_others_place_unasked(
    place: Callable[[str], Env], tmp_path: Path
) -> None:
    one, other, target = place("one"), place("other"), tmp_path / "studio.zip"
    manage(one, "migrate", "--verbosity=0")
    manage(one, "shell", "--no-imports", "-c", PERSON.format("maud"))
    kept = Path(one["VAR_DIR"]) / "media" / "models" / "aa11"
    kept.parent.mkdir(parents=True)
    kept.write_bytes(b"solid pear")
    (kept.parent / ".coming-x").write_bytes(b"half")
    assert "the database and 1 media files" in manage(one, "backup", str(target))

    assert "each agreed with its digest" in manage(other, "restore", str(target))
    assert media(other) == {"models/aa11": b"solid pear"}

    manage(other, "shell", "--no-imports", "-c", PERSON.format("tam"))
    assert "Add --replace" in manage(other, "restore", str(target), works=False)
    assert seen(other) == {"people": ["maud", "tam"], "refused": True}

    (Path(other["VAR_DIR"]) / "media" / "models" / "bb22").write_bytes(b"later")
    broken = bytearray(target.read_bytes())
    broken[len(broken) // 2] ^= 4
    (tmp_path / "broken.zip").write_bytes(broken)
    told = manage(other, "restore", str(tmp_path / "broken.zip"), "--replace", works=False)
    assert "is damaged, cut short, or no backup" in told
    assert media(other) == {"models/aa11": b"solid pear", "models/bb22": b"later"}
    manage(other, "restore", str(target), "--replace")
    assert seen(other) == {"people": ["maud"], "refused": True}
    assert media(other) == {"models/aa11": b"solid pear", "models/bb22": b"later"}


@pytest.fixture
def folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setattr(settings, "MEDIA_ROOT", tmp_path / "media")
    return tmp_path


def applied() -> list[str]:
    return [".".join(migration) for migration in MigrationRecorder(connection).applied_migrations()]


def made(folder: Path, **values: object) -> Path:
    """A backup with a right digest, of what is given."""
    (folder / "rows").write_bytes(b"rows")
    about = {"made": "2026-03-02", "engine": connection.vendor, "schema": "public", "migrations": applied()}
    target = folder / "made.zip"
    write_archive(target, [("database", folder / "rows")], {**about, **values})
    return target


@pytest.mark.django_db
def test_a_name_that_is_taken_is_refused(folder: Path) -> None:
    target = folder / "studio.zip"
    target.write_text("something else")
    with pytest.raises(CommandError, match="is there already and stays as it is"):
        call_command("backup", str(target))
    assert target.read_text() == "something else"


@pytest.mark.django_db
def test_a_folder_that_is_not_there_is_said(folder: Path) -> None:
    with pytest.raises(CommandError, match="make it, or give another name"):
        call_command("backup", str(folder / "none" / "studio.zip"))


@pytest.mark.django_db
def test_a_database_without_a_studio_is_not_backed_up(folder: Path) -> None:
    with transaction.atomic():
        MigrationRecorder(connection).Migration.objects.all().delete()
        with pytest.raises(CommandError, match="holds no studio"):
            call_command("backup", str(folder / "studio.zip"))
        transaction.set_rollback(True)


@pytest.mark.django_db
def test_a_file_that_is_not_there_is_said(folder: Path) -> None:
    with pytest.raises(CommandError, match=r"none\.zip: No such file"):
        call_command("restore", str(folder / "none.zip"))


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"engine": "oracle"}, "The backup is of a oracle database"),
        ({"migrations": ["jobs.9999_from_the_future"]}, "bring the program up to date first"),
    ],
)
def test_a_backup_that_does_not_fit_is_refused(values: dict[str, object], told: str, folder: Path) -> None:
    with pytest.raises(CommandError, match=told):
        call_command("restore", str(made(folder, **values)), "--replace")


@pytest.mark.django_db
def test_a_studio_that_is_there_is_left_alone(folder: Path) -> None:
    make_person()
    with pytest.raises(CommandError, match="Add --replace"):
        call_command("restore", str(made(folder)))
    assert not (folder / "media").exists()


@pytest.mark.django_db
def test_media_with_other_content_are_left_alone(folder: Path) -> None:
    sound = folder / "sound"
    with closing(sqlite3.connect(sound)) as database:
        database.execute("CREATE TABLE one (row)")
    (folder / "media").mkdir()
    (folder / "media" / "aa").write_bytes(b"otherwise")
    target = folder / "studio.zip"
    about = {"made": "2026-03-02", "engine": connection.vendor, "schema": "public", "migrations": applied()}
    write_archive(target, [("database", sound), ("media/aa", sound)], about)
    with pytest.raises(CommandError, match="is there with other content"):
        call_command("restore", str(target))
    assert (folder / "media" / "aa").read_bytes() == b"otherwise"


@pytest.mark.django_db
def test_a_database_that_is_damaged_inside_is_refused(folder: Path) -> None:
    if connection.vendor == "sqlite":
        with pytest.raises(CommandError, match="damaged inside"):
            call_command("restore", str(made(folder)))
    else:
        with pytest.raises(CommandError, match="pg_restore did not finish, and nothing was changed"):
            call_command("restore", str(made(folder)))
