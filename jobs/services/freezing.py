"""What an issued version keeps of its working, as rows and plain values."""

from collections.abc import Iterable
from dataclasses import asdict
from textwrap import shorten
from typing import Any

from jobs.figures.frozen import frozen_take_off
from jobs.figures.quote import BuildUpLine
from jobs.models import Quote, QuoteLine, QuotePart, QuotePayment
from jobs.models.issued import Issued
from jobs.services.drafts import Beside, Drafted
from jobs.services.pricing import BENCH_HOUR, METHOD, OVERHEAD_HOUR, Priced, Working
from studio.money import format_minor

LONGEST_NOTE = QuoteLine._meta.get_field("note").max_length or 0


def keep_rows(quote: Quote, priced: Priced) -> None:
    """Write the lines, parts and payments of a version that is about to be issued."""
    QuoteLine.objects.bulk_create(
        QuoteLine(
            quote=quote,
            position=position,
            kind=line.kind,
            key=line.key,
            label=line.label,
            quantity=line.quantity,
            unit=line.unit,
            note=shorten(line.note, LONGEST_NOTE, placeholder=" …"),
            amount_minor=line.amount_minor,
        )
        for position, line in enumerate(priced.built.lines, start=1)
    )
    QuotePart.objects.bulk_create(
        QuotePart(
            quote=quote,
            position=position,
            label=part.label,
            net_minor=part.net_minor,
            tax_category=part.tax_category,
            tax_rate=part.tax_rate,
        )
        for position, part in enumerate(priced.price.parts, start=1)
    )
    QuotePayment.objects.bulk_create(
        QuotePayment(
            quote=quote, position=position, label=payment.label, share=payment.share, amount_minor=payment.amount_minor
        )
        for position, payment in enumerate(priced.payments, start=1)
    )


def went_out(issued: Issued) -> dict[str, Any]:
    """What the record says of a document that went out."""
    return {
        "before tax": format_minor(issued.net_minor or 0, issued.currency),
        "with tax": format_minor(issued.gross_minor or 0, issued.currency),
        "valid until": issued.valid_until,
        "sha256": issued.pdf_sha256,
    }


def kept_values(drafted: Drafted, working: Working, priced: Priced) -> dict[str, Any]:
    """The fields of the version that hold what it was worked from and what it came to."""
    return {
        "currency": working.currency,
        "net_minor": priced.price.net_minor,
        "tax_minor": priced.price.tax_minor,
        "gross_minor": priced.price.gross_minor,
        "cost_minor": priced.built.cost_minor,
        "p80_net_minor": priced.p80_net_minor,
        "programme_weeks": drafted.draft.programme_weeks or working.programme.weeks,
        "spec": working.spec,
        "take_off": frozen_take_off(working.take_off),
        "price_book": prices_kept(working, drafted.extras),
        "figures": figures_kept(working, priced),
    }


def prices_kept(working: Working, extras: Iterable[Beside]) -> dict[str, Any]:
    """The prices of the day for what is used."""
    used = {line.material for line in working.take_off.lines} | {extra.item.key for extra in extras}
    return {
        "on": working.on.isoformat(),
        "items": {
            key: {
                "name": item.name,
                "kind": item.kind,
                "unit": item.unit,
                "packs": [
                    {"label": pack.label, "quantity": f"{pack.quantity:f}", "price_minor": pack.price_minor}
                    for pack in item.packs
                ],
            }
            for key, item in sorted(working.book.items.items())
            if key in used | {BENCH_HOUR, OVERHEAD_HOUR}
        },
    }


def figures_kept(working: Working, priced: Priced) -> dict[str, Any]:
    """The coefficients, norms and rates of the day, and what the hours and the programme came to."""
    return {
        "coefficients": {key: asdict(figure) for key, figure in sorted(working.figures.coefficients.items())},
        "norms": [asdict(norm) for norm in working.figures.norms],
        "hour_minor": f"{priced.built.hour_minor:.6f}",
        "hours": {"likely": working.hours.likely, "p50": working.hours.p50, "p80": working.hours.p80},
        "p50_net_minor": priced.p50_net_minor,
        "method": METHOD,
        "programme": asdict(working.programme),
    }


def lines_of(quote: Quote) -> tuple[BuildUpLine, ...]:
    """The build-up of an issued version as values."""
    return tuple(
        BuildUpLine(line.kind, line.key, line.label, line.amount_minor, line.quantity, line.unit, line.note)
        for line in quote.lines.all()
    )
