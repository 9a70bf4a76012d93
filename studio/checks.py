"""System checks of this project: what would hurt a studio in use."""

import sqlite3
from collections.abc import Sequence
from typing import Any

from django.conf import settings
from django.core import checks
from django.core.checks import CheckMessage, Error, Tags, register
from django.db import connection


@register(Tags.security, deploy=True)
def secret_key_is_long(app_configs: Sequence[Any] | None, **kwargs: Any) -> list[CheckMessage]:
    """A short key makes sessions guessable."""
    if len(settings.SECRET_KEY) < 50:
        return [
            Error(
                "SECRET_KEY is shorter than 50 characters.",
                hint="Make one with: python -c 'import secrets; print(secrets.token_urlsafe(50))'",
                id="studio.E001",
            )
        ]
    return []


@register(Tags.database)
def sqlite_is_safe(
    app_configs: Sequence[Any] | None, databases: Sequence[str] | None = None, **kwargs: Any
) -> list[CheckMessage]:
    """Refuse the write-ahead log on a version that can corrupt the file with it."""
    if not databases or connection.vendor != "sqlite":
        return []
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA journal_mode")
        journal = cursor.fetchone()[0]
    if journal.lower() == "wal" and sqlite3.sqlite_version_info < (3, 51, 3):
        return [
            Error(
                f"SQLite {sqlite3.sqlite_version} with the write-ahead log can corrupt the database.",
                hint="Use SQLite 3.51.3 or newer, or leave journal_mode to the settings.",
                id="studio.E002",
            )
        ]
    return []


@register(Tags.security, deploy=True)
def hosts_are_named(app_configs: Sequence[Any] | None, **kwargs: Any) -> list[CheckMessage]:
    """A star in ALLOWED_HOSTS lets anyone put a name of theirs into links."""
    if "*" in settings.ALLOWED_HOSTS:
        return [
            checks.Warning(
                "ALLOWED_HOSTS holds a star.",
                hint="Name the host that people type, for example ALLOWED_HOSTS=studio.example.",
                id="studio.W001",
            )
        ]
    return []
