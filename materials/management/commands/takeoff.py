"""Work a specification without a database: ``python manage.py takeoff SPEC.json [--json]``."""

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from materials.estimator.errors import EstimatorError
from materials.estimator.reference import studio_figures
from materials.estimator.takeoff import take_off
from materials.specfile import read_file
from materials.takeoff_report import as_data, as_text


class Command(BaseCommand):
    """Prints what a job needs, worked by the figures as delivered."""

    help = "Work out what a job needs from a specification in JSON."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        """The file, and the form of the answer."""
        parser.add_argument("spec", type=Path, metavar="SPEC.json", help="the specification")
        parser.add_argument("--json", action="store_true", help="print JSON in place of a report")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the take-off, or one sentence that says why there is none."""
        try:
            job = read_file(options["spec"], defaults=studio_figures())
            worked = take_off(job)
        except EstimatorError as error:
            raise SystemExit(str(error)) from None
        if options["json"]:
            self.stdout.write(json.dumps(as_data(worked, job), indent=1, allow_nan=False))
        else:
            self.stdout.write(as_text(worked))
