"""Nobody at the bench and no stranger meets a price, a cost or a margin."""

from collections.abc import Iterator
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import Commission, Decision, Extra, Quote
from jobs.services.drafts import drafted
from jobs.services.extras import add_extra
from jobs.services.quotes import answer
from jobs.urls.price import urlpatterns
from materials.models import Item
from studio.accounts.models import Role
from studio.money import format_minor, to_decimal
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything, signed_in

pytestmark = pytest.mark.django_db

# A cost that nothing else on a page can be: of one haulage, and so in every sum above it.
TOLD_APART = 98_765_432
POSTED = ("remove_extra", "keep_change", "quote_answer")


@pytest.fixture
def commission() -> Commission:
    price_everything(TOLD_APART)
    commission = make_commission()
    make_section(commission, "Base")
    owner = make_person()
    item = Item.objects.get(key="haulage")
    add_extra(by=owner, commission=commission, item=item, label="Haulage", quantity=Decimal(1))
    quote = make_issued(commission, owner)
    answer(by=owner, quote=quote, decision=Decision.ACCEPTED, said_by="B", note="", on=timezone.localdate())
    return commission


def addresses(commission: Commission) -> Iterator[tuple[str, str]]:
    """Every address of the price, with its name."""
    for pattern in urlpatterns:
        given = {"pk": commission.pk, "version": 1, "extra": Extra.objects.get().pk}
        wanted = {name: given[name] for name in pattern.pattern.converters}
        yield pattern.name, reverse(pattern.name, kwargs=wanted)


def amounts() -> set[str]:
    """Every amount of the issued version, as a page, a file or a script would write it."""
    quote = Quote.objects.get()
    found = {TOLD_APART, quote.net_minor, quote.gross_minor, quote.tax_minor, quote.cost_minor, quote.p80_net_minor}
    found |= {line.amount_minor for line in quote.lines.all()} | {part.net_minor for part in quote.parts.all()}
    return {
        written
        for minor in found
        if minor and minor > 100_000
        for written in (str(minor), f"{to_decimal(minor, 'GBP'):f}", format_minor(minor, "GBP").lstrip("£"))
    }


def test_the_bench_is_refused_everywhere_and_learns_nothing(commission: Commission) -> None:
    bench, held = signed_in(Role.BENCH), amounts()
    assert len(held) > 20
    count = 0
    for name, address in addresses(commission):
        for method in (bench.get, bench.post):
            for headers in ({}, {"HX-Request": "true"}):
                response = method(address, headers=headers)
                assert response.status_code == 403, (name, method)
                assert not [amount for amount in held if amount in response.content.decode()], name
                count += 1
    assert count == 4 * len(urlpatterns)


def test_the_sheets_that_the_bench_reads_hold_no_amount(commission: Commission) -> None:
    bench, held = signed_in(Role.BENCH), amounts()
    section = commission.sections.get()
    sheets = ("", "form/", "record/")
    for address in (*(f"/commissions/{commission.pk}/{sheet}" for sheet in sheets), f"/sections/{section.pk}/", "/"):
        response = bench.get(address)
        assert response.status_code == 200, address
        assert not [amount for amount in held if amount in response.content.decode()], address
        assert "/price/" not in response.content.decode(), address


def test_the_office_does_meet_them(commission: Commission) -> None:
    office, held = signed_in(Role.OFFICE), amounts()
    page = office.get(f"/commissions/{commission.pk}/price/1/").content.decode()
    assert len([amount for amount in held if amount in page]) > 5


def test_a_stranger_is_asked_to_sign_in(client: Client, commission: Commission) -> None:
    for _, address in addresses(commission):
        response = client.get(address)
        assert (response.status_code, response.headers["Location"].partition("?")[0]) == (302, "/sign-in/")


def test_what_changes_something_answers_a_post_alone(commission: Commission) -> None:
    office = signed_in(Role.OFFICE)
    found = dict(addresses(commission))
    for name in POSTED:
        assert office.get(found[name]).status_code == 405
    assert drafted(commission).extras
