"""Issuing on the page, what was issued, and the answer."""

import csv
import io
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Commission, Extra, Quote, QuoteDecision
from jobs.services.drafts import save_terms
from materials.models import Item, Price
from studio.money import format_minor
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything
from tests.studio.pdf_reading import text

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    price_everything()
    commission = make_commission()
    make_section(commission, "Base")
    return commission


def address(commission: Commission, rest: str = "") -> str:
    return f"/commissions/{commission.pk}/price/{rest}"


def agreed(client: Client, commission: Commission) -> dict[str, str]:
    """What the confirmation's form holds."""
    context = client.get(address(commission, "issue/")).context
    return {"version_number": str(context["seen"].draft.version_number), "seal": context["seal"]}


def test_issuing_shows_what_is_frozen_first_and_then_freezes_it(office: Client, commission: Commission) -> None:
    page = office.get(address(commission, "issue/")).content.decode()
    assert "This freezes quote 26-001 / 1 for Fallow Lane Market Garden" in page
    assert not Quote.objects.exists()
    response = office.post(address(commission, "issue/"), agreed(office, commission), follow=True)
    quote = Quote.objects.get()
    page = response.content.decode()
    assert response.redirect_chain[-1][0] == address(commission, "1/")
    assert "Quote 26-001 / 1 is issued and frozen." in page
    assert quote.pdf_sha256 in page
    assert format_minor(quote.gross_minor or 0, "GBP") in page


def test_issuing_a_second_time_leads_to_what_was_issued(office: Client, commission: Commission) -> None:
    values = agreed(office, commission)
    office.post(address(commission, "issue/"), values)
    response = office.post(address(commission, "issue/"), values, follow=True)
    assert response.redirect_chain[-1][0] == address(commission, "1/")
    assert "was issued before; here it is." in response.content.decode()
    assert Quote.objects.count() == 1


@pytest.mark.parametrize("changed", ["price", "terms", "seal"])
def test_what_changed_since_the_page_was_opened_is_shown_and_nothing_issued(
    office: Client, commission: Commission, changed: str
) -> None:
    values = agreed(office, commission)
    if changed == "price":
        Price.objects.filter(pack__item__key="bench_hour").update(amount_minor=4_321)
    elif changed == "terms":
        save_terms(by=make_person(), commission=commission, version=0, terms={"contingency": Decimal("0.15")})
    else:
        values["seal"] = "f" * 64
    response = office.post(address(commission, "issue/"), values)
    page = response.content.decode()
    assert response.status_code == 409
    assert "were changed meanwhile" in page
    assert response.context["seal"] in page
    assert not Quote.objects.filter(issued_at__isnull=False).exists()


def test_a_missing_price_is_said_by_name(office: Client, commission: Commission) -> None:
    values = agreed(office, commission)
    Price.objects.filter(pack__item__key="gel_coat").delete()
    assert "Gel coat has no price on" in office.get(address(commission, "issue/")).content.decode()
    response = office.post(address(commission, "issue/"), values)
    assert response.status_code == 409
    assert "There is no price for Gel coat; complete the price book" in response.content.decode()


@pytest.mark.parametrize("number", ["", "x", "99999999999999999999", "-1"])
def test_a_version_number_that_is_none_issues_nothing(office: Client, commission: Commission, number: str) -> None:
    response = office.post(address(commission, "issue/"), {"version_number": number, "seal": ""})
    assert response.status_code == 409
    assert not Quote.objects.exists()


def test_the_document_comes_as_it_was_frozen_under_its_own_name(office: Client, commission: Commission) -> None:
    Commission.objects.update(title='The "Long" Pear/../ X: y?')
    quote = make_issued(Commission.objects.get(), make_person())
    response = office.get(address(commission, "1/quote.pdf"))
    assert response.content == bytes(Quote.objects.get(pk=quote.pk).pdf or b"")
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.headers["Content-Disposition"] == 'attachment; filename="26-001-1 The Long Pear .. X y.pdf"'


def test_the_take_off_is_printed_from_what_was_frozen(office: Client, commission: Commission) -> None:
    make_issued(commission, make_person())
    commission.sections.update(name="Renamed")
    response = office.get(address(commission, "1/take-off.pdf"))
    told = text(response.content)
    assert "Base" in told
    assert "Renamed" not in told
    assert format_minor(Quote.objects.get().net_minor or 0, "GBP") in told


