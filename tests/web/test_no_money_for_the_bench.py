"""Makers never receive a cost, a rate or a margin: planted amounts are looked for in all that they can get."""

import re
import zipfile
from collections.abc import Iterable
from html import unescape
from io import BytesIO

import pytest
from django.http import HttpResponse
from django.utils import timezone

from jobs.models import BudgetLine, Commission, Decision, QuoteLine, QuotePart, QuotePayment
from jobs.services.quotes import answer
from materials.models import Figure, Price
from materials.services.figures import change_figure
from studio.accounts.models import Role, User
from studio.accounts.services import add_person
from studio.money import exact
from tests.web.addresses import walk
from tests.web.opened import Studio
from tests.web.whole_studio import issue

pytestmark = pytest.mark.django_db

# Amounts that nothing would come to by chance: an hour's wage, a pack of every material, and a margin.
WAGE, PACK, MARGIN = 7_643_19, 98_761_43, 0.3719
PLANTED = ("7643.19", "98761.43", "37.19", "0.3719", "764319", "9876143")
TEXT = ("text/", "application/json")
CURRENCY = re.compile(r"[£$€]\s?\d|\bGBP\b")
# An amount below this is a number among many; above it nobody meets one by chance.
TELLING_MINOR = 1_000_00


@pytest.fixture
def planted(studio: Studio) -> set[str]:
    """The amounts planted, and every amount that a quote worked from them comes to, as they might be written."""
    owner = User.objects.get(username="maud")
    Price.objects.update(amount_minor=PACK)
    Price.objects.filter(pack__item__key__in=("bench_hour", "overhead_hour")).update(amount_minor=WAGE)
    margin = Figure.objects.get(key="margin")
    change_figure(by=owner, figure=margin, version=margin.version, value=MARGIN)
    commission = Commission.objects.get(title="Weir Gate")
    commission.quotes.draft().delete()
    quote = issue(commission, owner)
    on = timezone.localdate()
    answer(by=owner, quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="", on=on)
    rows = ((QuoteLine, "amount_minor"), (QuotePart, "net_minor"), (QuotePayment, "amount_minor"))
    amounts = {value for model, name in rows for value in model.objects.values_list(name, flat=True)}
    for name in ("labour_minor", "material_minor", "sent_out_minor"):
        amounts.update(BudgetLine.objects.values_list(name, flat=True))
    telling = [exact(minor) / 100 for minor in amounts if minor >= TELLING_MINOR]
    assert len(telling) > 20
    return {*PLANTED, *(f"{amount:.2f}" for amount in telling)}


def texts(response: HttpResponse) -> Iterable[str]:
    """All that an answer says, files inside it included."""
    if response.content.startswith(b"PK"):
        with zipfile.ZipFile(BytesIO(response.content)) as file:
            return [file.read(name).decode(errors="replace") for name in file.namelist()]
    return [unescape(response.content.decode(errors="replace")), *(f"{value}" for value in response.headers.values())]


def told(response: HttpResponse, amounts: set[str]) -> list[str]:
    """The amounts that an answer gives away, however they are grouped."""
    found = [text.replace(",", "").replace("\N{NO-BREAK SPACE}", "") for text in texts(response)]
    return sorted({amount for amount in amounts for text in found if amount in text})


def test_the_office_does_see_what_was_planted(studio: Studio, planted: set[str]) -> None:
    client = studio.browser(Role.OFFICE)
    found = {amount for address in studio.each() for amount in told(client.get(address.path), planted)}
    assert {"7643.19", "98761.43", "37.19"} <= found
    assert len(found) > 20


@pytest.mark.parametrize("headers", [{}, {"HX-Request": "true"}], ids=["page", "fragment"])
def test_no_address_tells_the_bench_an_amount(studio: Studio, planted: set[str], headers: dict[str, str]) -> None:
    client = studio.browser(Role.BENCH)
    own = [here.path for found in walk(client, "/").addresses.values() for here in found]
    paths = {*own, *(address.path for address in studio.each())}
    answers = {path: client.get(path, headers=headers) for path in sorted(paths)}
    open_to_them = [path for path, answer in answers.items() if answer.status_code == 200]
    assert len(open_to_them) > 8
    faults = {path: told(answer, planted) for path, answer in answers.items()}
    assert {path: found for path, found in faults.items() if found} == {}
    read = [path for path in open_to_them if answers[path].headers["Content-Type"].startswith(TEXT)]
    assert [path for path in read if any(CURRENCY.search(text) for text in texts(answers[path]))] == []


def test_no_form_tells_the_bench_an_amount(studio: Studio, planted: set[str]) -> None:
    client = studio.browser(Role.BENCH)
    faults = {}
    for form in studio.forms:
        if form.method == "post" and not form.action.endswith("/sign-out/"):
            response = client.post(form.action, form.sent())
            faults[form.action] = told(response, planted)
    assert len(faults) > 20
    assert {where: found for where, found in faults.items() if found} == {}


def test_no_link_leads_the_bench_to_a_closed_door(studio: Studio) -> None:
    client = studio.browser(Role.BENCH)
    found = [here.path for addresses in walk(client, "/").addresses.values() for here in addresses]
    assert len(found) > 8
    assert [path for path in found if client.get(path).status_code == 403] == []


def test_no_link_leads_the_office_to_a_closed_door(studio: Studio) -> None:
    client = studio.browser(Role.OFFICE)
    found = [here.path for addresses in walk(client, "/").addresses.values() for here in addresses]
    assert [path for path in found if client.get(path).status_code == 403] == []


def test_a_change_of_role_holds_at_the_next_page(studio: Studio) -> None:
    password = "five rather unrelated garden words"
    person = add_person(
        by=User.objects.get(username="maud"), username="bo", shown_name="Bo", role=Role.OFFICE, password=password
    )
    client = studio.browser(Role.BENCH)
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get("/office/").status_code == 200
    User.objects.filter(pk=person.pk).update(role=Role.BENCH)
    assert client.get("/office/").status_code == 403
