"""The statement of account: to the penny on the page, in the PDF, in the file, and through a link."""

import csv
import io
import uuid
from decimal import Decimal

import pytest
from django.db import DatabaseError, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.figures.statement import Statement
from jobs.models import AccountEntry, Commission, LinkKind, Retention
from jobs.statements import statement_of
from studio.accounts.models import Role, User
from studio.money import format_minor
from tests.factories import make_commission, make_person, price_everything, signed_in
from tests.jobs.link_samples import LOOKING, give_link
from tests.jobs.standing_samples import accepted
from tests.jobs.variation_samples import accept_variation, in_words, make_issued_variation
from tests.studio.pdf_reading import text

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    price_everything(2_113)
    return make_person()


@pytest.fixture
def commission(owner: User) -> Commission:
    """With a variation that adds, and one that takes away."""
    commission = accepted(owner, extras=("haulage",))
    accept_variation(make_issued_variation(commission, owner, title="=Gloss"), by=owner)
    less = in_words("haulage", "Two trips fewer", is_omission=True, quantity=2)
    accept_variation(make_issued_variation(commission, owner, title="Less", changes=(), items=[less]), by=owner)
    return commission


def at(name: str, commission: Commission, *more: int) -> str:
    return reverse(name, args=[commission.pk, *more])


def mark(office: Client, commission: Commission, payment: str, happened: str, **values: str) -> int:
    given = {"key": str(uuid.uuid4()), "payment": payment, "happened": happened, "amount": "", "note": ""}
    given |= {"on": timezone.localdate().isoformat(), **values}
    return office.post(at("mark_payment", commission), given).status_code


def statement(commission: Commission) -> Statement:
    found = statement_of(commission)
    assert found is not None
    return found


def amounts(found: Statement) -> list[int]:
    every = [
        found.net_minor,
        found.tax_minor,
        found.gross_minor,
        found.paid_minor,
        found.owed_minor,
        found.to_come_minor,
    ]
    for each in found.agreed:
        every += [each.gross_minor]
    for account in found.accounts:
        every += [account.due.payable_minor, account.paid_minor, account.to_pay_minor]
    return every


def test_contract_and_variations_are_the_total(commission: Commission) -> None:
    found, quote = statement(commission), commission.quotes.get()
    rows = list(commission.variations.accepted())
    assert [each.gross_minor for each in found.agreed] == [quote.gross_minor, *(row.gross_minor for row in rows)]
    assert found.gross_minor == (quote.gross_minor or 0) + sum(row.gross_minor or 0 for row in rows)
    assert (found.variations[0].gross_minor > 0, found.variations[1].gross_minor < 0) == (True, True)
    assert sum(account.due.payable_minor for account in found.accounts) == found.gross_minor


def test_before_acceptance_there_is_none(office: Client) -> None:
    commission = make_commission()
    assert "The statement begins when a quote is accepted" in office.get(at("statement", commission)).content.decode()
    for name in ("statement_pdf", "statement_csv"):
        assert office.get(at(name, commission)).status_code == 404
    assert mark(office, commission, "payment_1", "paid") == 404


def test_marks_retention_page_document_and_link_agree(office: Client, commission: Commission) -> None:
    assert office.post(at("retention", commission), {"version": "0", "share": "3"}).status_code == 302
    assert mark(office, commission, "payment_1", "asked", note="Invoice 118") == 302
    assert mark(office, commission, "payment_1", "paid", amount="100.01") == 302
    found = statement(commission)
    assert found.accounts[0].asked_minor == found.accounts[0].due.payable_minor
    assert (found.paid_minor, found.owed_minor) == (10_001, found.accounts[0].due.payable_minor - 10_001)
    assert sum(each.due.held_minor for each in found.accounts) == 0 < found.held_minor
    page = office.get(at("statement", commission)).content.decode()
    printed = text(office.get(at("statement_pdf", commission)).content)
    made = give_link(commission, kind=LinkKind.STATEMENT)
    outside = Client().get(reverse("held_statement", args=[made.token]), headers=LOOKING).content.decode()
    # What is not paid yet is left blank.
    for amount in filter(None, amounts(found)):
        shown = format_minor(amount, "GBP")
        assert shown in page
        assert shown in printed
        assert shown in outside
    assert "Invoice 118" in page
    assert "Invoice 118" not in outside + printed
    held = Client().get(reverse("held_statement_pdf", args=[made.token]))
    assert held.content == office.get(at("statement_pdf", commission)).content


