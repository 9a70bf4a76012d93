"""A variation as its document prints it, and as pages show it once it went out."""

import datetime

from jobs.documents import scope_lines, variation_document
from jobs.figures.scope import SectionScope
from jobs.figures.sheet import points
from jobs.figures.variation_sheet import (
    ADDED,
    CHANGED,
    LEFT_OUT,
    Agreed,
    ChangedSection,
    Said,
    VariationSheet,
    scope_rows,
)
from jobs.models import Origin, Variation
from jobs.quotes.sheets import commissioner_of, printed_price, scopes_of, sheet_head
from jobs.services.variation_pricing import Varied
from materials.units import System
from studio.accounts.models import User


def variation_sheet(varied: Varied, *, by: User) -> VariationSheet:
    """A draft as its document prints it."""
    variation, row = varied.asked.variation, varied.now.house
    commission = variation.commission
    head = sheet_head(commission, row, revision=variation.revision, on=varied.now.on, drawn_by=by.shown_name)
    return VariationSheet(
        head=head,
        commissioner=commissioner_of(commission),
        quote=varied.asked.quote.number,
        title=variation.title,
        raised_from=raised_from(variation),
        scope=points(variation.scope),
        said=Said(
            sections=_changed(scopes_of(varied.was), scopes_of(varied.now), head.units),
            again=tuple(str(stage) for stage in varied.reopened),
            anew=tuple(f"{stage.get_sign_off_display()}: {stage}" for stage in varied.approved_anew),
            before=_agreed(varied),
        ),
        price=printed_price(varied.price, (), currency=varied.currency, tax_name=row.tax_name),
        days=varied.days,
        valid_until=variation.last_day(varied.now.on),
    )


def printed_variation(found: VariationSheet) -> bytes:
    """The document that goes to the commissioner."""
    return variation_document(found)


def raised_from(variation: Variation) -> str:
    """What it was raised from, as a sentence without its full stop; "" where nobody wrote who asked.

    It goes out, so that a snag's own words, which are the workshop's, are not in it.
    """
    if variation.origin == Origin.SNAG:
        return "Raised from a fault that was found"
    if variation.origin == Origin.SIGN_OFF and variation.sign_off is not None:
        given = variation.sign_off.given
        return f"Raised from {variation.sign_off}" + (f": {given.words}" if given and given.words else "")
    return f"Asked for by {variation.asked_by}" if variation.asked_by else ""


def _changed(was: tuple[SectionScope, ...], now: tuple[SectionScope, ...], units: System) -> tuple[ChangedSection, ...]:
    before, after = ({scope.name: _lines(scope, units) for scope in scopes} for scopes in (was, now))
    found = []
    for name in [*after, *(name for name in before if name not in after)]:
        how = ADDED if name not in before else CHANGED if name in after else LEFT_OUT
        rows = scope_rows(before.get(name, ()), after.get(name, ()))
        if rows:
            found.append(ChangedSection(name, how, rows))
    return tuple(found)


def _lines(scope: SectionScope, units: System) -> list[tuple[str, str]]:
    return [(line.topic, line.sentence) for line in scope_lines(scope, units=units)]


def _agreed(varied: Varied) -> Agreed:
    accepted = varied.asked.accepted
    gross = (varied.asked.quote.gross_minor or 0) + sum(each.gross_minor or 0 for each in accepted)
    due_by: datetime.date | None = varied.asked.variation.commission.due_by
    return Agreed(gross, due_by)
