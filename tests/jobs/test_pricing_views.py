"""The Price sheet and the terms of the draft."""

import re
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Commission, Decision, Quote
from jobs.quotes.workings import worked
from jobs.services.drafts import drafted, save_terms
from jobs.services.quotes import answer
from materials.models import Item, Price
from studio.money import format_minor
from studio.office.models import House, TaxCategory
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    price_everything()
    commission = make_commission()
    make_section(commission, "Base")
    return commission


def address(commission: Commission, rest: str = "") -> str:
    return f"/commissions/{commission.pk}/price/{rest}"


def page_of(client: Client, commission: Commission, rest: str = "") -> str:
    return client.get(address(commission, rest)).content.decode()


def test_the_sheet_shows_the_price_and_every_line_of_it(office: Client, commission: Commission) -> None:
    page = page_of(office, commission)
    working = worked(drafted(commission), timezone.localdate()).working
    assert working is not None
    assert working.priced is not None
    priced = working.priced
    for amount in (priced.price.net_minor, priced.price.tax_minor, priced.price.gross_minor, priced.p80_net_minor):
        assert format_minor(amount, "GBP") in page
    for line in priced.built.lines:
        assert line.label in page
        assert format_minor(line.amount_minor, "GBP") in page
    assert "No version has been issued yet" in page
    assert not Quote.objects.exists()


def test_the_bar_says_in_words_what_it_shows(office: Client, commission: Commission) -> None:
    page = page_of(office, commission)
    told = re.search(r'role="img"[^>]*>\s*<title>Make-up of the price: (labour [^<]*profit [^<]*)</title>', page)
    assert told
    shares = [float(share) for share in re.findall(r"([0-9.]+)\s%", told[1])]
    # Each share is rounded to a tenth of a per cent.
    assert sum(shares) == pytest.approx(100, abs=0.3)
    widths = [int(width) for width in re.findall(r'width="(\d+)" height="58"', page)]
    assert sum(widths) == 1000


def test_what_lacks_a_price_leads_to_its_item(office: Client, commission: Commission) -> None:
    Price.objects.filter(pack__item__key="gel_coat").delete()
    page = page_of(office, commission)
    item = Item.objects.get(key="gel_coat")
    assert f'<a href="/stores/items/{item.pk}/">Gel coat</a>' in page
    assert "Issue version" not in page


def test_an_empty_commission_is_led_to_its_form(office: Client) -> None:
    assert "describe the first section on the Form sheet" in page_of(office, make_commission())


def test_us_studios_read_the_price_by_the_square_foot(office: Client, commission: Commission) -> None:
    House.objects.update(units="us", currency="USD")
    page = page_of(office, commission)
    assert "Price per sq ft of skin" in page
    assert "$" in page


def test_after_acceptance_the_sheet_says_so_and_offers_no_other_version(office: Client, commission: Commission) -> None:
    owner = make_person()
    quote = make_issued(commission, owner)
    answer(by=owner, quote=quote, decision=Decision.ACCEPTED, said_by="B", note="", on=timezone.localdate())
    page = page_of(office, commission)
    assert "is accepted, at" in page
    assert "Issue version" not in page


def test_the_sheet_takes_as_many_queries_for_many_as_for_one(
    office: Client, commission: Commission, django_assert_max_num_queries: Any
) -> None:
    owner = make_person()
    counts = []
    for wanted in (1, 4):
        while commission.sections.count() < wanted:
            make_section(commission, f"Part {commission.sections.count()}")
        while Quote.objects.count() < wanted:
            make_issued(commission, owner)
        with django_assert_max_num_queries(30) as taken:
            office.get(address(commission))
        counts.append(len(taken))
    assert counts[0] == counts[1]


def terms(client: Client, commission: Commission, **changes: str) -> dict[str, str]:
    """What a browser sends of the terms as they stand."""
    form = client.get(address(commission, "terms/")).context["form"]
    found = {field.html_name: field.value() for field in form}
    return {name: "" if value is None else str(value) for name, value in found.items()} | changes


def test_terms_are_changed_and_the_tax_with_them(office: Client, commission: Commission) -> None:
    reduced = TaxCategory.objects.get(name="Reduced")
    values = terms(office, commission, profit_rate="21.5", tax_category=str(reduced.pk), programme_weeks="16")
    response = office.post(address(commission, "terms/"), values)
    assert (response.status_code, response.headers["Location"]) == (302, address(commission))
    draft = Quote.objects.get()
    assert (draft.profit_rate, draft.programme_weeks) == (Decimal("0.215"), 16)
    commission.refresh_from_db()
    assert commission.tax_category == reduced
    assert [stage["share"] for stage in draft.payment_stages] == ["0.3", "0.3", "0.3", "0.1"]


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"profit_rate": ""}, "Enter the rate in per cent, such as 18."),
        ({"profit_rate": "lots"}, "“lots” is not a plain number."),
        ({"profit_rate": "96"}, "A margin is 95 % at most; enter less."),
        ({"contingency": "91"}, "91 is too large; the most is 90."),
        ({"contingency": "7.123"}, "7.123 has more than 2 decimals."),
        ({"valid_days": "0"}, "0 is too small; the least is 1."),
        ({"valid_days": "1.5"}, "1.5 is not a whole number."),
        ({"programme_weeks": "521"}, "521 is too large; the most is 520."),
        ({"share_0": "20"}, "The payments sum to 90 %; make them sum to 100 %."),
        ({"tax_category": "999999"}, "Choose one of the taxes in the list."),
        ({"profit_kind": "guess"}, "guess"),
    ],
)
def test_it_refuses_terms_that_make_no_price_and_keeps_what_was_typed(
    office: Client, commission: Commission, changes: dict[str, str], told: str
) -> None:
    response = office.post(address(commission, "terms/"), terms(office, commission, care="Wax it well", **changes))
    page = response.content.decode()
    assert response.status_code == 422
    assert told in page
    assert "<title>Error: " in page
    assert "Wax it well" in page
    assert not Quote.objects.exists()


def test_a_mark_up_may_be_more_than_a_margin(office: Client, commission: Commission) -> None:
    values = terms(office, commission, profit_kind="markup", profit_rate="120")
    assert office.post(address(commission, "terms/"), values).status_code == 302
    assert Quote.objects.get().profit_rate == Decimal("1.2")


def test_whoever_saves_second_sees_what_is_there_and_loses_nothing(office: Client, commission: Commission) -> None:
    values = terms(office, commission, care="Yours")
    terms_of_another = {"care": "Mine", "contingency": Decimal("0.2")}
    save_terms(by=make_person(), commission=commission, version=0, terms=terms_of_another)
    response = office.post(address(commission, "terms/"), values)
    page = response.content.decode()
    assert response.status_code == 409
    assert "Somebody saved this before you" in page
    assert ">Mine</td>" in page
    assert "Yours</textarea>" in page
    assert office.post(address(commission, "terms/"), values | {"version": "1"}).status_code == 302
    assert Quote.objects.get().care == "Yours"


def test_a_commission_that_is_not_there_is_not_found(office: Client) -> None:
    for rest in ("", "terms/", "extras/", "try/", "issue/", "1/"):
        assert office.get(f"/commissions/999999/price/{rest}").status_code == 404
