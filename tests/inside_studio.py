"""What a run does inside a real studio, in a process of its own: ``python -m tests.inside_studio <what> ...``.

It prints one line of JSON. The environment says which studio.
"""

import datetime
import json
import sys
from collections.abc import Callable
from typing import Any

import django

django.setup()

from django.conf import settings  # noqa: E402 - the apps have to be loaded first
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: E402
from django.contrib.sessions.backends.db import SessionStore  # noqa: E402
from django.utils import timezone  # noqa: E402

from jobs.models import HourEntry, LinkKind, Stage, StageState  # noqa: E402
from jobs.services import stages  # noqa: E402
from materials.models import Item, Movement  # noqa: E402
from studio.accounts.models import Role, User  # noqa: E402
from tests.factories import (  # noqa: E402
    PASSWORD,
    make_commission,
    make_issued,
    make_lot,
    make_open_stage,
    make_person,
    make_section,
    price_everything,
)
from tests.jobs.link_samples import give_link  # noqa: E402
from tests.jobs.sign_off_life import approve, sent, shown_photo  # noqa: E402
from tests.jobs.stage_life import USUAL, anybody, in_hand, make_ready, the  # noqa: E402
from tests.jobs.standing_samples import book  # noqa: E402


def people(count: str) -> dict[str, Any]:
    """So many people at the bench, each with a session, and eight stages of one commission."""
    made = [_signed_in(make_person(Role.BENCH, username=f"p{n}", shown_name=f"Maker {n}")) for n in range(int(count))]
    section = make_section(make_commission())
    keys = ("pattern", "mould", "cast", "finish", "crate", "metalwork", "assembly", "install")
    return {"people": made, "stages": [make_open_stage(section, key).pk for key in keys], "password": PASSWORD}


def quoted() -> dict[str, Any]:
    """A commission whose quote is out, and an owner who may sign in."""
    price_everything(2_000)
    owner = make_person(Role.OWNER)
    needed = datetime.date(2031, 3, 1)
    commission = make_commission(contact="R. Osei", place="At the gate", needed_by=needed)
    make_section(commission)
    make_issued(commission, owner)
    return {"commission": commission.pk, "username": owner.username, "password": PASSWORD}


def taken(keys: str, to: str) -> list[str]:
    """The stages of these keys taken to where they are ready, or passed; hours are booked on them on the way."""
    found = Stage.objects.filter(section__isnull=False, key__in=keys.split(",")).order_by("position")
    for stage in found.select_related("section"):
        now = timezone.now()
        if stage.state == StageState.NOT_BEGUN:
            # A fortnight apart, so that the holds of one are over when the next begins.
            make_ready(stage, now - datetime.timedelta(days=100 - 14 * USUAL.index(stage.key)))
            book(stage, anybody(), 90, days_ago=3)
        else:
            stages.ready_to_check(by=anybody(), stage=stage, at=now)
            for check in stage.checks.select_related("stage"):
                stages.look_at(by=anybody(), check=check, seen=True, at=now)
        if to == "passed":
            stage.refresh_from_db()
            if stage.lacks_sign_off:
                approve(stage, now)
            stages.pass_stage(by=anybody(), stage=stage, at=now)
    return sorted({stage.state for stage in found.all()})


def _signed_in(person: User) -> dict[str, Any]:
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.save()
    return {"id": person.pk, "username": person.username, "name": person.shown_name, "session": session.session_key}


def lot(quantity: str) -> dict[str, Any]:
    """A lot of resin, and a stage that may draw from it."""
    row = make_lot(Item.objects.get(key="laminating_resin"), quantity)
    stage = make_open_stage(make_section(make_commission("Six Acorns")), "cast")
    return {"lot": row.pk, "item": row.item_id, "code": stage.code}


def links() -> dict[str, str]:
    """A commission whose sign-off is out: two links to its progress, and one to the sign-off."""
    commission = in_hand()
    pattern = the(commission, "pattern")
    make_ready(pattern, timezone.now() - datetime.timedelta(days=60))
    shown_photo(commission)
    row = sent(commission, pattern, at=timezone.now(), photos=list(commission.photos.all()))
    made = {name: give_link(commission) for name in ("progress", "unread")}
    made["sign_off"] = give_link(commission, kind=LinkKind.SIGN_OFF, sign_off=row)
    return {name: link.token for name, link in made.items()}


def entries() -> list[list[Any]]:
    """Every row of the ledger of hours: key, person, stage, day, minutes."""
    rows = HourEntry.objects.values_list("key", "person", "stage", "work_date", "minutes")
    return [[str(key), person, stage, str(day), minutes] for key, person, stage, day, minutes in rows]


def movements() -> list[list[Any]]:
    """Every movement of the stores: key, lot, quantity in thousandths."""
    rows = Movement.objects.values_list("key", "lot", "quantity")
    return [[str(key), lot_id, round(quantity * 1000)] for key, lot_id, quantity in rows]


WHAT: dict[str, Callable[..., Any]] = {
    "people": people,
    "lot": lot,
    "links": links,
    "quoted": quoted,
    "taken": taken,
    "entries": entries,
    "movements": movements,
}

if __name__ == "__main__":
    sys.stdout.write(json.dumps(WHAT[sys.argv[1]](*sys.argv[2:])))
