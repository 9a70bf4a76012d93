"""What the commissioners of the demo are told: days, a few words, and a link each. Invented."""

import datetime

from jobs.models import Commission, Link, LinkKind
from jobs.services.links import make_link, note_opening
from jobs.services.published import publish
from studio.accounts.models import User
from studio.management.demo.days import moment

ACORNS_NOTE = (
    "The third cup's mould cracked and is laid up again, so that the cups come a fortnight later. "
    "The nuts are not held up by it."
)


def tell_commissioners(
    acorns: Commission, pear: Commission, lantern: Commission, people: dict[str, User], on: datetime.date
) -> None:
    """Two tellings on Six Acorns with a link for the clerk and one for the artist; a link for each of the others."""
    office, owner = people["tam"], people["maud"]
    acorns.refresh_from_db()
    due = acorns.needed_by or on
    later = on + datetime.timedelta(days=16)
    publish(
        by=office,
        commission=acorns,
        follows=0,
        promised_on=due,
        expected_on=due,
        note="",
        at=moment(on, 50, 11),
    )
    publish(
        by=owner,
        commission=acorns,
        follows=1,
        promised_on=acorns.due_by,
        expected_on=later,
        note=ACORNS_NOTE,
        at=moment(on, 11, 11),
    )
    clerk = _link(acorns, "Clerk to the parish", office, on, 50, shows_documents=True)
    for days in (44, 21, 13):
        note_opening(link=clerk, at=moment(on, days, 11))
    _link(acorns, "Harrow Hill play area group", office, on, 20)
    _link(pear, pear.contact, office, on, 6, shows_documents=True)
    _link(lantern, lantern.contact, owner, on, 2)


def give_calendars(people: dict[str, User], on: datetime.date) -> None:
    """The studio's calendar for the owner, and one maker's own."""
    for by, person, receiver in (("maud", None, "Maud, desk"), ("ines", people["ines"], "Ines, phone")):
        make_link(
            by=people[by],
            kind=LinkKind.CALENDAR,
            commission=None,
            receiver=receiver,
            expires_on=on + datetime.timedelta(days=360),
            at=moment(on, 30, 11),
            person=person,
        )


def _link(
    commission: Commission, receiver: str, by: User, on: datetime.date, days: int, *, shows_documents: bool = False
) -> Link:
    made = make_link(
        by=by,
        kind=LinkKind.PROGRESS,
        commission=commission,
        receiver=receiver,
        expires_on=on + datetime.timedelta(days=180),
        at=moment(on, days, 11),
        shows_documents=shows_documents,
    )
    return made.link
