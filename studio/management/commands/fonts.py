"""Build the web fonts from the installed package."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from studio.fonts import build_fonts


class Command(BaseCommand):
    """``manage.py fonts``: needed once before static files are served or collected."""

    help = "Build the web fonts from the installed font package."
    requires_system_checks = []

    def handle(self, *args: Any, **options: Any) -> None:
        """Build what is missing."""
        for path in build_fonts(settings.FONT_DIR):
            self.stdout.write(f"{path.name} {path.stat().st_size // 1024} kB")
