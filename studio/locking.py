"""Two people, one form: the second to save is told, and loses nothing of what was typed."""

from django.db import models


class Conflict(Exception):
    """The row was changed by somebody else after this form was opened."""


def claim(row: models.Model, version: int) -> None:
    """Move a row on to its next version, or refuse. Call it first thing in the transaction of the change.

    Compare and count in one statement: it holds on both databases, where a row
    lock would do nothing on SQLite.
    """
    rows = type(row)._default_manager.filter(pk=row.pk, version=version)
    if not rows.update(version=version + 1):
        raise Conflict
    row.version = version + 1  # type: ignore[attr-defined]
