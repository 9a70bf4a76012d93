"""Raising a variation, working on its draft, freezing it, and recording how it ended."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from jobs.figures.frozen import frozen_take_off
from jobs.figures.variation_sheet import Said, kept_said
from jobs.figures.varied import Change, changes_of
from jobs.models import (
    Commission,
    CommissionState,
    Variation,
    VariationAnswer,
    VariationDecision,
    VariationItem,
    VariationLine,
    VariationPart,
)
from jobs.queries.variations import contract_of
from jobs.services.drafts import Refused, held
from jobs.services.freezing import figures_kept, prices_kept, went_out
from jobs.services.variation_effects import take_effect
from jobs.services.variation_pricing import Varied, asked_of
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict, claim

WORDS = ("origin", "asked_by", "snag", "sign_off", "title", "scope", "days", "valid_days")


class AlreadyAnswered(Exception):
    """The variation was answered before; what was said stands."""


@transaction.atomic
def raise_variation(*, by: User, commission: Commission, words: Mapping[str, Any], at: datetime.datetime) -> Variation:
    """Begin a variation under the next number of its commission."""
    commission = held(commission)
    quote = contract_of(commission)
    if quote is None or commission.state != CommissionState.ACCEPTED:
        raise Refused("Only what is agreed and in hand can be varied; change the draft of the quote instead.")
    same = commission.variations.filter(title=words["title"], issued_at__isnull=True, answer__isnull=True).first()
    if same is not None:
        raise Refused(f"Draft {same} has that title already; work on it, or give this one another title.")
    last = commission.variations.aggregate(Max("serial"))["serial__max"] or 0
    variation = Variation.objects.create(
        commission=commission,
        quote=quote,
        serial=last + 1,
        raised_at=at,
        raised_by=by,
        **{name: words[name] for name in WORDS},
    )
    record(
        actor=by,
        subject=commission.subject,
        act=f"Variation {variation} raised: {variation.title}",
        after={"from": variation.get_origin_display(), "who asked": variation.asked_by},
    )
    return variation


@transaction.atomic
def change_words(*, by: User, variation: Variation, version: int, words: Mapping[str, Any]) -> None:
    """Change what a draft says, its days and how long it will be valid."""
    draft = _draft(variation, version)
    before = {name: getattr(draft, name) for name in WORDS}
    for name in WORDS:
        setattr(draft, name, words[name])
    _save(draft, by, "what it says", before, {name: words[name] for name in WORDS})


@transaction.atomic
def change_sections(*, by: User, variation: Variation, version: int, changes: Sequence[Change]) -> None:
    """Say what changes of the sections; what is done again is as usual for it until it is chosen anew."""
    draft = _draft(variation, version)
    before = {"sections": _in_words(changes_of(draft.changes))}
    draft.changes, draft.reopens = [asdict(change) for change in changes], None
    _save(draft, by, "sections", before, {"sections": _in_words(changes)})


@transaction.atomic
def change_items(*, by: User, variation: Variation, version: int, items: Sequence[Mapping[str, Any]]) -> None:
    """Say what is added or left out that the take-off does not know."""
    draft = _draft(variation, version)
    before = {"in words": ", ".join(item.label for item in draft.items.all())}
    draft.items.all().delete()
    VariationItem.objects.bulk_create(
        VariationItem(variation=draft, position=position, **item) for position, item in enumerate(items, start=1)
    )
    _save(draft, by, "in words", before, {"in words": ", ".join(item["label"] for item in items)})


@transaction.atomic
def choose_reopened(*, by: User, variation: Variation, version: int, codes: Sequence[str]) -> None:
    """Say which stages are done again once it is accepted."""
    draft = _draft(variation, version)
    before = {"stages": "as usual" if draft.reopens is None else ", ".join(draft.reopens)}
    draft.reopens = list(codes)
    _save(draft, by, "stages done again", before, {"stages": ", ".join(codes)})


@transaction.atomic
def issue_variation(*, by: User, varied: Varied, said: Said, pdf: bytes, at: datetime.datetime) -> Variation:
    """Freeze a draft as it was worked out and printed, unless it or what is agreed was changed meanwhile.

    ``said`` is what the document says besides the price.
    """
    commission = held(varied.asked.variation.commission)
    variation = Variation.objects.select_related("quote").get(pk=varied.asked.variation.pk)
    variation.commission = commission
    if variation.issued_at is not None:
        return variation
    if variation.answered is not None or commission.state != CommissionState.ACCEPTED:
        raise Refused(f"Variation {variation} cannot go out: it is withdrawn, or the commission is not in hand.")
    if asked_of(variation).stamp != varied.asked.stamp:
        raise Conflict
    _keep_rows(variation, varied)
    price, now = varied.price, varied.now
    if now.priced is None:
        raise Refused("A price is wanting; complete the price book, then issue the variation.")
    variation.go_out(by=by, at=at, on=now.on, pdf=pdf)
    variation.currency = varied.currency
    variation.net_minor, variation.tax_minor, variation.gross_minor = (
        price.net_minor,
        price.tax_minor,
        price.gross_minor,
    )
    variation.cost_minor, variation.contingency_minor = varied.cost_minor, varied.contingency_minor
    variation.tax_category, variation.tax_rate = price.taxes[0].category, price.taxes[0].rate
    variation.days = varied.days
    variation.reopens = [stage.code for stage in varied.reopened]
    variation.touches = [stage.code for stage in varied.touched]
    variation.take_off = frozen_take_off(now.take_off)
    variation.figures = {
        "price_book": prices_kept(now, [*varied.asked.extras, *varied.asked.items]),
        "spec": now.spec,
        "said": kept_said(said),
        "budget": [asdict(place) for place in varied.budget],
        **figures_kept(now, now.priced),
    }
    variation.save()
    record(
        actor=by,
        subject=commission.subject,
        act=f"Variation {variation} issued",
        after=went_out(variation) | {"days": varied.days},
        has_money=True,
    )
    return variation


@transaction.atomic
def answer_variation(
    *,
    by: User | None,
    variation: Variation,
    decision: VariationDecision,
    said_by: str,
    role: str,
    note: str,
    pdf_sha256: str,
    at: datetime.datetime,
) -> VariationAnswer:
    """Record how a variation ended; without ``by`` it came through a link. An accepted one takes effect at once.

    ``pdf_sha256`` is that of the document which was read; a draft that is withdrawn has none.
    """
    commission = held(variation.commission)
    row = Variation.objects.light().get(pk=variation.pk)
    row.commission = commission
    if row.answered is not None:
        raise AlreadyAnswered
    if pdf_sha256 != row.pdf_sha256:
        raise Conflict
    if decision == VariationDecision.ACCEPTED:
        _acceptable(row, at)
    elif decision == VariationDecision.DECLINED and row.issued_at is None:
        raise Refused(f"Variation {row} has not gone out yet; withdraw it instead.")
    answer = VariationAnswer.objects.create(
        variation=row,
        decision=decision,
        said_by=said_by,
        role=role,
        note=note,
        pdf_sha256=pdf_sha256,
        at=at,
        recorded_by=by,
    )
    record(
        actor=by,
        subject=commission.subject,
        act=f"Variation {row} {decision}",
        after={"who said so": said_by, "role": role, "note": note, "through": "a link" if by is None else "the office"},
        has_money=True,
    )
    if decision == VariationDecision.ACCEPTED:
        take_effect(by=by, variation=row, at=at)
    return answer


def _acceptable(variation: Variation, at: datetime.datetime) -> None:
    if variation.issued_at is None or variation.valid_until is None:
        raise Refused(f"Variation {variation} has not gone out yet, so that nobody can have accepted it.")
    if variation.commission.state != CommissionState.ACCEPTED:
        raise Refused(f"{variation.commission} is not in hand any more, so that nothing of it is varied.")
    if variation.has_lapsed(timezone.localdate(at)):
        raise Refused(
            f"This variation lapsed on {variation.valid_until:%-d %B %Y}; a new one is issued at today's prices."
        )
    changes = changes_of(variation.changes)
    for other in variation.commission.variations.accepted().filter(answer__at__gt=variation.issued_at):
        if _meet(changes, changes_of(other.changes)):
            raise Refused(
                f"Variation {other} was agreed since and changes the same section; a new one is issued on top of it."
            )


def _meet(some: Sequence[Change], others: Sequence[Change]) -> bool:
    """Whether two sets of changes are to the same section."""
    return any(one.names(other.section) or other.names(one.section) for one in some for other in others)


def _draft(variation: Variation, version: int) -> Variation:
    held(variation.commission)
    row = Variation.objects.select_related("commission", "answer").get(pk=variation.pk)
    if row.issued_at is not None or row.answered is not None:
        raise Refused(f"Variation {row} is not a draft any more; raise another to change what it says.")
    claim(row, version)
    return row


def _save(draft: Variation, by: User, what: str, before: Mapping[str, Any], after: Mapping[str, Any]) -> None:
    draft.save()
    record(
        actor=by,
        subject=draft.commission.subject,
        act=f"Variation {draft} changed: {what}",
        before=before,
        after=after,
    )


def _keep_rows(variation: Variation, varied: Varied) -> None:
    """Write the lines and parts of a variation that is about to be issued."""
    VariationLine.objects.bulk_create(
        VariationLine(
            variation=variation,
            position=position,
            kind=row.kind,
            key=row.key,
            label=row.label,
            unit=row.unit,
            was_quantity=row.was_quantity,
            is_quantity=row.is_quantity,
            was_minor=row.was_minor,
            is_minor=row.is_minor,
        )
        for position, row in enumerate(varied.comparison.rows, start=1)
    )
    VariationPart.objects.bulk_create(
        VariationPart(variation=variation, position=position, label=part.label, net_minor=part.net_minor)
        for position, part in enumerate(varied.price.parts, start=1)
    )


def _in_words(changes: Sequence[Change]) -> str:
    """For the record; a whole section's figures are no reading there."""
    return ", ".join(
        f"{change.section or 'all'}: {change.what}"
        + (f" {change.value}" if isinstance(change.value, str | int) and change.value != "" else "")
        for change in changes
    )
