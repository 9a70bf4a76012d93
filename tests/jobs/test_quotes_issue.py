"""Issuing freezes; an answer is written once; an accepted version becomes the budget."""

import datetime
import hashlib
from collections.abc import Callable
from decimal import Decimal

import pytest
from django.db import DatabaseError, connection, transaction
from django.utils import timezone

from jobs.figures.frozen import thawed_take_off
from jobs.models import BudgetLine, Commission, Decision, Extra, Quote, QuoteDecision, QuoteLine
from jobs.quotes.issuing import issue_as_agreed
from jobs.quotes.sheets import printed_take_off, seal
from jobs.quotes.workings import worked
from jobs.services.drafts import Drafted, Refused, drafted, save_terms
from jobs.services.freezing import lines_of
from jobs.services.pricing import Working
from jobs.services.quotes import AlreadyDone, answer, issue
from materials.models import Item, Price
from materials.pricing import PricesMissing
from studio.accounts.models import AuditEntry, User
from studio.locking import Conflict
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything
from tests.studio.pdf_reading import text

pytestmark = pytest.mark.django_db

PDF = b"%PDF-1.7 stand-in"


@pytest.fixture
def owner() -> User:
    return make_person()


@pytest.fixture
def commission() -> Commission:
    price_everything()
    commission = make_commission()
    make_section(commission, "Base")
    make_section(commission, "Top", pulls=2)
    item = Item.objects.get(key="haulage")
    Extra.objects.create(commission=commission, item=item, label="To the gate", quantity=Decimal(1))
    return commission


def agreed(commission: Commission) -> tuple[Drafted, Working]:
    seen = drafted(commission)
    working = worked(seen, timezone.localdate()).working
    assert working is not None
    return seen, working


def issue_now(commission: Commission, by: User) -> Quote:
    """As a person issues: agreed to on the page, then printed and frozen."""
    seen, working = agreed(commission)
    return issue_as_agreed(
        by=by,
        commission=commission,
        version_number=seen.draft.version_number,
        agreed=seal(seen, working),
        on=timezone.localdate(),
        at=timezone.now(),
    )


def test_a_version_holds_all_it_was_worked_from(commission: Commission, owner: User) -> None:
    seen, working = agreed(commission)
    quote = Quote.objects.get(pk=issue_now(commission, owner).pk)
    assert working.priced is not None
    assert quote.net_minor == working.priced.price.net_minor
    assert quote.gross_minor == sum(payment.amount_minor for payment in quote.payments.all())
    assert sum(line.amount_minor for line in quote.lines.all()) == quote.net_minor
    assert sum(part.net_minor for part in quote.parts.all()) == quote.net_minor
    assert quote.p80_net_minor == working.priced.p80_net_minor
    assert thawed_take_off(quote.take_off) == working.take_off
    assert quote.spec == working.spec
    assert quote.price_book["items"]["bench_hour"]["packs"] == [
        {"label": "1 hour", "quantity": "1.0000", "price_minor": 1000}
    ]
    assert quote.price_book["items"]["haulage"]["name"] == "Haulage"
    assert quote.figures["coefficients"]["margin"]["value"] == pytest.approx(0.18)
    assert quote.valid_until == timezone.localdate() + datetime.timedelta(days=seen.draft.valid_days)
    assert (quote.issued_by, quote.commission.state) == (owner, "quoted")
    entry = AuditEntry.objects.about(commission.subject)[0]
    assert (entry.act, entry.has_money) == ("Quote 26-001 / 1 issued", True)


def test_the_document_says_what_the_rows_say_and_its_hash_is_its_own(commission: Commission, owner: User) -> None:
    quote = issue_now(commission, owner)
    pdf = bytes(Quote.objects.get(pk=quote.pk).pdf or b"")
    assert hashlib.sha256(pdf).hexdigest() == quote.pdf_sha256
    assert f"£{Decimal(quote.gross_minor or 0) / 100:,.2f}" in text(pdf)
    assert "The Long Pear" in text(pdf)


