"""What changed of Six Acorns after its quote was accepted, and what was paid so far. Invented."""

import datetime
import uuid
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.utils import timezone

from jobs.figures.varied import Change
from jobs.models import Commission, Happened, Origin, Variation, VariationDecision
from jobs.services.statements import Mark, keep_back, mark_payment
from jobs.services.variation_pricing import asked_of, work_out_variation
from jobs.services.variations import (
    answer_variation,
    change_items,
    change_sections,
    issue_variation,
    raise_variation,
)
from jobs.statements import statement_of
from jobs.variations.sheets import printed_variation, variation_sheet
from materials.models import Item
from studio.accounts.models import User
from studio.management.demo.days import moment

CLERK, ROLE = "Ada Penrose", "Clerk to the parish"
FLUSH = {
    "title": "Fixing plates that lie flush with the pads",
    "asked_by": f"{CLERK}, by letter after the meeting of the play group",
    "scope": "The fixing plates are let into the pads, so that nothing stands above them.\nThe bolts get covers.",
    "days": 4,
}
GLOSS = {
    "title": "The nuts in gallery gloss",
    "asked_by": f"{CLERK}, on the telephone",
    "scope": "The six nuts are finished to gallery gloss, to be looked at from close by.\nThe cups stay as agreed.",
    "days": None,
}
RIM = {
    "title": "A stiffer rim for the cups",
    "scope": "The rim of each cup gets two more layers inside, so that it keeps its round when children sit on it.",
}


def agree_changes(acorns: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """One that was accepted while the steel was made, one that waits for its answer, and one that is being written."""
    office, owner = people["tam"], people["maud"]
    metalwork = acorns.stages.get(section__name="Nut", key="metalwork")
    flush = _begun(acorns, office, FLUSH, moment(on, 38, 11))
    hours = Item.objects.get(key="bench_hour")
    plates = {"label": "Plates let in and covers made, twelve of each", "is_omission": False, "item": hours}
    change_items(by=office, variation=flush, version=0, items=[{**plates, "quantity": Decimal(9), "stage": metalwork}])
    issued = _issued(flush, owner, moment(on, 37, 11))
    answer_variation(
        by=None,
        variation=issued,
        decision=VariationDecision.ACCEPTED,
        said_by=CLERK,
        role=ROLE,
        note="Minute 9 of the parish meeting.",
        pdf_sha256=issued.pdf_sha256,
        at=moment(on, 35, 11),
    )
    gloss = _begun(acorns, office, GLOSS, moment(on, 5, 11))
    change_sections(by=office, variation=gloss, version=0, changes=[Change("Nut", "grade", "A")])
    _issued(gloss, owner, moment(on, 3, 11))
    rim = {"origin": Origin.SNAG, "snag": acorns.snags.get(what__startswith="The rim"), "asked_by": "", "days": 0}
    stiffer = _begun(acorns, office, {**RIM, **rim}, moment(on, 1, 11))
    layers = {"label": "Two layers more inside the rims, six cups", "is_omission": False, "item": hours}
    cast = acorns.stages.get(section__name="Cup", key="cast")
    change_items(by=office, variation=stiffer, version=0, items=[{**layers, "quantity": Decimal(6), "stage": cast}])


def pay_so_far(acorns: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """Three per cent kept back; the deposit paid, and the second payment asked for."""
    office = people["tam"]
    keep_back(by=office, commission=acorns, version=0, share=Decimal("0.03"))
    for number, (payment, happened, days, note) in enumerate(
        (
            ("payment_1", Happened.ASKED, 55, "Invoice 118"),
            ("payment_1", Happened.PAID, 41, "By transfer"),
            ("payment_2", Happened.ASKED, 21, "Invoice 124"),
        )
    ):
        statement = statement_of(acorns)
        if statement is None:
            raise RuntimeError(f"The demo has no accepted quote of {acorns}.")
        amount = next(each.due.payable_minor for each in statement.accounts if each.due.key == payment)
        mark = Mark(payment, happened, on - datetime.timedelta(days=days), amount, note)
        key = uuid.uuid5(uuid.NAMESPACE_OID, f"{acorns.number} {number}")
        mark_payment(by=office, commission=acorns, statement=statement, mark=mark, key=key)


def _begun(acorns: Commission, by: User, words: Mapping[str, Any], at: datetime.datetime) -> Variation:
    given = {"origin": Origin.REQUEST, "snag": None, "sign_off": None, "valid_days": 21, **words}
    return raise_variation(by=by, commission=acorns, words=given, at=at)


def _issued(variation: Variation, by: User, at: datetime.datetime) -> Variation:
    row = Variation.objects.light().get(pk=variation.pk)
    varied = work_out_variation(asked_of(row), timezone.localdate(at))
    sheet = variation_sheet(varied, by=by)
    return issue_variation(by=by, varied=varied, said=sheet.said, pdf=printed_variation(sheet), at=at)
