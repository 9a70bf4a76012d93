"""Reads for a plan: what is still to be done, who is there, and what was planned before."""

import datetime
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Prefetch, QuerySet
from django.utils import timezone

from jobs.figures.todo import CAST, INSTALL
from jobs.models import (
    Absence,
    Commission,
    CommissionState,
    CrewMember,
    Decision,
    Extra,
    HourEntry,
    Plan,
    Quote,
    SentOutWork,
    SignOff,
    Stage,
    StageMove,
    StageState,
    StageTemplate,
    Step,
)
from studio.accounts.models import Role, User

HAULAGE = "haulage"


@dataclass(frozen=True, slots=True)
class Estimated:
    """What the take-off of an accepted quote says: hours by section and stage, moulds and casts, services wanted."""

    hours: Mapping[tuple[str, str], tuple[float, float, float]]
    moulds: Mapping[str, int]
    casts: Mapping[str, int]
    services: Mapping[tuple[str, str], tuple[str, ...]]

    def kept(self) -> dict[str, Any]:
        """As plain values."""
        return {
            "hours": [[*place, *hours] for place, hours in self.hours.items()],
            "moulds": dict(self.moulds),
            "casts": dict(self.casts),
            "services": [[*place, list(keys)] for place, keys in self.services.items()],
        }

    @classmethod
    def of(cls, kept: Mapping[str, Any]) -> "Estimated":
        """What was kept."""
        return cls(
            hours={(section, stage): (low, likely, high) for section, stage, low, likely, high in kept["hours"]},
            moulds=kept["moulds"],
            casts=kept["casts"],
            services={(section, stage): tuple(keys) for section, stage, keys in kept["services"]},
        )


def open_stages(commissions: Collection[Commission]) -> QuerySet[Stage]:
    """The stages that have not passed, with all their steps, in two queries."""
    found = Stage.objects.filter(commission__in=commissions).exclude(state=StageState.PASSED)
    steps = Prefetch("steps", Step.objects.order_by("position"))
    return found.select_related("section").prefetch_related(steps).order_by("commission", "position", "pk")


def templates() -> dict[str, StageTemplate]:
    """The studio's stages by their keys, with their steps."""
    return {row.key: row for row in StageTemplate.objects.prefetch_related("steps")}


def answers_due(commissions: Collection[Commission]) -> dict[int, datetime.date]:
    """By when an answer was asked for, of each stage that a sign-off was sent for and not answered; in one query."""
    sent = SignOff.objects.filter(commission__in=commissions, sent_at__isnull=False, answer__isnull=True)
    rows = sent.order_by("pk").values_list("stages", "answer_by")
    return {stage: day for stage, day in rows if stage is not None}


def still_out(commissions: Collection[Commission]) -> dict[int, list[SentOutWork]]:
    """Orders that are not back, by stage; those of no stage are left to the standing."""
    found: dict[int, list[SentOutWork]] = {}
    for work in SentOutWork.objects.filter(commission__in=commissions, back_on__isnull=True, stage__isnull=False):
        found.setdefault(work.stage_id or 0, []).append(work)
    return found


def waited_for(commissions: Collection[Commission]) -> list[datetime.date]:
    """The days that their work waits for: of a site, of a firm, of an answer; in two queries."""
    back = [work.due_back for works in still_out(commissions).values() for work in works]
    days = [commission.site_from for commission in commissions]
    return [*answers_due(commissions).values(), *(day for day in (*back, *days) if day is not None)]


def stages_sent_out(commissions: Collection[Commission]) -> set[int]:
    """Stages for which something was ordered, so that no more of it is to be."""
    return set(
        SentOutWork.objects.filter(commission__in=commissions, stage__isnull=False).values_list("stage", flat=True)
    )


def delivered(commissions: Collection[Commission]) -> set[int]:
    """The commissions that are yet to be taken to their place: somebody drives them, or their site has its days."""
    driven = Extra.objects.filter(commission__in=commissions, item__key=HAULAGE)
    stood = Stage.objects.filter(commission__in=commissions, key=INSTALL, state=StageState.PASSED)
    found = set(driven.values_list("commission", flat=True))
    found |= {commission.pk for commission in commissions if commission.has_window}
    return found - set(stood.values_list("commission", flat=True))


def estimates(commissions: Collection[Commission], services: Collection[str]) -> dict[int, Estimated]:
    """What the accepted quotes estimated, in one query; ``services`` are the keys of what firms outside do."""
    quotes = Quote.objects.filter(commission__in=commissions, decision__decision=Decision.ACCEPTED)
    return {pk: estimated(kept, services) for pk, kept in quotes.values_list("commission", "take_off")}


