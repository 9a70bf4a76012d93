"""A second commission in hand, that will be late as things are; who is away; and the plan in force. Invented."""

import datetime
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from jobs.models import Commission, StageTemplate
from jobs.services.crew import add_absence, set_hours
from jobs.services.plans import ask_for_plan, publish_plan
from studio.accounts.models import User
from studio.management.demo.stages import LINK, Told, move_stages
from studio.management.demo.work import Worked, book_stages
from studio.tasks.running import perform

HERON: dict[str, str] = {
    "title": "Reed Heron",
    "commissioner": "Cressing Fen Wildlife Centre",
    "contact": "Ada Finch",
    "email": "visits@cressingfen.example",
    "address": "The Pump House\nCressing Fen EM11 8CF",
    "place": "On the boardwalk, on a steel foot set by others",
    "description": "A heron 2.2 m tall, standing on two legs, its neck drawn in, to be seen from the hide.",
    "colour": "RAL 7046 telegrey body, RAL 9010 pure white neck, RAL 1002 sand yellow bill and legs",
    "model_revision": "Drawing RH-4, revision A",
}
HERON_SECTIONS: tuple[dict[str, Any], ...] = (
    {
        "name": "Body",
        "shape": "ellipsoid",
        "dimensions": {"a": "62 cm", "b": "30 cm", "c": "36 cm"},
        "pieces": 2,
        "metal": "14 kg",
        "stand": "1 m",
    },
    {
        "name": "Neck and head",
        "crated": False,
        "shape": "turned",
        "dimensions": {
            "profile": "0.15 0.00\n0.12 0.15\n0.085 0.35\n0.08 0.55\n0.10 0.68\n0.07 0.80\n0.02 0.90",
            "unit": "m",
        },
        "pieces": 2,
        "stand": "1.3 m",
        "offset": "0.38 m",
    },
    {
        "name": "Legs",
        "crated": False,
        "shape": "cylinder",
        "dimensions": {"diameter": "9 cm", "height": "0.98 m"},
        "pieces": 2,
        "pulls": 2,
        "metal": "11 kg",
    },
)
# The fen's boardwalk bears a lorry on these days from now alone, and not on the day of the reed cutters.
HERON_SITE = (31, 36)
HERON_SHUT = (33,)
HERON_EXTRAS = (
    ("haulage", "Delivery to the fen", "1"),
    ("bench_hour", "Standing it on its foot, two people", "10"),
)
ADA = "Ada Finch"
LIFE = (
    Told("Body", "pattern", "ines", 20, (19, 18, 16, 14, 13, 12), 10, 8, signed=LINK, who=(ADA, "Head of the centre")),
    Told("Body", "mould", "senka", 7, (6, 6, 5, 2)),
    Told("Neck and head", "pattern", "jory", 13, (12, 9, 7, 5)),
)
WORK = (
    Worked("Body", "pattern", 20, 11, Fraction(108, 100), ("ines", "senka")),
    Worked("Body", "mould", 7, 1, Fraction(62, 100), ("senka",)),
    Worked("Neck and head", "pattern", 13, 2, Fraction(74, 100), ("jory",)),
)
# Who is away from so many days ahead, for so many days, and why.
AWAY = (("bram", 12, 5, "Leave"), ("ines", 26, 2, "Course: lifting and slinging"))
# What those can work at who do not do everything.
CAN = {
    "jory": ("pattern", "mould", "cast", "assembly", "crate", "install"),
    "bram": ("mould", "cast", "metalwork", "assembly", "crate", "install"),
}
FULL_WEEK = (7.5, 7.5, 7.5, 7.5, 7.5, 0, 0)
SHORT_WEEK = (7.5, 7.5, 7.5, 7.5, 0, 0, 0)
SECONDS = 3


def site_of_heron(on: datetime.date) -> dict[str, Any]:
    """From when until when the boardwalk takes it."""
    first, last, *shut = (on + datetime.timedelta(days=days) for days in (*HERON_SITE, *HERON_SHUT))
    return {"site_from": first, "site_until": last, "site_shut": [day.isoformat() for day in shut]}


def go_on_with_heron(heron: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """Take it to where it is: the body's mould laid up, the neck nearly carved, the legs not begun."""
    move_stages(heron, LIFE, people, on)
    book_stages(heron, WORK, people, on)


def plan_the_studio(people: Mapping[str, User], on: datetime.date) -> None:
    """Who works what, who is away, and a plan worked out at once and published."""
    by = people["tam"]
    for name, keys in CAN.items():
        stages = StageTemplate.objects.filter(key__in=keys)
        set_hours(by=by, person=people[name], version=0, hours=FULL_WEEK, stages=stages)
    set_hours(by=by, person=people["senka"], version=0, hours=SHORT_WEEK, stages=())
    for name, ahead, days, reason in AWAY:
        first = on + datetime.timedelta(days=ahead)
        last = first + datetime.timedelta(days=days - 1)
        add_absence(by=by, person=people[name], first=first, last=last, reason=reason)
    plan = ask_for_plan(by=people["maud"], seconds=SECONDS)
    perform(plan.work_id or 0)
    plan.refresh_from_db()
    publish_plan(by=people["maud"], plan=plan, at=plan.made_at)
