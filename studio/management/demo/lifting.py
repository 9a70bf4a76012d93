"""The yard's slings, and the bases of the pear and of an acorn. Invented."""

import datetime

from jobs.models import Commission, Sling
from jobs.services.bases import set_base
from jobs.services.own_rows import add_row
from studio.accounts.models import User

# Mark, kind, legs, limit of a leg [kg], length [m], weeks until the next examination.
SLINGS = (
    ("R1", "round", 1, 1000.0, 2.0, 14),
    ("R2", "round", 1, 1000.0, 2.0, 14),
    ("R3", "round", 1, 2000.0, 3.0, -3),
    ("W1", "web", 1, 500.0, 1.5, 20),
    ("C4", "chain", 4, 1120.0, 2.5, 9),
)

PEAR_BASE = {
    "length": "560 mm",
    "width": "560 mm",
    "thickness": "15 mm",
    "mass": "48 kg",
    "bolts": "230 230 16\n-230 230 16\n-230 -230 16\n230 -230 16\n0 250 16\n0 -250 16",
    "legs": "150 0 60 8 180\n-75 130 60 8 -60\n-75 -130 60 8 60",
}
ACORN_BASE = {
    "length": "260 mm",
    "width": "260 mm",
    "thickness": "10 mm",
    "mass": "6 kg",
    "bolts": "95 95 12\n-95 95 12\n-95 -95 12\n95 -95 12",
    "legs": "0 0 76 0 0",
}


def own_slings(by: User, on: datetime.date) -> None:
    """Enter what hangs on the wall; one of them is past its examination."""
    for mark, kind, legs, capacity_kg, length_m, weeks in SLINGS:
        add_row(
            by=by,
            row=Sling(),
            values={
                "mark": mark,
                "kind": kind,
                "legs": legs,
                "capacity_kg": capacity_kg,
                "length_m": length_m,
                "source": "its label",
                "examined_until": on + datetime.timedelta(weeks=weeks),
            },
        )


def draw_bases(by: User, acorns: Commission, pear: Commission) -> None:
    """The plate of one acorn, and that of the pear with its three legs."""
    set_base(by=by, commission=acorns, version=0, values=ACORN_BASE)
    set_base(by=by, commission=pear, version=0, values=PEAR_BASE)
