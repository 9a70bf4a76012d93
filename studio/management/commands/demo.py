"""Make the demo studio, afresh each time it is asked for, and never in a real one."""

from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection
from django.utils import timezone

from studio.accounts.models import User
from studio.management.demo.house import PASSWORD, PEOPLE
from studio.management.demo.make import make_demo
from studio.office.queries import house


class Command(BaseCommand):
    """``manage.py demo``."""

    help = "Fill an empty database with the demo studio, or make the demo afresh where it is already."

    def add_arguments(self, parser: CommandParser) -> None:
        """``--if-empty`` is for the first run of a new machine."""
        parser.add_argument("--if-empty", action="store_true", help="Do nothing where there is anything already.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Refuse in a real studio; wipe and make again in a demo."""
        used = User.objects.exists()
        if used and not house().is_demo:
            if options["if_empty"]:
                return
            raise CommandError("This database holds a real studio. Give DATABASE_URL another one for the demo.")
        if not (used and options["if_empty"]):
            if used:
                self._empty()
            make_demo(on=timezone.localdate())
        self.stdout.write("Demo sign-ins (everything in it is invented):")
        for username, shown_name, role in PEOPLE:
            self.stdout.write(f"  {username:8} {role:7} {shown_name}")
        self.stdout.write(f"  The password of each is: {PASSWORD}")

    def _empty(self) -> None:
        # Rows that the database refuses to remove can only go with their tables.
        with connection.cursor() as cursor:
            tables = connection.introspection.table_names(cursor)
            if connection.vendor == "postgresql":
                for table in tables:
                    cursor.execute(f'DROP TABLE IF EXISTS "{table}" CASCADE')
            else:
                cursor.execute("PRAGMA foreign_keys=OFF")
                for table in tables:
                    cursor.execute(f'DROP TABLE IF EXISTS "{table}"')
                cursor.execute("PRAGMA foreign_keys=ON")
        call_command("migrate", verbosity=0)
