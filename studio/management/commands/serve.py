"""Serve the studio: the one way to run it, at home and for real."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from studio.workerkeeper import WorkerKeeper


class Command(BaseCommand):
    """``manage.py serve``."""

    help = "Serve on the given address until stopped."

    def add_arguments(self, parser: CommandParser) -> None:
        """Where to listen and with how many processes."""
        parser.add_argument("--host", default="127.0.0.1")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--workers", type=int, default=1)
        parser.add_argument("--no-worker", action="store_true", help="Leave background work to a worker elsewhere.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Hand over to the server."""
        from granian import Granian
        from granian.constants import Interfaces

        self.stdout.write(f"Mouldwright is at http://{options['host']}:{options['port']}  (Ctrl-C stops it)")
        server = Granian(
            "studio.wsgi:application",
            address=options["host"],
            port=options["port"],
            interface=Interfaces.WSGI,
            workers=options["workers"],
            blocking_threads=4,
            log_enabled=True,
        )
        worker = None if options["no_worker"] else WorkerKeeper()
        try:
            server.serve()
        finally:
            if worker:
                worker.end()
