"""The pages of the plan: what each shows to whom, the decisions, what if, and what an enquiry is told."""

import datetime
import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from jobs.models import Commission, CommissionState, Plan
from jobs.plans.reading import PlanSheet
from jobs.services.planning.suppositions import HIRE, SATURDAYS, Supposition
from studio.accounts.models import User
from studio.tasks.running import perform
from tests.factories import make_commission, make_section, price_everything, signed_in
from tests.jobs.plan_life import in_force, owner, to_plan, worked_out

pytestmark = pytest.mark.django_db

DAY = datetime.timedelta(days=1)


@pytest.fixture
def maud() -> Client:
    client = Client()
    client.force_login(owner(), backend="django.contrib.auth.backends.ModelBackend")
    return client


def perform_newest() -> Plan:
    plan = Plan.objects.latest("pk")
    perform(plan.work_id or 0)
    plan.refresh_from_db()
    return plan


def text(client: Client, name: str, *args: object, query: str = "") -> str:
    response = client.get(reverse(name, args=args) + query)
    assert response.status_code == 200
    return response.content.decode()


def plain(html: str) -> str:
    """The words of a page, in one line."""
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def test_before_there_is_a_plan_the_page_says_what_to_do(maud: Client) -> None:
    assert "There is no plan yet" in text(maud, "plan")
    assert "no plan in force" in text(maud, "plan_week")


def test_the_plan_is_asked_for_watched_shown_and_published(maud: Client) -> None:
    pear = to_plan(needed_by=timezone.localdate() + 300 * DAY)
    asked = maud.post(reverse("ask_for_plan"), {"seconds": "10"})
    plan = Plan.objects.get()
    assert asked["Location"] == reverse("plan_sheet", args=[plan.pk])
    assert "Waiting for the worker" in text(maud, "plan_sheet", plan.pk)
    Plan.objects.update(seconds=1)
    perform_newest()
    shown = text(maud, "plan_sheet", plan.pk)
    assert "best possible" in shown
    assert "Not kept" in shown
    assert '<svg xmlns="http://www.w3.org/2000/svg"' in shown
    assert "style=" not in shown
    assert "Wall calendar of" in shown
    assert "to spare" in shown
    assert maud.post(reverse("publish_plan", args=[plan.pk])).status_code == 302
    assert "In force since" in text(maud, "plan")
    assert "Done by the plan" in text(maud, "workshop")
    assert "Stage by stage" in text(maud, "commission_plan", pear.pk)


def test_a_wrong_time_to_look_is_refused_with_what_may_be_chosen(maud: Client) -> None:
    response = maud.post(reverse("ask_for_plan"), {"seconds": "9999"})
    assert response.status_code == 422
    assert "Choose how long to look." in response.content.decode()


def test_a_newer_plan_stands_beside_the_one_in_force(maud: Client) -> None:
    to_plan()
    in_force()
    newer = worked_out()
    page = text(maud, "plan")
    assert "A newer plan is worked out and not published." in page
    assert reverse("plan_sheet", args=[newer.pk]) in page
    assert maud.post(reverse("keep_plan", args=[newer.pk])).status_code == 302
    assert "Kept, not published" in text(maud, "plan_sheet", newer.pk)
    maud.post(reverse("drop_plan", args=[newer.pk]))
    assert not Plan.objects.filter(pk=newer.pk).exists()


def test_a_plan_that_may_not_be_published_says_why(maud: Client) -> None:
    to_plan()
    plan = in_force()
    response = maud.post(reverse("publish_plan", args=[plan.pk]), follow=True)
    assert "This plan is published already." in response.content.decode()
    assert "A published plan stays" in maud.post(reverse("drop_plan", args=[plan.pk]), follow=True).content.decode()


def test_the_bench_reads_the_plan_and_its_week_and_never_a_cost() -> None:
    price_everything(2_000)
    pear = to_plan(allowed_h=60, needed_by=timezone.localdate() + 3 * DAY)
    in_force()
    supposed = worked_out([Supposition(SATURDAYS, "work Saturdays", day=timezone.localdate().isoformat(), weeks=2)])
    bench = signed_in_as("ines")
    for name, args in (
        ("plan", ()),
        ("plan_sheet", (supposed.pk,)),
        ("commission_plan", (pear.pk,)),
        ("plan_week", ()),
    ):
        page = text(bench, name, *args)
        assert "£" not in page
        assert "cheapest" not in page
    assert bench.get(reverse("plan_what_if")).status_code == 403
    assert bench.post(reverse("ask_for_plan")).status_code == 403
    assert bench.post(reverse("publish_plan", args=[supposed.pk])).status_code == 403
    office = Client()
    office.force_login(owner(), backend="django.contrib.auth.backends.ModelBackend")
    assert "£" in text(office, "plan")


def signed_in_as(username: str) -> Client:
    client = Client()
    client.force_login(User.objects.get(username=username), backend="django.contrib.auth.backends.ModelBackend")
    return client


def test_the_week_tells_each_person_what_with_whom_and_what_comes_then(maud: Client) -> None:
    to_plan()
    plan = in_force()
    row = next(row for row in PlanSheet(plan).rows if row.people)
    year, week, _ = row.start.date().isocalendar()
    page = text(maud, "plan_week", query=f"?week={year}-W{week:02}")
    assert row.called in plain(page)
    assert "Jory Penhale" in page
    assert "The Long Pear" in page
    later = text(maud, "plan_week", query="?week=2001-W10")
    assert "nothing planned in this week" in later


