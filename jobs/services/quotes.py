"""Issuing a version, and recording what the commissioner answered."""

import datetime

from django.db import transaction
from django.utils import timezone

from jobs.figures.budget import budget_rows
from jobs.figures.frozen import thawed_take_off
from jobs.models import BudgetLine, Commission, CommissionState, Decision, Quote, QuoteDecision
from jobs.services.drafts import Drafted, Refused, drafted, held, open_to_change
from jobs.services.freezing import keep_rows, kept_values, lines_of, went_out
from jobs.services.pricing import Working
from jobs.services.stage_making import make_stages
from materials.pricing import PricesMissing
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict


class AlreadyDone(Exception):
    """The same was done before; ``quote`` is the version it was done to."""

    def __init__(self, quote: Quote) -> None:
        self.quote = quote
        super().__init__(str(quote))


@transaction.atomic
def issue(*, by: User, seen: Drafted, working: Working, pdf: bytes, at: datetime.datetime) -> Quote:
    """Freeze a draft as it was worked out and printed, unless anything of it has been changed meanwhile."""
    priced = working.priced
    if priced is None:
        raise PricesMissing(working.missing)
    commission = held(seen.commission)
    wanted = seen.draft.version_number
    before = commission.quotes.issued().filter(version_number=wanted).first()
    if before is not None:
        raise AlreadyDone(before)
    open_to_change(commission)
    now = drafted(commission)
    if now.stamp != seen.stamp:
        raise Conflict
    quote = now.draft
    quote.save()
    keep_rows(quote, priced)
    for name, value in kept_values(seen, working, priced).items():
        setattr(quote, name, value)
    quote.go_out(by=by, at=at, on=working.on, pdf=pdf)
    quote.save()
    _move(commission, CommissionState.QUOTED)
    record(
        actor=by,
        subject=commission.subject,
        act=f"Quote {quote} issued",
        after=went_out(quote),
        has_money=True,
    )
    return quote


@transaction.atomic
def answer(*, by: User, quote: Quote, decision: Decision, said_by: str, note: str, on: datetime.date) -> QuoteDecision:
    """Record the commissioner's answer; an accepted version becomes the budget and gives the commission its stages."""
    commission = held(quote.commission)
    if QuoteDecision.objects.filter(quote=quote).exists():
        raise AlreadyDone(quote)
    newest = commission.quotes.issued().values_list("version_number", flat=True)[0]
    if decision == Decision.ACCEPTED:
        _acceptable(quote, newest, on)
        open_to_change(commission)
    found = QuoteDecision.objects.create(
        quote=quote, decision=decision, said_by=said_by, note=note, at=_moment(on), recorded_by=by
    )
    if decision == Decision.ACCEPTED:
        _make_budget(quote)
        make_stages(quote)
        _move(commission, CommissionState.ACCEPTED)
    elif quote.version_number == newest and commission.state == CommissionState.QUOTED:
        _move(commission, CommissionState.DECLINED)
    record(
        actor=by,
        subject=commission.subject,
        act=f"Quote {quote} {decision}",
        after={"who said so": said_by, "note": note},
        has_money=True,
    )
    return found


def _moment(on: datetime.date) -> datetime.datetime:
    """Now, for an answer of today; noon of a day before."""
    now = timezone.now()
    if on == timezone.localdate(now):
        return now
    return timezone.make_aware(datetime.datetime.combine(on, datetime.time(12)))


def _acceptable(quote: Quote, newest: int, on: datetime.date) -> None:
    if quote.version_number < newest:
        raise Refused(f"Version {newest} has gone out since; record the answer there, or issue this one's terms anew.")
    if quote.has_lapsed(on):
        raise Refused(f"This version lapsed on {quote.valid_until:%-d %B %Y}; issue a new version at today's prices.")


def _make_budget(quote: Quote) -> None:
    BudgetLine.objects.bulk_create(
        BudgetLine(
            quote=quote,
            section=row.section,
            stage=row.stage,
            minutes=row.minutes,
            labour_minor=row.labour_minor,
            material_minor=row.material_minor,
            sent_out_minor=row.sent_out_minor,
        )
        for row in budget_rows(thawed_take_off(quote.take_off), lines_of(quote))
    )


def _move(commission: Commission, state: CommissionState) -> None:
    commission.state = state
    commission.save(update_fields=["state"])
