"""Put a backup in place."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from studio.archive import NotWhole
from studio.backup import Refused, restore, unapplied
from studio.postgres import ServerProgramFailed


class Command(BaseCommand):
    """``manage.py restore FILE [--replace]``."""

    help = "Verify a backup, then put its media and database in place."
    # An empty database has no tables yet, and needs none.
    requires_migrations_checks = False

    def add_arguments(self, parser: CommandParser) -> None:
        """Which file, and whether it may take the place of what is there."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--replace", action="store_true", help="Put it in the place of the studio that is there.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Restore, and say from when it is."""
        source: Path = options["file"]
        try:
            manifest = restore(source, replace=options["replace"])
        except (Refused, NotWhole, ServerProgramFailed) as trouble:
            raise CommandError(str(trouble)) from None
        except OSError as trouble:
            raise CommandError(f"{trouble.filename or source}: {trouble.strerror}.") from None
        media = len(manifest.digests) - 1
        made = manifest.about["made"]
        self.stdout.write(f"The database and {media} media files of {made} are in place; each agreed with its digest.")
        if unapplied():
            self.stdout.write("The program is newer than the backup: run manage.py migrate now.")
