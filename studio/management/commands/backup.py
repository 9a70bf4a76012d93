"""Back the studio up, while people write."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from studio.archive import NotWhole
from studio.backup import Refused, back_up
from studio.postgres import ServerProgramFailed


class Command(BaseCommand):
    """``manage.py backup FILE``."""

    help = "Write database and media into one file, verified to the last byte."

    def add_arguments(self, parser: CommandParser) -> None:
        """Where to."""
        parser.add_argument("file", type=Path, help="A name that is not there yet, on another disk if there is one.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Back up, and say what is in it."""
        target: Path = options["file"]
        try:
            written = back_up(target, at=timezone.now())
        except (Refused, NotWhole, ServerProgramFailed) as trouble:
            raise CommandError(str(trouble)) from None
        except OSError as trouble:
            raise CommandError(f"{target} could not be written: {trouble.strerror}.") from None
        media = len(written.digests) - 1
        size = target.stat().st_size / 1e6
        self.stdout.write(f"{target}: the database and {media} media files, {size:,.1f} MB, verified.")