def test_the_file_sums_runs_nothing_and_reads_as_numbers(office: Client, commission: Commission) -> None:
    mark(office, commission, "payment_1", "asked", note="@SUM(A1)")
    response = office.get(at("statement_csv", commission))
    assert response.headers["Content-Type"] == "text/csv; charset=utf-8"
    rows = list(csv.DictReader(io.StringIO(response.content.decode("utf-8-sig"))))
    by_what = {what: [row for row in rows if row["what"] == what] for what in {row["what"] for row in rows}}
    agreed = [*by_what["contract"], *by_what["variation"]]
    (total,) = by_what["total"]
    for column in ("before tax", "tax", "amount"):
        assert sum(Decimal(row[column]) for row in agreed) == Decimal(total[column])
    assert sum(Decimal(row["amount"]) for row in by_what["due"]) == Decimal(total["amount"])
    assert (by_what["variation"][0]["label"], by_what["asked for"][0]["note"]) == ("'=Gloss", "'@SUM(A1)")
    assert by_what["variation"][1]["amount"].startswith("-")


def test_a_mistake_is_taken_back_by_a_second_row(office: Client, commission: Commission) -> None:
    mark(office, commission, "payment_1", "paid", amount="50")
    entry = AccountEntry.objects.get()
    for _ in range(2):
        assert office.post(at("take_entry_back", commission, entry.pk)).status_code == 302
    assert statement(commission).paid_minor == 0
    assert [each.amount_minor for each in AccountEntry.objects.order_by("pk")] == [5_000, -5_000]
    with pytest.raises(DatabaseError, match="an entry of the account is never altered"), transaction.atomic():
        AccountEntry.objects.update(amount_minor=1)
    with pytest.raises(DatabaseError, match="an entry of the account is never altered"), transaction.atomic():
        AccountEntry.objects.filter(reverses=entry).delete()


def test_a_form_sent_twice_is_written_once(office: Client, commission: Commission) -> None:
    key = str(uuid.uuid4())
    for _ in range(2):
        assert mark(office, commission, "payment_1", "paid", amount="50", key=key) == 302
    assert AccountEntry.objects.count() == 1


@pytest.mark.parametrize(
    "wrong",
    [
        {"payment": "payment_9"},
        {"happened": "stolen"},
        {"amount": "ten"},
        {"amount": "0"},
        {"on": "1026-01-01"},
        {"on": "yesterday"},
        {"key": "x"},
    ],
)
def test_what_cannot_be_written_is_put_right(office: Client, commission: Commission, wrong: dict[str, str]) -> None:
    values = {"payment": "payment_1", "happened": "paid", **wrong}
    assert mark(office, commission, **values) == 422
    assert not AccountEntry.objects.exists()


def test_what_is_kept_back_stays_once_a_payment_went_by_it(office: Client, commission: Commission) -> None:
    mark(office, commission, "payment_1", "asked")
    response = office.post(at("retention", commission), {"version": "0", "share": "5"})
    assert response.status_code == 409
    assert "take those entries back first" in response.content.decode()
    assert not Retention.objects.filter(share__gt=0).exists()
    assert office.post(at("retention", commission), {"version": "0", "share": "50"}).status_code == 422


def test_the_bench_sees_no_account(commission: Commission) -> None:
    bench = signed_in(Role.BENCH)
    for name in ("statement", "statement_pdf", "statement_csv"):
        assert bench.get(at(name, commission)).status_code == 403