def estimated(kept: Mapping[str, Any], services: Collection[str]) -> Estimated:
    """What a take-off as it is kept says to a plan."""
    hours: dict[tuple[str, str], tuple[float, float, float]] = {}
    for line in kept["hours"]:
        place = (line["section"], line["stage"])
        low, likely, high = hours.get(place, (0.0, 0.0, 0.0))
        hours[place] = (low + line["low"], likely + line["likely"], high + line["high"])
    wanted: dict[tuple[str, str], tuple[str, ...]] = {}
    for line in kept["lines"]:
        place = (line["section"], line["stage"])
        if line["material"] in services and line["material"] not in wanted.get(place, ()):
            wanted[place] = (*wanted.get(place, ()), line["material"])
    return Estimated(
        hours=hours,
        moulds={section["name"]: section["moulds"] for section in kept["sections"]},
        casts={section["name"]: section["casts"] for section in kept["sections"]},
        services=wanted,
    )


def people_at_work() -> list[User]:
    """Everybody of the bench, and whoever else was given working hours."""
    active = User.objects.filter(is_active=True).select_related("crew_member")
    own = set(CrewMember.objects.values_list("person", flat=True))
    return [person for person in active.order_by("shown_name", "pk") if person.role == Role.BENCH or person.pk in own]


def crew_members() -> dict[int, CrewMember]:
    """Who has hours or stages of their own, by person."""
    return {row.person_id: row for row in CrewMember.objects.prefetch_related("stages")}


def absences(since: datetime.date) -> list[Absence]:
    """Absences that are not over, the soonest first."""
    return list(Absence.objects.filter(last__gte=since).select_related("person"))


def in_force() -> Plan | None:
    """The plan that was published last."""
    return Plan.objects.published().select_related("published_by").first()


def newest() -> Plan | None:
    """The last plan of things as they are, worked out or not yet."""
    return Plan.objects.present().select_related("work", "published_by", "made_by").first()


def stages_to_come(commissions: Sequence[Commission]) -> list[tuple[str, str]]:
    """The open stages as a plan marks them, and in words."""
    rows = open_stages(commissions).prefetch_related(None).select_related("section", "commission")
    return [(f"s{row.pk}", f"{row} ({row.commission.title})") for row in rows]


@dataclass(frozen=True, slots=True)
class Changes:
    """What happened since a plan was worked out: entries of hours, moves of stages, and commissions to be made."""

    hours: int
    moves: int
    accepted: tuple[Commission, ...]


def changes_since(plan: Plan) -> Changes:
    """What a plan does not know of, in three queries."""
    held = [int(each["id"]) for each in plan.result["commissions"]]
    to_make = Commission.objects.filter(
        state=CommissionState.ACCEPTED, stages__in=Stage.objects.exclude(state=StageState.PASSED)
    )
    return Changes(
        accepted=tuple(to_make.exclude(pk__in=held).distinct()),
        hours=HourEntry.objects.filter(booked_at__gt=plan.made_at).count(),
        moves=StageMove.objects.filter(at__gt=plan.made_at).count(),
    )


def casts_to_come(commissions: Sequence[Commission], mould_pieces: int = 1) -> list[tuple[str, str, str]]:
    """Sections of which several casts are to be taken: the commission's key, the section, and both in words.

    ``mould_pieces`` is of how many pieces their moulds are at least.
    """
    found = Stage.objects.filter(
        commission__in=commissions, key=CAST, section__pulls__gt=1, section__pieces__gte=mould_pieces
    )
    rows = found.exclude(state=StageState.PASSED).select_related("section", "commission")
    return [
        (str(row.commission_id), row.section.name, f"{row.section.name}, {row.commission.title}")
        for row in rows.order_by("commission__number", "section__position")
        if row.section is not None
    ]


def expected_on(commission: Commission) -> datetime.date | None:
    """The day on which the plan in force has a commission done, for the studio's own pages and feeds."""
    return expected_days().get(commission.pk)


def expected_days() -> dict[int, datetime.date]:
    """That day of every commission in the plan in force, in one query."""
    plan = Plan.objects.published().only("result").first()
    if plan is None:
        return {}
    return {int(each["id"]): datetime.date.fromisoformat(each["finish"]) for each in plan.result["commissions"]}


def stage_days() -> dict[int, datetime.date]:
    """The day on which the plan in force begins each stage or goes on with it, in one query."""
    plan = Plan.objects.published().only("result").first()
    found: dict[int, datetime.date] = {}
    for row in plan.result["rows"] if plan else ():
        day, mark = datetime.date.fromisoformat(row["start"][:10]), row["stage"]
        # An enquiry's stages have no row yet, nor has one more mould.
        if mark[:1] == "s" and mark[1:].isdecimal():
            found[int(mark[1:])] = min(day, found.get(int(mark[1:]), day))
    return found


def local(moment: datetime.datetime) -> datetime.datetime:
    """A moment by the workshop's clock, without a zone."""
    return timezone.localtime(moment).replace(tzinfo=None)
