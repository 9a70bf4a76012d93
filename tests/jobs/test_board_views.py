"""The wall chart: sections by stages, each state by word and mark, and nothing that costs a query more."""

import datetime
import re
import uuid
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from jobs.board import Cell, charts, reached
from jobs.models import Clock, Commission, SentOutWork, Stage, StageState
from jobs.services import stages as services
from jobs.services.hours import book
from studio.accounts.models import Role, User
from tests.factories import make_commission, make_person, make_section
from tests.jobs.sign_off_life import approve
from tests.jobs.stage_life import BEGUN, USUAL, anybody, give_stages, in_hand, make_passed, make_ready, the, work

pytestmark = pytest.mark.django_db
AGAIN = {"HX-Request": "true"}


@pytest.fixture
def bench(client: Client) -> Client:
    client.force_login(make_person(Role.BENCH))
    return client


@pytest.fixture
def commission() -> Commission:
    return in_hand(sections=("Base", "Crown"))


def cell(commission: Commission, key: str, section: str = "Base", now: datetime.datetime | None = None) -> Cell:
    chart = charts([commission], now or timezone.now())[commission.pk]
    return next(each for each in chart.cells() if (each.section, each.key) == (section, key))


def booked(stage: Stage, minutes: int, person: User | None = None) -> None:
    today = timezone.localdate()
    by = person or anybody()
    given = {"work_date": today, "minutes": minutes, "key": uuid.uuid4(), "at": timezone.now()}
    book(by=by, person=by, stage=stage, **given)


def page_of(client: Client, commission: Commission) -> str:
    response = client.get(f"/commissions/{commission.pk}/board/")
    assert response.status_code == 200
    return str(response.content.decode())


def test_each_state_has_its_word(commission: Commission) -> None:
    pattern = the(commission, "pattern")
    assert cell(commission, "pattern").words == "not begun"
    work(pattern, steps=3)
    during = cell(commission, "pattern", now=BEGUN + datetime.timedelta(hours=1))
    assert (during.state, during.words) == ("hold", "on hold until Mon 2 Mar 20:00")
    assert during.note == "plaster filler dries, at 20 °C"
    assert cell(commission, "pattern", now=BEGUN + datetime.timedelta(days=1)).words == "in hand"
    crown = the(commission, "pattern", "Crown")
    at = make_ready(crown)
    ready = cell(commission, "pattern", "Crown", at)
    assert (ready.words, ready.note) == ("ready to check", "sign-off awaited: form of the pattern")
    approve(crown, at)
    services.pass_stage(by=anybody(), stage=crown, at=at)
    assert cell(commission, "pattern", "Crown", at).words == f"passed {at.day} Mar"
    services.reopen(by=anybody(), stage=crown, reason="Nose broken off", at=at)
    again = cell(commission, "pattern", "Crown", at)
    assert (again.words, again.note) == ("reopened", "Nose broken off")


