"""Measure a model without a database: ``python manage.py measure FILE [--height "3 m"] [--json]``."""

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from materials.estimator.errors import EstimatorError
from materials.measure_report import as_data, as_text
from materials.mesh.loading import stand_up
from materials.mesh.measuring import measure
from materials.mesh.reading import read_model
from materials.mesh.standing import UNITS_M, UPS
from materials.units import parse

UNIT_TAKEN = "The file states no unit, so its numbers are taken as metres; give --unit or --height."


class Command(BaseCommand):
    """Prints what is measured of a model file, and nothing of what is in the database."""

    help = "Measure a model file: STL, OBJ, PLY, 3MF or GLB."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        """The file, its size and stand, and the form of the answer."""
        parser.add_argument("file", type=Path, metavar="FILE", help="the model")
        parser.add_argument("--height", metavar="LENGTH", help='finished height, "3 m"')
        parser.add_argument("--unit", choices=list(UNITS_M), help="unit of the file's numbers")
        # An axis that begins with a minus would be read as an option, so it is written --up=-y.
        parser.add_argument("--up", choices=UPS, help="the file's axis that points up, as --up=-y")
        parser.add_argument("--close-holes", metavar="LENGTH", help='close holes up to this width, "50 mm"')
        parser.add_argument("--json", action="store_true", help="print JSON in place of a report")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the measurements, or one sentence that says why there are none."""
        try:
            height = _length(options["height"], "finished height")
            widest = _length(options["close_holes"], "widest hole to close")
            model = read_model(options["file"])
            unit: str | None = options["unit"]
            said: tuple[str, ...] = ()
            if height is None and unit is None and model.unit is None:
                unit, said = "m", (UNIT_TAKEN,)
            loaded = stand_up(model, up=options["up"], unit=unit, finished_height_m=height, close_holes_m=widest)
            measured = measure(loaded.tidied)
        except EstimatorError as error:
            raise SystemExit(str(error)) from None
        # A note of what was found before holes were closed is not said again of what is left.
        notes = dict.fromkeys((*said, *loaded.notes, *measured.notes))
        if options["json"]:
            data = as_data(options["file"].name, measured, tuple(notes))
            self.stdout.write(json.dumps(data, indent=1, allow_nan=False))
        else:
            self.stdout.write(as_text(options["file"].name, measured, tuple(notes)))


def _length(typed: str | None, name: str) -> float | None:
    return None if typed is None else parse(typed, "length", name)
