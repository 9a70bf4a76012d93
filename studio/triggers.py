"""Rules that the database itself keeps, on SQLite and PostgreSQL alike.

A later migration that rebuilds one of these tables on SQLite drops its
triggers; it has to add the same operation again.
"""

from collections.abc import Callable
from typing import Any

from django.db.migrations import RunPython

ACTS = ("INSERT", "UPDATE", "DELETE")


def refuse(table: str, acts: tuple[str, ...], message: str, when: str = "") -> RunPython:
    """A migration operation: refuse these acts on a table's rows.

    ``when`` is SQL over ``ROW``, which stands for the row as it was (as it would
    become, for an insert); without it every row is meant.
    """
    forwards, backwards = _makers(table, acts, message, when)
    return RunPython(forwards, backwards)


def _makers(
    table: str, acts: tuple[str, ...], message: str, when: str
) -> tuple[Callable[..., None], Callable[..., None]]:
    names = {act: f"{table}_refuses_{act.lower()}" for act in acts}

    def forwards(apps: Any, schema_editor: Any) -> None:
        postgres = schema_editor.connection.vendor == "postgresql"
        for act, name in names.items():
            condition = when.replace("ROW.", "NEW." if act == "INSERT" else "OLD.")
            if postgres:
                schema_editor.execute(
                    f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ BEGIN "
                    + (f"IF {condition} THEN " if condition else "")
                    + f"RAISE EXCEPTION '{message}' USING ERRCODE = 'integrity_constraint_violation'; "
                    + ("END IF; " if condition else "")
                    + f"RETURN {'OLD' if act == 'DELETE' else 'NEW'}; END $$ LANGUAGE plpgsql",
                    params=None,
                )
                schema_editor.execute(
                    f"CREATE TRIGGER {name} BEFORE {act} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()", params=None
                )
            else:
                schema_editor.execute(
                    f"CREATE TRIGGER {name} BEFORE {act} ON {table} "
                    + (f"WHEN {condition} " if condition else "")
                    + f"BEGIN SELECT RAISE(ABORT, '{message}'); END",
                    params=None,
                )

    def backwards(apps: Any, schema_editor: Any) -> None:
        for name in names.values():
            if schema_editor.connection.vendor == "postgresql":
                schema_editor.execute(f"DROP FUNCTION IF EXISTS {name}() CASCADE", params=None)
            else:
                schema_editor.execute(f"DROP TRIGGER IF EXISTS {name}", params=None)

    return forwards, backwards
