"""Plan what a file holds, without a database: ``python manage.py plan FILE.json [--seconds 10] [--json]``."""

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from jobs.figures.plan.solving import solve
from jobs.plans.problem_file import as_data, as_text, read_problem
from materials.estimator.errors import EstimatorError


class Command(BaseCommand):
    """Prints when each activity begins."""

    help = "Plan activities in whole periods from a file in JSON."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        """The file, the time there is, and the form of the answer."""
        parser.add_argument("problem", type=Path, metavar="FILE.json", help="what is to be planned")
        parser.add_argument("--seconds", type=float, default=10.0, help="how long to look at most (default 10)")
        parser.add_argument("--json", action="store_true", help="print JSON in place of a report")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the plan, or one sentence that says why there is none."""
        try:
            problem = read_problem(options["problem"])
            plan = solve(problem, seconds=options["seconds"])
        except EstimatorError as error:
            raise SystemExit(str(error)) from None
        if options["json"]:
            self.stdout.write(json.dumps(as_data(problem, plan), indent=1))
        else:
            self.stdout.write(as_text(problem, plan))
