"""The sheets that are printed of a quote: what goes to the commissioner, and the take-off inside."""

import hashlib
import re
from collections.abc import Iterable
from datetime import date
from typing import Any, Literal

from jobs.documents import quote_document, take_off_document
from jobs.figures import sheet
from jobs.figures.frozen import thawed_take_off
from jobs.figures.price import Payment, Price
from jobs.figures.scope import SectionScope, scope_of
from jobs.figures.sheet import QuoteSheet, SheetHead, points
from jobs.models import Commission, Quote, Variation
from jobs.pictures.outlines import svg_of
from jobs.services.drafts import TEXTS, Drafted
from jobs.services.pricing import Priced, Working
from materials.models import PaintSystem
from studio.accounts.models import User
from studio.office.models import House
from studio.office.queries import house

UNSAFE_IN_A_NAME = re.compile(r'[\x00-\x1f\x7f<>:"/\\|?*]+')


def quote_sheet(seen: Drafted, working: Working, priced: Priced, *, by: User) -> QuoteSheet:
    """A draft as its document prints it."""
    commission, draft, row = seen.commission, seen.draft, working.house
    return QuoteSheet(
        head=sheet_head(commission, row, revision=str(draft.version_number), on=working.on, drawn_by=by.shown_name),
        commissioner=commissioner_of(commission),
        sections=scopes_of(working),
        price=printed_price(priced.price, priced.payments, currency=working.currency, tax_name=row.tax_name),
        valid_until=draft.last_day(working.on),
        mould_owner=row.name,
        place=commission.place,
        description=commission.description,
        priced_from=commission.model_revision,
        colours=commission.colour,
        drawing_svg=svg_of(seen.sections, title=commission.title, uid="work", views=("front", "side"), units=row.units),
        programme_weeks=draft.programme_weeks or working.programme.weeks,
        programme_basis=_basis(working, row),
        **{name: points(getattr(draft, name)) for name in TEXTS},
    )


def printed_quote(seen: Drafted, working: Working, priced: Priced, *, by: User) -> bytes:
    """The document that goes to the commissioner."""
    return quote_document(quote_sheet(seen, working, priced, by=by))


def printed_take_off(quote: Quote) -> bytes:
    """The internal take-off of an issued version, from what was kept of it."""
    names = {key: item["name"] for key, item in quote.price_book["items"].items()}
    lines = tuple(
        sheet.CostLine(line.label, line.quantity, line.unit, line.note, line.amount_minor) for line in quote.lines.all()
    )
    issued_by = quote.issued_by.shown_name if quote.issued_by else ""
    on = date.fromisoformat(quote.price_book["on"])
    head = sheet_head(quote.commission, house(), revision=str(quote.version_number), on=on, drawn_by=issued_by)
    costs = sheet.Costs(quote.currency, lines)
    return take_off_document(head, thawed_take_off(quote.take_off), names=names, priced=costs)


def safe_name(text: str) -> str:
    """Text as part of a file's name on any machine."""
    return " ".join(UNSAFE_IN_A_NAME.sub(" ", text).split()).strip(". ")[:80].strip(". ")


def file_name(quote: Quote, ending: str) -> str:
    """A name for a file, "26-014-2 The Long Pear.pdf"."""
    title = safe_name(quote.commission.title)
    return f"{quote.commission.number}-{quote.version_number} {title}".strip() + ending


def variation_file_name(variation: Variation) -> str:
    """A name for its document, "26-014-V1 The base in gallery gloss.pdf"."""
    return f"{variation.commission.number}-V{variation.serial} {safe_name(variation.title)}".strip() + ".pdf"


def seal(seen: Drafted, working: Working) -> str:
    """A mark of a draft and what it came to: what a person agreed to issue."""
    price = working.priced.price if working.priced else None
    state: list[Any] = [seen.stamp, working.on.isoformat(), working.currency]
    state += [price.net_minor, price.gross_minor] if price else []
    return hashlib.sha256(repr(state).encode()).hexdigest()


def commissioner_of(commission: Commission) -> sheet.Commissioner:
    """Who a document is addressed to."""
    return sheet.Commissioner(commission.commissioner, commission.contact, commission.address, commission.email)


def sheet_head(commission: Commission, row: House, *, revision: str, on: date, drawn_by: str) -> SheetHead:
    """What the title block of a commission's sheet says."""
    units: Literal["metric", "us"] = "us" if row.units == "us" else "metric"
    return SheetHead(
        workshop=sheet.Workshop(row.name, row.address, row.email, row.phone, row.registration),
        number=commission.number,
        revision=revision,
        title=commission.title,
        date=on,
        drawn_by=drawn_by,
        units=units,
    )


def scopes_of(working: Working) -> tuple[SectionScope, ...]:
    """What a commissioner is told of each section that was worked out."""
    descriptions = dict(PaintSystem.objects.values_list("name", "description"))

    def paint(chosen: str, grade: str) -> str:
        name = chosen or working.figures.system_by_grade.get(grade, "")
        return descriptions.get(name) or name

    return tuple(
        scope_of(spec, figures, paint_system=paint(kept.get("finish", {}).get("system", ""), spec.grade))
        for kept, spec, figures in zip(
            working.spec["sections"], working.job.sections, working.take_off.sections, strict=True
        )
    )


def printed_price(price: Price, payments: Iterable[Payment], *, currency: str, tax_name: str) -> sheet.Price:
    """A price as documents print it."""
    return sheet.Price(
        currency=currency,
        tax_name=tax_name,
        parts=tuple(sheet.PricePart(p.label, p.net_minor, p.tax_category, p.tax_rate) for p in price.parts),
        taxes=tuple(sheet.TaxLine(t.category, t.rate, t.net_minor, t.tax_minor) for t in price.taxes),
        payments=tuple(sheet.Payment(p.label, p.share, p.amount_minor) for p in payments),
        net_minor=price.net_minor,
        tax_minor=price.tax_minor,
        gross_minor=price.gross_minor,
    )


def _basis(working: Working, row: House) -> tuple[str, ...]:
    people = "One person" if row.bench_crew == 1 else f"{row.bench_crew} people"
    days = len(row.working_days)
    basis = [f"{people} on the work, {days} day{'' if days == 1 else 's'} a week"]
    if working.programme.longest:
        held = round(working.programme.hold_days)
        basis.append(f"{held} days of curing and drying for {working.programme.longest}, which waits longest")
    return tuple(basis)