def test_the_file_of_lines_sums_up_and_runs_nothing(office: Client, commission: Commission) -> None:
    item = Item.objects.get(key="haulage")
    Extra.objects.create(commission=commission, item=item, label="=1+1", quantity=Decimal(1))
    quote = make_issued(commission, make_person())
    response = office.get(address(commission, "1/lines.csv"))
    body = response.content.decode("utf-8-sig")
    assert body.endswith("\r\n")
    rows = list(csv.DictReader(io.StringIO(body)))
    sums = {row["key"]: Decimal(row["amount"]) for row in rows if row["what"] == "sum"}
    outside = ("part", "payment", "sum")
    assert sum(Decimal(row["amount"]) for row in rows if row["what"] == "part") == sums["net"]
    assert sum(Decimal(row["amount"]) for row in rows if row["what"] == "payment") == sums["gross"]
    assert sum(Decimal(row["amount"]) for row in rows if row["what"] not in outside) == sums["net"]
    assert sums["net"] * 100 == quote.net_minor
    assert "'=1+1" in {row["label"] for row in rows}


def test_a_later_version_says_what_changed_since_the_one_before(office: Client, commission: Commission) -> None:
    owner = make_person()
    first = make_issued(commission, owner)
    commission.sections.update(grade="A")
    second = make_issued(commission, owner)
    page = office.get(address(commission, "2/")).content.decode()
    assert "What changed since version 1" in page
    difference = (second.net_minor or 0) - (first.net_minor or 0)
    assert difference > 0
    assert format_minor(difference, "GBP") in page
    assert "Superseded by a later version" in office.get(address(commission, "1/")).content.decode()
    assert "What changed since" not in office.get(address(commission, "1/")).content.decode()


def test_the_answer_is_recorded_once(office: Client, commission: Commission) -> None:
    make_issued(commission, make_person())
    values = {"decision": "accepted", "said_by": "R. Osei", "note": "Order 118"}
    for said in ("Quote 26-001 / 1 is accepted.", "The answer to this version was recorded before"):
        response = office.post(address(commission, "1/answer/"), values, follow=True)
        page = response.content.decode()
        assert said in page
        assert "Order 118" in page
    assert QuoteDecision.objects.count() == 1
    assert "<button>Record the answer</button>" not in page


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"decision": ""}, "Choose whether it was accepted or declined."),
        ({"decision": "perhaps"}, "Choose whether it was accepted or declined."),
        ({"said_by": ""}, "Enter who gave the answer, and for whom."),
    ],
)
def test_half_an_answer_is_refused_and_what_was_typed_kept(
    office: Client, commission: Commission, changes: dict[str, str], told: str
) -> None:
    make_issued(commission, make_person())
    values = {"decision": "accepted", "said_by": "R. Osei", "note": "Order 118"} | changes
    response = office.post(address(commission, "1/answer/"), values)
    page = response.content.decode()
    assert response.status_code == 422
    assert told in page
    assert "Order 118</textarea>" in page
    assert not QuoteDecision.objects.exists()


def test_a_lapsed_version_says_so_and_is_not_accepted(office: Client, commission: Commission) -> None:
    long_ago = timezone.localdate() - timezone.timedelta(days=60)
    make_issued(commission, make_person(), on=long_ago)
    assert "This version has lapsed" in office.get(address(commission, "1/")).content.decode()
    response = office.post(address(commission, "1/answer/"), {"decision": "accepted", "said_by": "R. Osei"})
    assert response.status_code == 409
    assert "issue a new version at today&#x27;s prices" in response.content.decode()
    assert not QuoteDecision.objects.exists()


def test_versions_that_did_not_go_out_are_not_found(office: Client, commission: Commission) -> None:
    save_terms(by=make_person(), commission=commission, version=0, terms={"care": "Wax"})
    for rest in ("1/", "1/quote.pdf", "1/take-off.pdf", "1/lines.csv", "7/"):
        assert office.get(address(commission, rest)).status_code == 404
    assert office.post(address(commission, "1/answer/"), {"decision": "accepted"}).status_code == 404


def test_an_issued_version_takes_as_many_queries_with_many_before_it(
    office: Client, commission: Commission, django_assert_max_num_queries: Any
) -> None:
    owner = make_person()
    counts = []
    for wanted in (2, 5):
        while Quote.objects.count() < wanted:
            make_issued(commission, owner)
            make_section(commission, f"Part {commission.sections.count()}")
        with django_assert_max_num_queries(14) as taken:
            office.get(address(commission, f"{wanted}/"))
        counts.append(len(taken))
    assert counts[0] == counts[1]
