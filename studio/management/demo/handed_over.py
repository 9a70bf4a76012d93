"""A commission of last year, handed over, with its record and what happened to the piece since. Invented."""

import datetime
import uuid
from collections.abc import Mapping
from decimal import Decimal

from django.utils import timezone

from jobs.hand_overs.record import begun_record, hand_over_sheet, printed_record
from jobs.models import Commission, Fate, LinkKind, Stage
from jobs.services import hand_overs as services
from jobs.services import stages as stage_services
from jobs.services.hours import QUARTER, book
from jobs.services.issues import issue as issue_material
from jobs.services.links import make_link
from jobs.services.piece_notes import tell
from materials.models import Item
from materials.services.stores import Delivery, receive
from studio.accounts.models import User
from studio.management.demo.days import moment
from studio.management.demo.pictures import buoy as buoy_drawn
from studio.management.demo.sign_offs import approved, shown

DAYS_BEFORE = 395
"""When its quote went out, in days before today."""

BUOY = {
    "title": "The Old Buoy",
    "commissioner": "Eastmere Ferry Company",
    "contact": "Hanne Dorrit",
    "email": "landing@eastmereferry.example",
    "address": "The Landing\nEastmere EM2 4LD",
    "place": "The ferry landing, on a granite block",
    "description": "A buoy as children draw it, 1.3 m tall, to sit against while waiting for the ferry.",
    "colour": "RAL 3020 traffic red, RAL 9010 pure white",
    "model_revision": "Drawing OB-1, revision A",
}
BUOY_SECTIONS = (
    {
        "name": "Buoy",
        "shape": "turned",
        "dimensions": {
            "profile": "0.30 0.00\n0.42 0.10\n0.46 0.30\n0.44 0.50\n0.34 0.72\n0.20 0.95\n0.12 1.15\n0.05 1.30",
            "unit": "m",
        },
        "pieces": 2,
        "metal": "14 kg",
    },
)
BUOY_EXTRAS = (
    ("haulage", "Delivery to the landing", "1"),
    ("bench_hour", "Fixing it to its block, two people", "6"),
)
# What of last year's deliveries is in it, by stage, item and pack.
BATCHES = (
    ("cast", "laminating_resin", "25 kg drum", "LR 2509-31"),
    ("cast", "gel_coat", "25 kg drum", "GC 0877"),
    ("cast", "glass_csm_450", "32 kg roll", "M450-702"),
    ("finish", "filler_primer", "5 l tin", "HB 2101"),
)
CREW = ("ines", "bram", "senka", "jory")
EVENTS = (
    (
        120,
        Fate.MOVED,
        "The new pontoon, on the same block",
        "Eastmere Cranes",
        "Lifted by two slings under the foot, carried upright.",
    ),
    (118, Fate.REPAIRED, "", "Saltgate Yard", "A chip at the foot from the move: primed and touched in with RAL 3020."),
)


SEEN = "Green growth under the white band on the water side, and one cap over a lifting eye is gone."


def hand_over_buoy(buoy: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """Take every stage through, hand the piece over, and write down its first year."""
    office = people["tam"]
    at = moment(on, 372, 8)
    photo = None
    for number, stage in enumerate(buoy.stages.select_related("section", "commission").order_by("position")):
        at = _passed(stage, people[CREW[number % len(CREW)]], people, at)
        if stage.key == "finish":
            photo = shown(stage, office, "In the yard, before it was crated", at, buoy_drawn)
    given = services.Particulars(
        **{  # type: ignore[arg-type]
            **begun_record(buoy, timezone.localdate(at)),
            "mass": "Buoy: 41.5 kg with its steel, weighed",
            "lifting": "Two M12 eyes in the foot, under the caps; 60 kg each",
            "fixings": "Four M16 studs into the granite, by the engineer's letter OB-E1",
            "photos": [photo] if photo else [],
        }
    )
    row = services.draft(by=office, commission=buoy, given=given)
    sheet = hand_over_sheet(row, timezone.localdate(at))
    pdf = printed_record(sheet)
    services.issue(by=office, row=row, version=row.version, sheet=sheet, pdf=pdf, closes=True, at=at)
    for days, kind, place, by_whom, words in EVENTS:
        day = on - datetime.timedelta(days=days)
        services.note_event(
            by=office,
            commission=buoy,
            kind=kind,
            on=day,
            place=place,
            by_whom=by_whom,
            words=words,
            at=moment(on, days, 8),
        )
    keeper = make_link(
        by=office, kind=LinkKind.PIECE, commission=buoy, receiver="Whoever looks after it", expires_on=None, at=at
    ).link
    tell(link=keeper, commission=buoy, name="Pontoon watch", words=SEEN, at=moment(on, 1, 8))


def _passed(stage: Stage, by: User, people: Mapping[str, User], at: datetime.datetime) -> datetime.datetime:
    """Take one stage through; answers the morning after."""
    stage_services.begin(by=by, stage=stage, at=at)
    _material(stage, people["tam"], at)
    _hours(stage, by, at)
    for step in stage.steps.select_related("stage"):
        stage_services.do_step(by=by, step=step, at=at)
        stage.refresh_from_db()
        at = max(at + datetime.timedelta(hours=1), stage.hold_until or at)
    stage_services.ready_to_check(by=by, stage=stage, at=at)
    for check in stage.checks.select_related("stage"):
        stage_services.look_at(by=people["maud"], check=check, seen=True, at=at)
    if stage.sign_off:
        later = at + datetime.timedelta(days=1)
        approved(
            stage,
            people["tam"],
            sent=at,
            on=timezone.localdate(later),
            on_paper=False,
            who=("Hanne Dorrit", "Landing manager"),
            drawn=buoy_drawn,
        )
        at = later
    stage_services.pass_stage(by=people["maud"], stage=stage, at=at)
    tomorrow = timezone.localdate(at) + datetime.timedelta(days=1)
    return moment(tomorrow, 0, 8)


def _hours(stage: Stage, by: User, at: datetime.datetime) -> None:
    """What the budget allows, a long day at a time."""
    day, rest = timezone.localdate(at), stage.allowed_minutes // QUARTER * QUARTER
    while rest > 0:
        minutes = min(rest, 8 * 60)
        evening = timezone.make_aware(datetime.datetime.combine(day, datetime.time(17)))
        book(by=by, person=by, stage=stage, work_date=day, minutes=minutes, key=uuid.uuid4(), at=evening)
        day, rest = day + datetime.timedelta(days=1), rest - minutes


def _material(stage: Stage, by: User, at: datetime.datetime) -> None:
    """What went into a stage, from deliveries that it used up."""
    for key, label, batch in [came for place, *came in BATCHES if place == stage.key]:
        item = Item.objects.get(key=key)
        pack = item.packs.get(label=label)
        delivery = Delivery(
            quantity=pack.quantity,
            cost_minor=int(pack.prices.latest("valid_from").amount_minor),
            currency="GBP",
            batch=batch,
            supplier=item.supplier,
            received=timezone.localdate(at) - datetime.timedelta(days=7),
            expires=None,
        )
        lot = receive(by=by, item=item, delivery=delivery, key=uuid.uuid4(), at=at).lot
        issue_material(by=by, stage=stage, lot=lot, quantity=Decimal(pack.quantity), key=uuid.uuid4(), at=at)