def test_the_page_says_state_hours_and_who_beside_each_other(bench: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    Stage.objects.filter(pk=pattern.pk).update(allowed_minutes=120)
    ines = User.objects.get(role=Role.BENCH)
    booked(pattern, 180, ines)
    Clock.objects.create(person=anybody(), stage=pattern, started_at=timezone.now())
    page = page_of(bench, commission)
    assert "<b>3 h</b> / 2 h" in page
    assert "1 h over" in page
    assert re.search(r"Tam since \d\d:\d\d, Ines", page)
    assert 'href="/stages/' + pattern.code in page
    assert "in hand" in page
    assert page.count('scope="row"') == 2


def test_a_section_without_a_stage_has_an_empty_place(bench: Client, commission: Commission) -> None:
    the(commission, "crate", "Crown").delete()
    assert page_of(bench, commission).count("no such stage") == 1


def test_what_concerns_the_whole_stands_in_its_own_row(bench: Client, commission: Commission) -> None:
    give_stages(commission, None, ("install",))
    page = page_of(bench, commission)
    assert "Whole commission" in page
    chart = charts([commission], timezone.now())[commission.pk]
    assert chart.columns == ("Pattern", "Mould", "Cast", "Finish", "Crate", "Install")
    assert [row.name for row in chart.rows] == ["Base", "Crown", "Whole commission"]


def test_below_stand_holds_what_others_have_and_the_date(bench: Client, commission: Commission) -> None:
    Commission.objects.update(needed_by=timezone.localdate() - datetime.timedelta(days=5))
    work(the(commission, "pattern"), timezone.now(), steps=3)
    make_ready(the(commission, "pattern", "Crown"))
    given = {"commission": commission, "firm": "Hollin Galvanising", "currency": "GBP", "agreed_minor": 77_123}
    today = timezone.localdate()
    SentOutWork.objects.create(what="Base frame", ordered_on=today, out_on=today, due_back=BEGUN.date(), **given)
    SentOutWork.objects.create(what="Old frame", ordered_on=today, out_on=today, back_on=today, **given)
    page = page_of(bench, commission)
    assert "plaster filler dries, at 20 °C." in page
    assert "sign-off awaited, form of the pattern." in page
    assert "Base frame, Hollin Galvanising: due back 2 Mar, late." in page
    assert "Old frame" not in page
    assert "5 days late" in page
    assert "771.23" not in page


def test_a_board_without_stages_says_how_it_begins(bench: Client) -> None:
    commission = make_commission()
    make_section(commission)
    page = page_of(bench, commission)
    assert "The board begins when a quote is accepted" in page
    assert "<svg" in page


def test_each_section_is_drawn_in_the_hatch_it_has_reached(bench: Client, commission: Commission) -> None:
    make_passed(the(commission, "pattern"))
    services.begin(by=anybody(), stage=the(commission, "mould"), at=BEGUN)
    page = page_of(bench, commission)
    uid = f"c{commission.pk}"
    assert f"url(#{uid}-mould)" in page
    assert f"url(#{uid}-pattern)" not in page
    assert "Base: mould" in page


def test_a_crate_begun_beforehand_does_not_run_ahead_of_the_work() -> None:
    def stage(key: str, state: str, waits: str) -> Stage:
        return Stage(key=key, state=state, waits=waits)

    first = stage("pattern", StageState.IN_HAND, "")
    crate = stage("crate", StageState.IN_HAND, "")
    assert reached([stage("pattern", StageState.NOT_BEGUN, ""), crate]) is None
    assert reached([first, stage("mould", StageState.NOT_BEGUN, "passed"), crate]) == "pattern"
    assert reached([first, crate]) == "pattern"
    assert reached([stage("pattern", StageState.PASSED, ""), crate]) == "crate"
    assert reached([]) is None


def test_the_page_asks_again_and_is_answered_only_when_something_has_changed(
    bench: Client, commission: Commission
) -> None:
    page = page_of(bench, commission)
    assert f'hx-get="/commissions/{commission.pk}/board/"' in page
    seen = re.search(r'name="seen" value="(\w+)"', page)
    assert seen
    address = f"/commissions/{commission.pk}/board/"
    assert bench.get(address, {"seen": seen[1]}, headers=AGAIN).status_code == 204
    services.begin(by=anybody(), stage=the(commission, "pattern"), at=timezone.now())
    again = bench.get(address, {"seen": seen[1]}, headers=AGAIN)
    assert again.status_code == 200
    assert "<html" not in again.content.decode()
    assert "in hand" in again.content.decode()
    assert again.headers["Vary"].count("HX-Request") == 1


def test_it_takes_as_many_queries_for_fifty_sections_as_for_five(
    bench: Client, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    commission = in_hand(sections=[f"Ring {number}" for number in range(5)])
    booked(the(commission, "pattern", "Ring 1"), 60)
    with django_assert_max_num_queries(16) as five:
        page_of(bench, commission)
    for number in range(5, 50):
        give_stages(commission, make_section(commission, f"Ring {number}"), USUAL)
    booked(the(commission, "pattern", "Ring 40"), 60, make_person(Role.BENCH, username="jory"))
    with django_assert_num_queries(len(five)):
        page_of(bench, commission)


def test_a_stranger_signs_in_first_and_a_board_that_is_not_there_is_not_found(client: Client, bench: Client) -> None:
    assert bench.get("/commissions/999/board/").status_code == 404
    assert Client().get("/commissions/1/board/").headers["Location"].startswith("/sign-in/")
