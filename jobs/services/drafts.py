"""The draft of a quote: where it begins, and how its terms are changed."""

import hashlib
import json
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.figures.profit import Margin
from jobs.models import Commission, Extra, Quote, Section, VariationItem
from materials.models import Figure
from studio.accounts.models import User
from studio.audit import record
from studio.locking import Conflict
from studio.money import exact
from studio.office.models import ProfitKind
from studio.office.queries import house

TERMS = (
    "profit_kind", "profit_rate", "contingency", "pack_mode", "payment_stages", "valid_days", "programme_weeks",
    "included", "assumed", "excluded", "approvals", "care", "terms",
)  # fmt: skip
TEXTS = ("included", "assumed", "excluded", "approvals", "care", "terms")
FOUR_PLACES = Decimal("0.0001")


Beside = Extra | VariationItem
"""What no section's take-off gives: an extra of the quote, or what a variation adds in words."""


class Refused(ValueError):
    """Something that may not be done now; the sentence says why and what to do instead."""


@dataclass(frozen=True, slots=True)
class Drafted:
    """All that a price is worked out from, as read in one go."""

    commission: Commission
    sections: tuple[Section, ...]
    extras: tuple[Beside, ...]
    draft: Quote

    @property
    def stamp(self) -> str:
        """A mark that differs as soon as anything of it has been changed."""
        state = [
            [self.commission.version, self.commission.tax_category_id],
            [self.draft.pk, self.draft.version_number, self.draft.version],
            [[section.pk, section.version, section.position] for section in self.sections],
            [[extra.pk, extra.item_id, extra.label, f"{extra.quantity:.2f}"] for extra in self.extras],
        ]
        return hashlib.sha256(json.dumps(state).encode()).hexdigest()


def drafted(commission: Commission) -> Drafted:
    """The draft as it stands; nothing is written, so the first draft has no row until something of it is kept."""
    sections = commission.sections.select_related("mould_lay_up", "cast_lay_up", "paint_system")
    return Drafted(
        commission=commission,
        sections=tuple(sections),
        extras=tuple(commission.extras.select_related("item")),
        draft=_draft(commission),
    )


def _draft(commission: Commission) -> Quote:
    found = commission.quotes.draft().first()
    if found is None:
        last = commission.quotes.issued().defer(None).defer("spec", "take_off", "price_book", "pdf").first()
        terms = _terms_of(last) if last else _terms_of_the_house()
        found = Quote(commission=commission, version_number=last.version_number + 1 if last else 1, **terms)
    found.commission = commission
    return found


def _terms_of(last: Quote) -> dict[str, Any]:
    """What the version after another begins with; weeks that were worked out and not typed are worked out again."""
    terms = {name: getattr(last, name) for name in TERMS}
    if last.programme_weeks == last.figures["programme"]["weeks"]:
        terms["programme_weeks"] = None
    return terms


def _terms_of_the_house() -> dict[str, Any]:
    """What the studio's first version of any quote begins with."""
    row = house()
    figures = dict(Figure.objects.filter(key__in=("margin", "contingency")).values_list("key", "value"))
    margin = Margin(exact(figures["margin"]))
    rate = margin.rate if row.profit_kind == ProfitKind.MARGIN else margin.as_mark_up().rate
    return {
        "profit_kind": row.profit_kind,
        "profit_rate": rate.quantize(FOUR_PLACES),
        "contingency": exact(figures["contingency"]).quantize(FOUR_PLACES),
        "pack_mode": row.pack_mode,
        "payment_stages": row.payment_stages,
        "valid_days": row.quote_valid_days,
        **{name: getattr(row, name) for name in TEXTS},
    }


def held(commission: Commission) -> Commission:
    """The commission, held until the transaction ends, so that two people price it one after the other."""
    return Commission.objects.select_for_update(of=("self",)).select_related("tax_category").get(pk=commission.pk)


def open_to_change(commission: Commission) -> None:
    """Refuse once a version is accepted: from then on a change is a variation."""
    accepted = commission.quotes.filter(decision__decision="accepted").defer("pdf").first()
    if accepted is not None:
        raise Refused(f"Quote {accepted} is accepted; what changes after that is agreed as a variation.")


@transaction.atomic
def save_terms(*, by: User, commission: Commission, version: int, terms: dict[str, Any]) -> None:
    """Change the draft's terms, and the commission's ``tax_category`` where it is among them.

    ``version`` is that of the draft on which the form was opened.
    """
    commission = held(commission)
    open_to_change(commission)
    draft = _draft(commission)
    now = {**terms}
    category = now.pop("tax_category", commission.tax_category)
    if category == commission.tax_category and all(getattr(draft, name) == value for name, value in now.items()):
        # The same form sent twice has nothing left to change.
        return
    if draft.version != version:
        raise Conflict
    before = {name: getattr(draft, name) for name in now} | {"tax": str(commission.tax_category)}
    for name, value in now.items():
        setattr(draft, name, value)
    draft.version += 1
    draft.save()
    if category != commission.tax_category:
        commission.tax_category = category
        commission.save(update_fields=["tax_category"])
    record(
        actor=by,
        subject=commission.subject,
        act=f"Terms of draft {draft.version_number} changed",
        before=before,
        after=now | {"tax": str(category)},
        has_money=True,
    )
