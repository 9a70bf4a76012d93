"""Nothing that must stay in the house comes out by a link.

Values that nothing comes to by chance are planted wherever a cost, an hour, a
maker or a word for the house is kept; then all that links open is searched:
pages, parts of pages, documents, pictures and feeds.
"""

import datetime
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Clock, Commission, Decision, Extra, LinkKind, SentOutWork, Snag, Stage, StageMove, StageState
from jobs.services.photos import add_photo
from jobs.services.published import publish
from jobs.services.quotes import answer
from materials.models import Item, Price
from studio.accounts.models import Role, User
from studio.images import made_again
from studio.money import format_minor, to_decimal
from tests.factories import make_commission, make_person, make_section, price_everything
from tests.jobs.link_samples import give_link
from tests.jobs.sign_off_life import jpeg, sent, shown_photo
from tests.jobs.stage_life import anybody
from tests.jobs.standing_samples import book
from tests.jobs.variation_samples import make_issued_variation
from tests.studio.pdf_reading import text
from tests.web.pages import Page
from tests.web.whole_studio import issue

pytestmark = pytest.mark.django_db
WAGE, PACK, AGREED = 7_643_19, 98_761_43, 54_321_09
BOOKED, ALLOWED, LONG = 8_745, 9_135, 7_785
WORDS = (
    "Zephyrine",
    "PLANTED-SNAG",
    "PLANTED-REASON",
    "PLANTED-FIRM",
    "PLANTED-WORK",
    "PLANTED-UNSHOWN",
    "PLANTED-SAID",
)


@pytest.fixture
def commission(settings: Any, tmp_path: Path) -> Commission:
    """An accepted commission whose every inner field holds something that can be told apart."""
    settings.MEDIA_ROOT = tmp_path
    price_everything(PACK)
    Price.objects.filter(pack__item__key__in=("bench_hour", "overhead_hour")).update(amount_minor=WAGE)
    maker, office = make_person(Role.BENCH, shown_name="Zephyrine Quill"), make_person(Role.OFFICE)
    found = make_commission(place="At the gate", email="r.osei@garden.example")
    section = make_section(found)
    Extra.objects.create(commission=found, item=Item.objects.get(key="haulage"), label="Haulage", quantity=3)
    quote = issue(found, office)
    on = timezone.localdate()
    answer(by=office, quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="PLANTED-SAID", on=on)
    found.refresh_from_db()
    now = timezone.now()
    for stage in found.stages.all():
        book(stage, maker, BOOKED)
        StageMove.objects.create(stage=stage, by=maker, before="", after="reopened", reason="PLANTED-REASON")
        stage.steps.update(done_by=maker, done_at=now)
        stage.checks.update(seen_by=maker, seen_at=now)
    found.stages.update(allowed_minutes=ALLOWED)
    found.stages.filter(key="cast").update(hold_until=now + datetime.timedelta(days=3), hold_reason="cast cures")
    found.stages.filter(key="pattern").update(state=StageState.READY)
    Clock.objects.create(person=maker, stage=found.stages.get(key="mould", section=section), started_at=now)
    Snag.objects.create(commission=found, section=section, what="PLANTED-SNAG", minutes=LONG, found_by=maker)
    work = {"what": "PLANTED-WORK", "firm": "PLANTED-FIRM", "ordered_on": on, "out_on": on, "due_back": on}
    SentOutWork.objects.create(commission=found, agreed_minor=AGREED, charged_minor=AGREED, currency="GBP", **work)
    shown_photo(found, "The pattern from the left")
    kept = {"caption": "PLANTED-UNSHOWN", "pictures": made_again(jpeg("blue"))}
    add_photo(by=maker, commission=found, stage=None, **kept)
    found.photos.update(by=maker)
    publish(by=office, commission=found, follows=0, promised_on=on, expected_on=on, note="It goes on well.", at=now)
    return found


