"""The Standing sheet, as the office reads it."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from jobs.models import Commission
from studio.accounts.models import Role, User
from studio.money import format_minor
from tests.factories import make_commission, make_person, price_everything, signed_in
from tests.jobs.standing_samples import accepted, book, do_steps, pass_all, stage_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    price_everything(2_000)
    return make_person()


@pytest.fixture
def commission(owner: User) -> Commission:
    return accepted(owner, "Base", "Crown", extras=("haulage",))


def page_of(client: Client, commission: Commission) -> str:
    response = client.get(f"/commissions/{commission.pk}/standing/")
    assert response.status_code == 200
    return response.content.decode()


def test_before_acceptance_it_leads_to_the_price(office: Client):
    page = page_of(office, make_commission())
    assert "The standing begins when a quote is accepted" in page
    assert "Stage by stage" not in page


def test_an_accepted_commission_begins_within_its_budget(office: Client, commission: Commission):
    page = page_of(office, commission)
    assert "within the budget" in page
    assert "If the rest goes as planned; before" in page
    assert "Cannot be told yet" in page
    assert "No hours have been booked yet." in page
    assert "<h2>Over the budget" not in page


def test_it_tells_where_the_budget_is_passed_and_what_it_will_cost(office: Client, commission: Commission, owner: User):
    pattern = stage_of(commission, "pattern")
    do_steps(pattern, 3)
    book(pattern, owner, 4 * pattern.allowed_minutes, days_ago=4)
    response = office.get(f"/commissions/{commission.pk}/standing/")
    page, standing = response.content.decode(), response.context["standing"]
    assert "If the rest costs as the work so far; before" in page
    assert f"/stages/{pattern.code}/" in page
    (worst,) = standing.troubles
    for amount in (worst.over_minor, standing.expected.over_minor, standing.expected.margin_minor, standing.net_minor):
        assert format_minor(amount, "GBP") in page
    assert "Past its hours since" in page
    assert "Past its budget since" in page


def test_every_rule_it_counts_by_is_said(office: Client, commission: Commission):
    page = page_of(office, commission)
    for told in ("weighted milestones", "moving average", "spread evenly over the programme", "on-cost"):
        assert told in page


def test_a_commission_that_was_handed_over_says_what_it_cost(office: Client, commission: Commission, owner: User):
    for stage in commission.stages.all():
        pass_all(stage)
    book(stage_of(commission, "cast"), owner, 600)
    Commission.objects.filter(pk=commission.pk).update(state="done")
    page = page_of(office, commission)
    assert "What it cost" in page
    assert "Done by the plan" not in page


def test_hours_by_week_can_be_read_without_the_picture(office: Client, commission: Commission, owner: User):
    book(stage_of(commission, "cast"), owner, 450)
    page = page_of(office, commission)
    assert "<title>Hours booked by week: 7.5 h in the week of" in page
    assert "The same as a table" in page


def test_the_bench_is_refused_and_is_not_led_there(commission: Commission):
    bench = signed_in(Role.BENCH)
    address = f"/commissions/{commission.pk}/standing/"
    assert bench.get(address).status_code == 403
    assert address not in bench.get(f"/commissions/{commission.pk}/form/").content.decode()


def test_a_stranger_signs_in_first(client: Client, commission: Commission):
    assert client.get(f"/commissions/{commission.pk}/standing/").headers["Location"].startswith("/sign-in/")


def test_what_is_not_there_is_not_found(office: Client):
    assert office.get("/commissions/999999/standing/").status_code == 404
    assert office.post("/commissions/999999/standing/").status_code == 405


def test_the_sheet_asks_the_same_number_of_queries_for_one_section_and_eight(owner: User, office: Client):
    small, large = accepted(owner), accepted(owner, *"ABCDEFGH", title="Eight")
    for commission in (small, large):
        for stage in commission.stages.all():
            book(stage, owner, 30)
    counts = []
    for commission in (small, small, large):
        with CaptureQueriesContext(connection) as queries:
            page_of(office, commission)
        counts.append(len(queries))
    assert counts[1] == counts[2]
