"""PostgreSQL's own programs, which alone dump and restore it."""

import os
import shutil
import subprocess
from pathlib import Path

from django.db import connection
from django.db.backends.postgresql.client import DatabaseClient

# Nothing may be left of what was there: a table of a newer version would keep hold of one that is replaced.
EMPTIED = """
DO $$
DECLARE act text;
BEGIN
    FOR act IN
        SELECT format('DROP TABLE %I.%I CASCADE', schemaname, tablename) FROM pg_tables WHERE schemaname = '{schema}'
    LOOP EXECUTE act; END LOOP;
    FOR act IN
        SELECT format('DROP ROUTINE %s CASCADE', oid::regprocedure) FROM pg_proc
        WHERE pronamespace = '{schema}'::regnamespace
        AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = pg_proc.oid AND deptype = 'e')
    LOOP EXECUTE act; END LOOP;
END $$;
"""


class ServerProgramFailed(RuntimeError):
    """A program of PostgreSQL is not there, or did not do what it was asked; the sentence says which."""


def dump(target: Path) -> str:
    """Dump the schema that the program uses, as of one moment; its name is the answer."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT current_schema()")
        schema = str(cursor.fetchone()[0])
    _run("pg_dump", "--format=custom", "--no-owner", "--no-privileges", f"--schema={schema}", f"--file={target}")
    return schema


def replace(dumped: Path, schema: str) -> None:
    """Empty the schema and fill it from a dump, in one transaction: all of it, or nothing."""
    if not schema.isidentifier():
        raise ServerProgramFailed(f"The backup names a schema {schema[:40]!r}, which is none.")
    script = dumped.with_name("script.sql")
    _run(
        *("pg_restore", "--no-owner", "--no-privileges", f"--schema={schema}", f"--file={script}", str(dumped)),
        to_server=False,
    )
    emptied = dumped.with_name("emptied.sql")
    emptied.write_text(EMPTIED.format(schema=schema), encoding="utf-8")
    connection.close()
    _run(
        *("psql", "--no-psqlrc", "--quiet", "--single-transaction", "--set=ON_ERROR_STOP=1"),
        *(f"--file={emptied}", f"--file={script}"),
    )


def _run(program: str, *arguments: str, to_server: bool = True) -> None:
    if shutil.which(program) is None:
        raise ServerProgramFailed(
            f"{program} is not on the path; install PostgreSQL's client programs, of the server's version or newer."
        )
    line, extra = [program], {}
    if to_server:
        (_, *where), given = DatabaseClient.settings_to_cmd_args_env(connection.settings_dict, [])
        line, extra = [program, *where], dict(given or {})
    done = subprocess.run(
        [line[0], *arguments, *line[1:]], env={**os.environ, **extra}, capture_output=True, text=True, check=False
    )
    if done.returncode:
        said = next((row for row in done.stderr.splitlines() if row.strip()), "it did not say why")
        raise ServerProgramFailed(f"{program} did not finish, and nothing was changed: {said}")
