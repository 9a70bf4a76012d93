"""The list of commissions, opening one, its particulars and its record."""

from typing import Any

import pytest
from django.test import Client

from jobs.models import Commission
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_commission, make_person

pytestmark = pytest.mark.django_db

PARTICULARS = {"title": "Tide Lantern", "commissioner": "Eastmere Harbour Trust", "place": "The inner mole"}


@pytest.fixture
def office(client: Client) -> Client:
    client.force_login(make_person(Role.OFFICE))
    return client


@pytest.fixture
def bench(client: Client) -> Client:
    client.force_login(make_person(Role.BENCH))
    return client


@pytest.mark.parametrize(
    "path", ["/", "/commissions/", "/commissions/new/", "/commissions/1/", "/commissions/1/record/"]
)
def test_it_asks_strangers_to_sign_in(client: Client, path: str) -> None:
    response = client.get(path)
    assert response.status_code == 302
    assert response["Location"].startswith("/sign-in/")


def test_it_sends_htmx_to_the_sign_in_page_rather_than_swapping_it_in(client: Client) -> None:
    response = client.get("/commissions/", headers={"HX-Request": "true"})
    assert response["HX-Redirect"] == "/sign-in/"


def test_it_opens_a_commission_under_the_next_number_of_the_year(office: Client) -> None:
    make_commission(number="26-009")
    response = office.post("/commissions/new/", PARTICULARS)
    opened = Commission.objects.latest("pk")
    assert response["Location"] == f"/commissions/{opened.pk}/form/"
    year, count = opened.number.split("-")
    assert count == ("010" if year == "26" else "001")
    assert AuditEntry.objects.about(opened.subject).get().act == "Commission opened"


def test_it_numbers_past_a_thousand(office: Client) -> None:
    make_commission(number="26-999")
    office.post("/commissions/new/", PARTICULARS)
    number = Commission.objects.latest("pk").number
    assert number in ("26-1000", "27-001")


def test_it_keeps_what_was_typed_when_something_is_missing(office: Client) -> None:
    response = office.post("/commissions/new/", {"title": "", "commissioner": "The Harbour", "email": "not an address"})
    page = response.content.decode()
    assert response.status_code == 422
    assert "Enter what the work is called." in page
    assert 'value="The Harbour"' in page
    assert 'value="not an address"' in page
    assert "<title>Error: " in page
    assert not Commission.objects.exists()


def test_the_bench_may_not_open_one(bench: Client) -> None:
    assert bench.get("/commissions/new/").status_code == 403
    assert bench.post("/commissions/new/", PARTICULARS).status_code == 403
    assert not Commission.objects.exists()


def test_it_finds_by_words_without_case_or_accents(office: Client) -> None:
    make_commission("The Long Pear", commissioner="Châtelaine Gärtnerei")
    make_commission("Six Acorns", commissioner="Harrow Hill Parish")
    page = office.get("/commissions/", {"q": "gartnerei LONG"}).content.decode()
    assert "The Long Pear" in page
    assert "Six Acorns" not in page


def test_it_says_when_nothing_is_found(office: Client) -> None:
    make_commission()
    assert "No commission holds “zeppelin”" in office.get("/commissions/", {"q": "zeppelin"}).content.decode()


def test_htmx_gets_the_rows_that_the_page_includes(office: Client) -> None:
    make_commission()
    page = office.get("/commissions/")
    rows = office.get("/commissions/", headers={"HX-Request": "true"})
    assert rows.content.decode().strip() in page.content.decode()
    assert "<html" not in rows.content.decode()
    assert "HX-Request" in page["Vary"]