def test_later_prices_and_lay_ups_change_nothing_that_was_issued(commission: Commission, owner: User) -> None:
    quote = issue_now(commission, owner)
    before = Quote.objects.values().get(pk=quote.pk)
    inside = text(printed_take_off(Quote.objects.get(pk=quote.pk)))
    Price.objects.update(amount_minor=77_777)
    Item.objects.filter(key="gel_coat").update(name="Another gel coat")
    commission.sections.update(grade="A", pulls=9)
    after = Quote.objects.values().get(pk=quote.pk)
    assert hashlib.sha256(bytes(after["pdf"])).hexdigest() == before["pdf_sha256"]
    assert {**after, "pdf": bytes(after["pdf"])} == {**before, "pdf": bytes(before["pdf"])}
    assert text(printed_take_off(Quote.objects.get(pk=quote.pk))) == inside
    # The next version is at today's prices.
    _, working = agreed(commission)
    assert working.priced is not None
    assert working.priced.price.net_minor > 10 * before["net_minor"]


def raw(sql: str) -> Callable[[Quote], object]:
    def change(quote: Quote) -> None:
        with connection.cursor() as cursor:
            cursor.execute(sql, [quote.pk])

    return change


@pytest.mark.parametrize(
    "change",
    [
        lambda quote: Quote.objects.filter(pk=quote.pk).update(net_minor=1),
        lambda quote: Quote.objects.filter(pk=quote.pk).update(terms="Other terms"),
        lambda quote: quote.lines.update(amount_minor=1),
        lambda quote: quote.lines.all().delete(),
        lambda quote: QuoteLine.objects.create(quote=quote, position=99, kind="x", key="x", label="x", amount_minor=1),
        lambda quote: quote.parts.update(net_minor=1),
        lambda quote: quote.parts.all().delete(),
        lambda quote: quote.payments.update(amount_minor=1),
        lambda quote: quote.payments.all().delete(),
        lambda quote: quote.delete(),
        raw("UPDATE jobs_quote SET gross_minor = 1 WHERE id = %s"),
        raw("UPDATE jobs_quote SET issued_at = NULL WHERE id = %s"),
        raw("DELETE FROM jobs_quoteline WHERE quote_id = %s"),
        raw("UPDATE jobs_quotepart SET net_minor = 0 WHERE quote_id = %s"),
        raw("DELETE FROM jobs_quotepayment WHERE quote_id = %s"),
        raw("DELETE FROM jobs_quote WHERE id = %s"),
    ],
)
def test_the_database_refuses_to_alter_what_was_issued(
    commission: Commission, owner: User, change: Callable[[Quote], object]
) -> None:
    quote = make_issued(commission, owner)
    before = Quote.objects.filter(pk=quote.pk).values("net_minor", "gross_minor", "terms").get()
    with pytest.raises(DatabaseError, match="an issued quote is never altered"), transaction.atomic():
        change(quote)
    assert Quote.objects.filter(pk=quote.pk).values("net_minor", "gross_minor", "terms").get() == before


def test_issuing_twice_issues_once(commission: Commission, owner: User) -> None:
    seen, working = agreed(commission)
    first = issue(by=owner, seen=seen, working=working, pdf=PDF, at=timezone.now())
    with pytest.raises(AlreadyDone) as second:
        issue(by=owner, seen=seen, working=working, pdf=PDF, at=timezone.now())
    assert second.value.quote == first
    assert Quote.objects.count() == 1


@pytest.mark.parametrize("what", ["section", "terms", "extra", "commission"])
def test_whatever_is_changed_while_it_is_printed_stops_it(commission: Commission, owner: User, what: str) -> None:
    seen, working = agreed(commission)
    if what == "section":
        commission.sections.filter(name="Base").update(version=7)
    elif what == "terms":
        save_terms(by=owner, commission=commission, version=0, terms={"care": "Wax"})
    elif what == "extra":
        commission.extras.all().delete()
    else:
        Commission.objects.update(version=7)
    with pytest.raises(Conflict):
        issue(by=owner, seen=seen, working=working, pdf=PDF, at=timezone.now())
    assert not Quote.objects.filter(issued_at__isnull=False).exists()


def test_a_price_that_changed_since_the_page_was_opened_stops_it(commission: Commission, owner: User) -> None:
    seen, working = agreed(commission)
    Price.objects.filter(pack__item__key="bench_hour").update(amount_minor=1_100)
    with pytest.raises(Conflict):
        issue_as_agreed(
            by=owner,
            commission=commission,
            version_number=1,
            agreed=seal(seen, working),
            on=timezone.localdate(),
            at=timezone.now(),
        )


def test_nothing_is_issued_while_a_price_is_missing(commission: Commission, owner: User) -> None:
    Price.objects.filter(pack__item__key="gel_coat").delete()
    seen, working = agreed(commission)
    with pytest.raises(PricesMissing, match="gel_coat"):
        issue(by=owner, seen=seen, working=working, pdf=PDF, at=timezone.now())
    with pytest.raises(Refused, match="There is no price for Gel coat; complete the price book"):
        issue_now(commission, owner)
    assert not Quote.objects.exists()


