"""The yard's own gate, van and the commissioner's gate, so that crate sheets say something of this workshop."""

from jobs.models import Doorway, Transport
from jobs.services.sending import add_way
from studio.accounts.models import User

DOORS = (
    {"name": "Ropewalk arch", "width_m": 2.35, "height_m": 2.9},
    {"name": "Market garden gate", "width_m": 2.6, "height_m": 4.0},
)
VAN = {
    "name": "The yard's van",
    "length_m": 4.1,
    "width_m": 1.98,
    "height_m": 2.12,
    "door_width_m": 1.96,
    "door_height_m": 2.05,
    "payload_kg": 950.0,
    "deck_m": 0.92,
    "overall_width_m": 2.2,
    "source": "measured in the yard",
}


def know_the_ways(by: User) -> None:
    """Enter what the yard's crates have to pass."""
    for door in DOORS:
        add_way(by=by, row=Doorway(), values=door)
    add_way(by=by, row=Transport(), values=VAN)