def test_the_list_takes_as_many_queries_for_a_page_full_as_for_one(
    office: Client, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    make_commission()
    with django_assert_max_num_queries(12) as one:
        office.get("/commissions/")
    for number in range(60):
        make_commission(f"Work {number}", number=f"25-{number:03d}")
    with django_assert_num_queries(len(one)):
        office.get("/commissions/")


def test_it_saves_the_particulars_and_records_what_changed(office: Client) -> None:
    commission = make_commission(place="The gate")
    response = office.post(f"/commissions/{commission.pk}/", {**PARTICULARS, "version": 0})
    assert response.status_code == 302
    commission.refresh_from_db()
    assert commission.title == "Tide Lantern"
    entry = AuditEntry.objects.about(commission.subject).get()
    assert entry.before["title"] == "The Long Pear"
    assert entry.after["title"] == "Tide Lantern"
    assert "email" not in entry.after


def test_the_second_of_two_people_is_told_and_loses_nothing(office: Client) -> None:
    commission = make_commission()
    office.post(f"/commissions/{commission.pk}/", {**PARTICULARS, "version": 0})
    late = office.post(f"/commissions/{commission.pk}/", {**PARTICULARS, "title": "Mine instead", "version": 0})
    page = late.content.decode()
    assert late.status_code == 409
    assert 'value="Mine instead"' in page
    assert "Tide Lantern" in page
    commission.refresh_from_db()
    assert commission.title == "Tide Lantern"
    again = office.post(f"/commissions/{commission.pk}/", {**PARTICULARS, "title": "Mine instead", "version": 1})
    assert again.status_code == 302


def test_the_bench_reads_the_particulars_and_cannot_change_them(bench: Client) -> None:
    commission = make_commission()
    page = bench.get(f"/commissions/{commission.pk}/").content.decode()
    assert "Fallow Lane Market Garden" in page
    assert '<form class="sheetform"' not in page
    assert bench.post(f"/commissions/{commission.pk}/", {**PARTICULARS, "version": 0}).status_code == 403


def test_the_bench_does_not_see_entries_that_hold_money(bench: Client) -> None:
    commission = make_commission()
    AuditEntry.objects.create(
        subject=commission.subject, act="Draft changed", after={"cost": "987654.32"}, has_money=True
    )
    AuditEntry.objects.create(subject=commission.subject, act="Section added: Base")
    page = bench.get(f"/commissions/{commission.pk}/record/").content.decode()
    assert "Section added: Base" in page
    assert "987654" not in page


def test_there_is_a_plain_404_for_a_commission_that_is_not_there(office: Client) -> None:
    response = office.get("/commissions/4711/")
    assert response.status_code == 404
    assert "There is no such sheet" in response.content.decode()


def test_every_page_carries_the_policy_and_is_not_kept_in_a_cache(office: Client) -> None:
    response = office.get("/commissions/")
    assert "unsafe" not in response["Content-Security-Policy"]
    assert "default-src 'none'" in response["Content-Security-Policy"]
    assert response["Cache-Control"] == "no-store"
    assert response["X-Content-Type-Options"] == "nosniff"


def test_a_title_is_one_line_whatever_was_sent(office: Client) -> None:
    office.post("/commissions/new/", {**PARTICULARS, "title": "Tide\r\n  Lantern"})
    assert Commission.objects.get().title == "Tide Lantern"


WINDOW = {"needed_by": "2027-05-20", "site_from": "2027-05-12", "site_until": "2027-05-16", "version": 0}


def test_the_days_of_a_site_are_kept_and_shown_to_the_bench(office: Client) -> None:
    commission = make_commission()
    typed = {**PARTICULARS, **WINDOW, "site_shut": "2027-05-14,  2027-05-13\n2027-05-14"}
    assert office.post(f"/commissions/{commission.pk}/", typed).status_code == 302
    commission.refresh_from_db()
    assert commission.site_shut == ["2027-05-13", "2027-05-14"]
    assert commission.last_day == commission.site_until
    page = office.get(f"/commissions/{commission.pk}/").content.decode()
    # A browser takes a day in this form alone, and would send back an empty one in any other.
    assert all(f'value="{day}"' in page for day in ("2027-05-20", "2027-05-12", "2027-05-16"))
    assert 'value="2027-05-13, 2027-05-14"' in page
    reader = Client()
    reader.force_login(make_person(Role.BENCH, username="ines"))
    read = reader.get(f"/commissions/{commission.pk}/").content.decode()
    assert "The site takes it from" in read
    assert "but nothing on" in read


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"site_until": "2027-05-11"}, "That is before the first day, 12 May; give a later one."),
        ({"site_until": "2027-05-24"}, "It is needed by 23 May; give that day or an earlier one"),
        ({"needed_by": "2027-05-08"}, "It is needed by 11 May, before the site takes it; move one of the two days."),
        ({"site_shut": "2027-05-17"}, "2027-05-17 lies outside the days on which the site takes it."),
        ({"site_shut": "Whit Monday"}, "“Whit” is not a day; enter days such as 2027-05-14, 2027-05-15."),
        ({"site_from": "soon"}, "Enter a day as year, month and day"),
        ({"needed_by": "9999-12-31"}, "9999-12-31 is too far off; enter a day from 2000-01-01 to 2100-12-31."),
        ({"site_until": "1999-12-31"}, "1999-12-31 is too far off"),
        ({"site_shut": "2027-05-14, 9999-12-31"}, "9999-12-31 is too far off"),
    ],
)
def test_days_of_a_site_that_cannot_be_are_refused_in_words(office: Client, typed: dict[str, str], told: str) -> None:
    commission = make_commission()
    Commission.objects.update(days_varied=3)
    given = {**PARTICULARS, **WINDOW, **typed}
    response = office.post(f"/commissions/{commission.pk}/", given)
    page = response.content.decode()
    assert response.status_code == 422
    assert told in page
    assert all(f'value="{value}"' in page for value in typed.values())
    commission.refresh_from_db()
    assert commission.site_from is None