def test_pages_take_as_many_queries_however_much_is_planned(maud: Client) -> None:
    pear = to_plan()
    plan = in_force()
    counts = []
    for _ in range(2):
        for name, args in (("plan", ()), ("commission_plan", (pear.pk,)), ("plan_week", ())):
            with CaptureQueriesContext(connection) as found:
                text(maud, name, *args)
            counts.append(len(found))
        for number in range(3):
            to_plan(f"Acorn {plan.pk} {number}", sections=("Nut", "Cup"))
        in_force()
    assert counts[:3] == counts[3:]
    assert max(counts) <= 20


def test_something_is_supposed_and_set_beside_the_present_plan(maud: Client) -> None:
    price_everything(2_000)
    pear = to_plan(allowed_h=60)
    present = in_force()
    page = text(maud, "plan_what_if")
    for heading in ("Send the painting out", "Hire", "Work Saturdays", "Put one first", "Move a date"):
        assert f"<summary>{heading}</summary>" in page
    assert "Make one more mould" not in page, "of no section several casts are to come"
    day = (present.begins + DAY).isoformat()
    sent = {"kind": "hire", "hire-people": "2", "hire-day": day, "hire-weeks": "4"}
    assert maud.post(reverse("plan_what_if"), sent).status_code == 302
    plan = perform_newest()
    assert [each["kind"] for each in plan.suppositions] == [HIRE]
    shown = plain(text(maud, "plan_sheet", plan.pk))
    assert "Suppose we hire 2 people for 4 weeks from" in shown
    assert "It costs about £" in shown
    assert f"{pear.number} The Long Pear" in shown
    then, now = PlanSheet(plan).finishes[0].finish, PlanSheet(present).finishes[0].finish
    assert (f"{(now - then).days} day" if then < now else "the same") in shown
    # One supposition more, on top of the first.
    more = maud.post(
        f"{reverse('plan_what_if')}?with={plan.pk}",
        {"kind": "saturdays", "saturdays-day": day, "saturdays-weeks": "2"},
    )
    assert more.status_code == 302
    assert [each["kind"] for each in Plan.objects.latest("pk").suppositions] == [HIRE, SATURDAYS]


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"kind": "hire", "hire-people": "two", "hire-day": "2026-13-01", "hire-weeks": ""}, "Enter a day"),
        ({"kind": "hire", "hire-people": "9", "hire-day": "2026-03-02", "hire-weeks": "2"}, "the most is 6"),
        ({"kind": "paint out", "paint_out-commission": "999"}, "Choose a commission from the list."),
        ({"kind": "order", "order-earlier": "s0", "order-later": ""}, "Choose the stage that comes first."),
        ({"kind": "second mould", "second_mould-section": "x"}, "Choose a section from the list."),
        ({"kind": "split", "split-section": "x"}, "Choose a section from the list."),
        ({"kind": "move date", "move_date-site_from": "9999-12-31"}, "9999-12-31 is too far off"),
        ({"kind": "nonsense"}, "This page lost its place"),
        ({}, "This page lost its place"),
    ],
)
def test_bad_input_is_answered_with_what_to_do(maud: Client, sent: dict[str, str], told: str) -> None:
    response = maud.post(reverse("plan_what_if"), sent)
    assert response.status_code == 422
    assert told in response.content.decode()
    if "hire-people" in sent:
        assert f'value="{sent["hire-people"]}"' in response.content.decode()


def enquiry() -> Commission:
    found = make_commission("Tide Lantern")
    make_section(found, "Foot")
    return found


def test_an_enquiry_is_told_when_it_would_be_done_and_fills_the_quote(maud: Client) -> None:
    pear, lantern = to_plan(), enquiry()
    in_force()
    assert "When could we take it on" in text(maud, "commission_plan", lantern.pk)
    asked = maud.post(reverse("when_could_it_be_done", args=[lantern.pk]))
    assert asked["Location"] == reverse("commission_plan", args=[lantern.pk])
    plan = perform_newest()
    page = plain(text(maud, "commission_plan", lantern.pk))
    finish = PlanSheet(plan).finish_of(lantern.pk)
    assert finish is not None
    weeks = -(-((finish.p80 - plan.begins).days + 1) // 7)
    assert f"That is {weeks} week" in page
    assert f"{pear.number} The Long Pear" in page
    maud.post(reverse("fill_programme", args=[lantern.pk]))
    assert lantern.quotes.get(issued_at=None).programme_weeks == weeks


def test_an_enquiry_without_sections_says_what_is_missing(maud: Client) -> None:
    lantern = make_commission("Tide Lantern")
    response = maud.post(reverse("when_could_it_be_done", args=[lantern.pk]), follow=True)
    assert "describe the first on its Form sheet" in response.content.decode()
    early = maud.post(reverse("fill_programme", args=[lantern.pk]), follow=True)
    assert "Ask first when it could be done" in early.content.decode()


def test_the_commissioner_reads_a_day_by_decision_alone(maud: Client) -> None:
    pear = to_plan(needed_by=timezone.localdate() + 300 * DAY)
    refused = maud.post(reverse("tell_commissioner", args=[pear.pk]), follow=True)
    assert "does not hold this commission" in refused.content.decode()
    plan = in_force()
    assert pear.publications.count() == 0
    maud.post(reverse("tell_commissioner", args=[pear.pk]))
    finish = PlanSheet(plan).finish_of(pear.pk)
    assert finish is not None
    assert pear.publications.get().expected_on == finish.p80
    assert "expected by" in text(maud, "commission_plan", pear.pk)


def test_a_commission_that_the_plan_does_not_hold_says_so(maud: Client) -> None:
    to_plan()
    in_force()
    later = make_commission("Six Acorns", state=CommissionState.ACCEPTED)
    assert "does not hold this commission" in text(maud, "commission_plan", later.pk)


def test_somebody_else_is_asked_to_sign_in() -> None:
    assert Client().get(reverse("plan"))["Location"].startswith("/sign-in/")
    assert signed_in("office").get(reverse("plan")).status_code == 200
