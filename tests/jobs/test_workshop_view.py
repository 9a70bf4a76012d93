"""The workshop at a glance."""

import datetime
import uuid
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.board import Chart, days_late
from jobs.glances import Glance
from jobs.models import Clock, Commission, HourEntry, Stage
from jobs.services.stages import reopen
from studio.accounts.models import Role
from tests.factories import make_commission, make_person, make_section
from tests.jobs.stage_life import anybody, in_hand, make_passed, make_ready, the, work

pytestmark = pytest.mark.django_db


def test_it_shows_what_is_live_with_its_outline(client: Client) -> None:
    client.force_login(make_person(Role.BENCH))
    make_section(make_commission("The Long Pear"))
    make_commission("Long gone", state="done")
    page = client.get("/").content.decode()
    assert "The Long Pear" in page
    assert "<svg" in page
    assert "Long gone" not in page


def test_it_says_how_to_begin_where_there_is_nothing(client: Client) -> None:
    client.force_login(make_person(Role.OWNER))
    page = client.get("/").content.decode()
    assert "Nothing is in hand." in page
    assert 'href="/commissions/new/"' in page


def test_it_takes_as_many_queries_for_ten_as_for_one(
    client: Client, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    client.force_login(make_person())
    make_section(make_commission())
    with django_assert_max_num_queries(15) as one:
        client.get("/")
    for number in range(9):
        make_section(make_commission(f"Work {number}"))
    with django_assert_num_queries(len(one)):
        client.get("/")


def test_it_says_what_is_on_hold_waits_for_a_signature_was_reopened_and_is_late(client: Client) -> None:
    client.force_login(make_person(Role.BENCH))
    commission = in_hand("Six Acorns", sections=("Nut", "Cup", "Stalk"))
    Commission.objects.update(needed_by=timezone.localdate() - datetime.timedelta(days=1))
    work(the(commission, "pattern", "Nut"), timezone.now(), steps=3)
    make_ready(the(commission, "pattern", "Cup"))
    stalk = the(commission, "pattern", "Stalk")
    reopen(by=anybody(), stage=stalk, reason="Too thin at the neck", at=make_passed(stalk))
    page = client.get("/").content.decode()
    assert "1 day late" in page
    assert "Nut, pattern</a>, on hold until" in page
    assert "Cup, pattern</a>: form of the pattern" in page
    assert "Stalk, pattern</a>: Too thin at the neck" in page
    assert "Nobody is on it today." in page
    assert f'href="/commissions/{commission.pk}/board/"' in page


def test_it_says_who_is_on_what_today_and_where_hours_ran_over(client: Client) -> None:
    ines = make_person(Role.BENCH)
    client.force_login(ines)
    pattern = the(in_hand(), "pattern")
    Stage.objects.filter(pk=pattern.pk).update(allowed_minutes=60)
    Clock.objects.create(person=ines, stage=pattern, started_at=timezone.now())
    HourEntry.objects.create(
        person=ines, booked_by=ines, stage=pattern, work_date=timezone.localdate(), minutes=120, key=uuid.uuid4()
    )
    page = client.get("/").content.decode()
    assert "Ines since " in page
    assert "Base, pattern</a>: 1 h over" in page
    assert page.count("Ines since") == 1
    make_passed(pattern)
    assert "1 h over" not in client.get("/").content.decode()


def test_boards_take_as_many_queries_for_ten_commissions_as_for_one(
    client: Client, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    client.force_login(make_person())
    in_hand()
    with django_assert_max_num_queries(15) as one:
        client.get("/")
    for number in range(9):
        in_hand(f"Work {number}", sections=("Base", "Crown"))
    with django_assert_num_queries(len(one)):
        client.get("/")


def test_a_workshop_with_more_than_a_page_says_so(client: Client) -> None:
    client.force_login(make_person())
    for number in range(25):
        make_commission(f"Work {number}")
    page = client.get("/").content.decode()
    assert page.count('class="card"') == 24
    assert "There are more" in page


@pytest.mark.parametrize(
    ("planned", "today", "late", "spare"),
    [(4, 1, 0, 6), (10, 1, 0, 0), (13, 1, 3, None), (13, 11, 3, None), (4, 12, 2, None), (None, 12, 2, None)],
)
def test_a_glance_has_one_number_of_days_for_how_late_a_commission_is(
    planned: int | None, today: int, late: int, spare: int | None
) -> None:
    commission = Commission(needed_by=datetime.date(2026, 5, 10), state="accepted")
    day = datetime.date(2026, 5, planned) if planned else None
    days = days_late(commission, datetime.date(2026, 5, today), day)
    chart = Chart((), (), planned=day, days_late=days)
    assert (days, Glance(commission, chart, SafeString("")).days_to_spare) == (late, spare)
