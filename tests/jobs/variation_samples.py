"""Variations as tests need them, made by the services that people use."""

import datetime
from collections.abc import Sequence
from typing import Any

from django.utils import timezone

from jobs.figures.varied import changes_of
from jobs.models import Commission, Variation, VariationDecision
from jobs.services.variation_pricing import Varied, asked_of, work_out_variation
from jobs.services.variations import (
    answer_variation,
    change_items,
    change_sections,
    issue_variation,
    raise_variation,
)
from jobs.variations.sheets import variation_sheet
from materials.models import Item
from studio.accounts.models import User

GRADE_A = {"section": "Base", "what": "grade", "value": "A"}


def make_variation(
    commission: Commission,
    by: User,
    changes: Sequence[dict[str, Any]] = (GRADE_A,),
    items: Sequence[dict[str, Any]] = (),
    raised_at: datetime.datetime | None = None,
    **words: Any,
) -> Variation:
    """A draft that makes the Base gallery gloss, unless something else is given."""
    given = {
        "origin": "request",
        "asked_by": "R. Osei, on the telephone",
        "snag": None,
        "sign_off": None,
        "title": "The base in gallery gloss",
        "scope": "The base is finished to grade A in place of grade B.",
        "days": None,
        "valid_days": 14,
    }
    variation = raise_variation(by=by, commission=commission, words={**given, **words}, at=raised_at or timezone.now())
    change_sections(by=by, variation=variation, version=0, changes=changes_of(changes))
    change_items(by=by, variation=variation, version=1, items=items)
    return Variation.objects.get(pk=variation.pk)


def in_words(key: str = "haulage", label: str = "A second delivery", **values: Any) -> dict[str, Any]:
    """Work or goods that the take-off does not know."""
    given = {"label": label, "is_omission": False, "quantity": 1, "stage": None}
    return {**given, "item": Item.objects.get(key=key), **values}


def worked_out(variation: Variation, on: datetime.date | None = None) -> Varied:
    return work_out_variation(asked_of(variation), on or timezone.localdate())


def make_issued_variation(commission: Commission, by: User, **values: Any) -> Variation:
    """One that went out; its document is a stand-in, for printing takes time."""
    at = values.pop("at", None) or timezone.now()
    variation = make_variation(commission, by, **values)
    varied = worked_out(variation, timezone.localdate(at))
    said = variation_sheet(varied, by=by).said
    return issue_variation(by=by, varied=varied, said=said, pdf=b"%PDF-1.7 stand-in", at=at)


def accept_variation(variation: Variation, by: User | None, **values: Any) -> None:
    given = {"decision": VariationDecision.ACCEPTED, "said_by": "R. Osei", "role": "Gardener", "note": ""}
    given |= {"at": timezone.now(), "pdf_sha256": variation.pdf_sha256}
    answer_variation(by=by, variation=variation, **{**given, **values})