def planted(commission: Commission) -> set[str]:
    """Each value as a page, a document or a file might write it."""
    quote = commission.quotes.get()
    shown = {part.net_minor for part in quote.parts.all()} | {each.amount_minor for each in quote.payments.all()}
    shown |= {quote.net_minor, quote.gross_minor, quote.tax_minor}
    inside = {WAGE, PACK, AGREED, quote.cost_minor, quote.p80_net_minor}
    inside |= {line.amount_minor for line in quote.lines.all()}
    inside |= {
        getattr(line, f"{kind}_minor") for line in quote.budget.all() for kind in ("labour", "material", "sent_out")
    }
    for each in commission.variations.all():
        inside |= {each.cost_minor, each.contingency_minor}
        inside |= {amount for line in each.lines.all() for amount in (line.was_minor, line.is_minor)}
    amounts = {minor for minor in inside - shown if minor and minor > 10_000}
    assert len(amounts) > 15
    found = {
        written
        for minor in amounts
        for written in (str(minor), f"{to_decimal(minor, 'GBP'):f}", format_minor(minor, "GBP").lstrip("£"))
    }
    for minutes in (BOOKED, ALLOWED, LONG):
        hours = minutes / 60
        found |= {f"{minutes} min", f"{minutes // 60} h", f"{hours:g} h", f"{round(hours * 2) / 2:g} h"}
    return {*found, *WORDS, quote.profit_rate.to_eng_string(), f"{quote.profit_rate * 100:.4g}\N{THIN SPACE}%"}


def reached(*tokens_at: str) -> Iterator[tuple[str, str]]:
    """Everything that can be come to from these addresses, with all that each answer says."""
    client, waiting, seen = Client(), list(tokens_at), set(tokens_at)
    while waiting:
        path = waiting.pop()
        for headers in ({}, {"HX-Request": "true"}):
            response = client.get(path, headers=headers)
            assert response.status_code == 200, path
            content = response.getvalue() if response.streaming else response.content
            kind = response.headers["Content-Type"]
            said = (
                text(content) if kind == "application/pdf" and len(content) > 100 else content.decode(errors="replace")
            )
            if kind.startswith("text/html"):
                leads = {each for each in Page(said, path).addresses if each.startswith("/l/")} - seen
                seen |= leads
                waiting += sorted(leads)
            if kind.startswith("text/calendar"):
                said = said.replace("\r\n ", "")
            yield path, unescape(said) + repr(sorted(response.headers.items()))


def test_nothing_of_the_house_comes_out_by_a_link(commission: Commission) -> None:
    row = sent(commission, commission.stages.get(key="pattern"), at=timezone.now())
    variation = make_issued_variation(commission, anybody())
    maker = User.objects.get(role=Role.BENCH)
    places = [
        f"/l/{give_link(commission, shows_documents=True).token}/",
        f"/l/{give_link(commission, kind=LinkKind.SIGN_OFF, sign_off=row).token}/sign-off/",
        f"/l/{give_link(commission, kind=LinkKind.VARIATION, variation=variation).token}/variation/",
        f"/l/{give_link(commission, kind=LinkKind.STATEMENT).token}/statement/",
        f"/l/{give_link(None, kind=LinkKind.CALENDAR, person=maker).token}/calendar.ics",
    ]
    held, count, pages = planted(commission), 0, ""
    for path, said in reached(*places):
        told = sorted(value for value in held if re.search(rf"(?<![\d.,]){re.escape(value)}(?![\d.,]\d)", said))
        assert told == [], path
        count += 1
        pages += said
    assert count >= 2 * 10
    # It was really searched: what may be told stands there.
    for shown in ("At the gate", "cast cures", "It goes on well.", "The pattern from the left", "an answer is due"):
        assert shown in pages, shown
    assert format_minor(commission.quotes.get().gross_minor or 0, "GBP") in pages


def test_the_calendar_of_the_whole_studio_names_no_firm_and_no_price(commission: Commission) -> None:
    made = give_link(None, kind=LinkKind.CALENDAR)
    held = planted(commission)
    for path, said in reached(f"/l/{made.token}/calendar.ics"):
        assert [value for value in held if value in said] == [], path


def test_what_was_planted_is_where_the_house_looks(commission: Commission) -> None:
    client = Client()
    client.force_login(User.objects.get(role=Role.OFFICE), backend="django.contrib.auth.backends.ModelBackend")
    stage = commission.stages.filter(key="pattern")[0]
    addresses = ("price/1/", "board/", "standing/", "snags/", "sent-out/", "photos/")
    pages = "".join(client.get(f"/commissions/{commission.pk}/{each}").content.decode() for each in addresses)
    pages += client.get(f"/stages/{stage.code}/").content.decode()
    missing = [word for word in WORDS if word not in pages]
    assert missing == []
    assert Stage.objects.filter(allowed_minutes=ALLOWED).exists()
