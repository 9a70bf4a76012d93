"""The yard's own gate, van and the commissioner's gate, so that crate sheets say something of this workshop."""

from jobs.models import Commission, Doorway, Transport
from jobs.services.kept_sheets import keep_answers
from jobs.services.own_rows import add_row
from studio.accounts.models import User

DOORS = (
    {"name": "Ropewalk arch", "width_m": 2.35, "height_m": 2.9, "source": "measured under the arch"},
    {"name": "Market garden gate", "width_m": 2.6, "height_m": 4.0, "source": "the commissioner's drawing"},
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
        add_row(by=by, row=Doorway(), values=door)
    add_row(by=by, row=Transport(), values=VAN)


PEAR_STANDS = {"speed": "22.5", "altitude": "35 m", "terrain": "III", "plinth": "0.3 m"}


def know_where_it_stands(by: User, pear: Commission) -> None:
    """Keep what was decided of the pear's place: behind a hedge at the edge of the village, on a low plinth."""
    keep_answers(
        by=by,
        commission=pear,
        section=None,
        group="wind",
        sheet="Standing in the wind",
        fields=PEAR_STANDS,
        answers=PEAR_STANDS,
    )