def accept(quote: Quote, by: User, on: datetime.date | None = None) -> QuoteDecision:
    day = on or timezone.localdate()
    return answer(by=by, quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="Order 118", on=day)


def test_an_accepted_version_becomes_the_budget_to_the_penny(commission: Commission, owner: User) -> None:
    quote = make_issued(commission, owner)
    decision = accept(quote, owner)
    rows = list(BudgetLine.objects.filter(quote=quote))
    built = lines_of(quote)
    for kind, part in (("labour", "labour_minor"), ("material", "material_minor"), ("sent_out", "sent_out_minor")):
        assert sum(getattr(row, part) for row in rows) == sum(line.amount_minor for line in built if line.kind == kind)
    assert {row.section for row in rows} == {"Base", "Top", ""}
    assert [(row.stage, row.sent_out_minor) for row in rows if not row.section] == [("job", 1_000)]
    commission.refresh_from_db()
    assert (commission.state, decision.said_by, decision.recorded_by) == ("accepted", "R. Osei", owner)


def test_an_answer_is_written_once(commission: Commission, owner: User) -> None:
    quote = make_issued(commission, owner)
    accept(quote, owner)
    with pytest.raises(AlreadyDone):
        answer(by=owner, quote=quote, decision=Decision.DECLINED, said_by="B", note="", on=timezone.localdate())
    assert QuoteDecision.objects.get().decision == "accepted"
    with pytest.raises(DatabaseError, match="an answer is never altered"), transaction.atomic():
        QuoteDecision.objects.update(decision="declined")
    with pytest.raises(DatabaseError, match="a budget is never altered"), transaction.atomic():
        BudgetLine.objects.update(minutes=0)


def test_a_lapsed_version_is_not_accepted(commission: Commission, owner: User) -> None:
    quote = make_issued(commission, owner)
    assert quote.valid_until is not None
    with pytest.raises(Refused, match=r"This version lapsed on .*; issue a new version at today's prices"):
        accept(quote, owner, quote.valid_until + datetime.timedelta(days=1))
    assert not QuoteDecision.objects.exists()
    decision = accept(quote, owner, quote.valid_until)
    assert (decision.decision, timezone.localdate(decision.at)) == ("accepted", quote.valid_until)


def test_a_superseded_version_is_not_accepted_and_may_be_declined(commission: Commission, owner: User) -> None:
    first = make_issued(commission, owner)
    make_issued(commission, owner)
    with pytest.raises(Refused, match="Version 2 has gone out since"):
        accept(first, owner)
    answer(by=owner, quote=first, decision=Decision.DECLINED, said_by="B", note="", on=timezone.localdate())
    commission.refresh_from_db()
    assert commission.state == "quoted"


def test_declining_the_newest_declines_the_commission_and_a_new_version_opens_it_again(
    commission: Commission, owner: User
) -> None:
    quote = make_issued(commission, owner)
    answer(by=owner, quote=quote, decision=Decision.DECLINED, said_by="B", note="Too dear", on=timezone.localdate())
    commission.refresh_from_db()
    assert commission.state == "declined"
    assert not BudgetLine.objects.exists()
    make_issued(commission, owner)
    commission.refresh_from_db()
    assert commission.state == "quoted"


def test_no_version_follows_an_accepted_one(commission: Commission, owner: User) -> None:
    accept(make_issued(commission, owner), owner)
    with pytest.raises(Refused, match="agreed as a variation"):
        make_issued(commission, owner)


@pytest.mark.parametrize(
    ("answered", "newest", "days", "state"),
    [
        ("", 1, 0, "issued"),
        ("", 1, 31, "lapsed"),
        ("", 2, 31, "superseded"),
        ("accepted", 2, 31, "accepted"),
        ("declined", 1, 0, "declined"),
    ],
)
def test_a_version_stands_as_its_answer_its_date_and_later_versions_make_it(
    answered: str, newest: int, days: int, state: str
) -> None:
    day = datetime.date(2026, 3, 12)
    quote = Quote(version_number=1, valid_until=day + datetime.timedelta(days=30))
    if answered:
        quote.decision = QuoteDecision(decision=answered)  # type: ignore[misc]
    assert quote.state_on(day + datetime.timedelta(days=days), newest) == state
