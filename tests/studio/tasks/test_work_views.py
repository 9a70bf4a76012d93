"""The bar, with a script and without, and the button that stops the work."""

import pytest
from django.test import Client

from studio.accounts.models import User
from studio.tasks import queue
from studio.tasks.models import Work
from tests.factories import signed_in

pytestmark = pytest.mark.django_db


def work_of(person: User, **values: object) -> Work:
    work = queue.enqueue(kind="test", title="Measuring Tide Lantern", about={}, page="/commissions/", by=person)
    Work.objects.filter(pk=work.pk).update(**values)
    work.refresh_from_db()
    return work


def test_the_page_shows_how_far_it_is_without_a_script() -> None:
    browser = signed_in("office")
    work = work_of(User.objects.get(), state="running", progress=425, step="Cutting")
    page = browser.get(f"/work/{work.pk}/").content.decode()
    assert '<progress max="1000" value="425"' in page
    assert "42 %" in page
    assert "Cutting" in page
    assert "Look again" in page


def test_the_fragment_asks_again_until_there_is_nothing_to_wait_for() -> None:
    browser = signed_in("office")
    work = work_of(User.objects.get())
    answer = browser.get(f"/work/{work.pk}/", headers={"HX-Request": "true"})
    assert 'hx-trigger="every 1s"' in answer.content.decode()
    assert "HX-Refresh" not in answer.headers
    Work.objects.update(state="done")
    answer = browser.get(f"/work/{work.pk}/", headers={"HX-Request": "true"})
    assert "hx-trigger" not in answer.content.decode()
    assert answer.headers["HX-Refresh"] == "true"


def test_the_office_stops_it_and_the_bench_may_not() -> None:
    bench = signed_in("bench")
    work = work_of(User.objects.get())
    assert bench.post(f"/work/{work.pk}/stop/").status_code == 403
    assert "Stop it" not in bench.get(f"/work/{work.pk}/").content.decode()
    office = signed_in("office")
    answer = office.post(f"/work/{work.pk}/stop/")
    work.refresh_from_db()
    assert (answer.status_code, answer.headers["Location"], work.state) == (302, "/commissions/", "cancelled")


def test_a_stranger_signs_in_first() -> None:
    assert Client().get("/work/1/").headers["Location"].startswith("/sign-in/")
