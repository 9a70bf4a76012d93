"""The page that a label opens: everything on it for a gloved hand, and every refusal in words."""

import datetime

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Commission, Stage
from studio.accounts.models import Role
from tests.factories import make_person
from tests.jobs.stage_life import BEGUN, give_stages, in_hand, make_passed, make_ready, the, work

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    return in_hand()


@pytest.fixture
def pattern(commission: Commission) -> Stage:
    return the(commission, "pattern")


@pytest.fixture
def bench(client: Client) -> Client:
    client.force_login(make_person(Role.BENCH))
    return client


def page_of(client: Client, stage: Stage) -> str:
    response = client.get(f"/stages/{stage.code}/")
    assert response.status_code == 200
    return str(response.content.decode())


def test_a_label_read_aloud_opens_the_stage_in_small_letters(bench: Client, pattern: Stage) -> None:
    assert "Base, pattern" in bench.get(f"/stages/{pattern.code.lower()}/").content.decode()
    assert bench.get("/stages/NOWHER/").status_code == 404


def test_a_stage_is_begun_its_steps_done_and_its_checks_looked_at(bench: Client, pattern: Stage) -> None:
    address = f"/stages/{pattern.code}/"
    assert "Begin Base, pattern" in page_of(bench, pattern)
    assert bench.post(f"{address}move/", {"act": "begin"}).headers["Location"] == address
    assert "Done: Foam blocked up and roughed out" in page_of(bench, pattern)
    first = pattern.steps.all()[0]
    page = bench.post(f"{address}steps/{first.pk}/", {"done": "1"}, follow=True).content.decode()
    assert "“Foam blocked up and roughed out” is done." in page
    assert "Done: Carved to form" in page
    check = pattern.checks.all()[0]
    bench.post(f"{address}checks/{check.pk}/", {"seen": "1"})
    check.refresh_from_db()
    assert check.seen_by is not None
    bench.post(f"{address}checks/{check.pk}/", {"seen": "0"})
    check.refresh_from_db()
    assert check.seen_at is None


def test_a_step_is_taken_back(bench: Client, pattern: Stage) -> None:
    work(pattern, steps=1)
    step = pattern.steps.all()[0]
    assert "Take it back" in page_of(bench, pattern)
    bench.post(f"/stages/{pattern.code}/steps/{step.pk}/", {"done": "0"})
    step.refresh_from_db()
    assert step.done_at is None


def test_the_warmth_of_the_workshop_is_chosen_where_something_cures(bench: Client, pattern: Stage) -> None:
    work(pattern, steps=1)
    assert "How warm is the workshop?" not in page_of(bench, pattern)
    work_on = pattern.steps.all()[1]
    bench.post(f"/stages/{pattern.code}/steps/{work_on.pk}/", {"done": "1"})
    page = page_of(bench, pattern)
    assert '<option value="20" selected>20 °C</option>' in page
    fill = pattern.steps.all()[2]
    bench.post(f"/stages/{pattern.code}/steps/{fill.pk}/", {"done": "1", "temperature": "12"})
    pattern.refresh_from_db()
    assert pattern.hold_until is not None
    left = pattern.hold_until - timezone.now()
    assert datetime.timedelta(hours=23) < left <= datetime.timedelta(hours=24)
    assert "1 day to go" in page_of(bench, pattern) or "23 h" in page_of(bench, pattern)


def test_while_a_hold_runs_the_page_says_until_when_and_offers_nothing_to_do(bench: Client, pattern: Stage) -> None:
    work(pattern, timezone.now(), steps=3)
    page = page_of(bench, pattern)
    assert "On hold until" in page
    assert "Plaster filler dries, at 20 °C: 12 h to go." in page
    assert "Done: Foam closed" not in page
    step = pattern.steps.all()[3]
    refused = bench.post(f"/stages/{pattern.code}/steps/{step.pk}/", {"done": "1"})
    assert refused.status_code == 409
    assert "cannot be done yet: it is on hold until" in refused.content.decode()
    assert "<title>Error: " in refused.content.decode()


def test_what_is_missing_is_listed_before_anybody_presses(
    bench: Client, commission: Commission, pattern: Stage
) -> None:
    assert "Base, pattern has not passed." in page_of(bench, the(commission, "mould"))
    assert "Begin Base, mould" not in page_of(bench, the(commission, "mould"))
    make_ready(pattern)
    page = page_of(bench, pattern)
    assert "The sign-off “Form of the pattern” has not been given." in page
    assert "Pass Base, pattern" not in page


def test_pressing_all_the_same_is_refused_with_what_is_missing(bench: Client, pattern: Stage) -> None:
    make_ready(pattern)
    refused = bench.post(f"/stages/{pattern.code}/move/", {"act": "pass"})
    assert refused.status_code == 409
    assert "cannot pass yet: the sign-off “Form of the pattern” has not been given." in refused.content.decode()


def test_the_bench_does_not_ask_for_a_sign_off(bench: Client, pattern: Stage) -> None:
    make_ready(pattern)
    page = page_of(bench, pattern)
    assert "It does not pass before the commissioner has approved it." in page
    assert "Ask for the sign-off" not in page


def test_reopening_wants_a_reason_and_keeps_what_was_typed(bench: Client, pattern: Stage) -> None:
    make_passed(pattern)
    address = f"/stages/{pattern.code}/move/"
    empty = bench.post(address, {"act": "reopen", "reason": ""})
    assert empty.status_code == 422
    assert "Enter why it is reopened" in empty.content.decode()
    long = bench.post(address, {"act": "reopen", "reason": "x" * 301})
    assert long.status_code == 422
    assert 'value="' + "x" * 301 in long.content.decode()
    page = bench.post(address, {"act": "reopen", "reason": "Nose broken off"}, follow=True).content.decode()
    assert "Reopened" in page
    assert "Nose broken off." in page


@pytest.mark.parametrize("body", [{}, {"act": "explode"}])
def test_a_move_that_is_none_is_refused_plainly(bench: Client, pattern: Stage, body: dict[str, str]) -> None:
    response = bench.post(f"/stages/{pattern.code}/move/", body)
    assert response.status_code == 422
    assert "This page lost its place; load it again." in response.content.decode()


@pytest.mark.parametrize("temperature", ["99", "warm", "-3"])
def test_a_warmth_that_is_not_offered_is_refused(bench: Client, pattern: Stage, temperature: str) -> None:
    work(pattern, steps=2)
    fill = pattern.steps.all()[2]
    body = {"done": "1", "temperature": temperature}
    response = bench.post(f"/stages/{pattern.code}/steps/{fill.pk}/", body)
    assert response.status_code == 422
    assert "Choose how warm the workshop is." in response.content.decode()


def test_a_step_of_another_stage_is_not_done_here(bench: Client, commission: Commission, pattern: Stage) -> None:
    work(pattern, steps=1)
    step, check = the(commission, "mould").steps.all()[0], the(commission, "mould").checks.all()[0]
    assert bench.post(f"/stages/{pattern.code}/steps/{step.pk}/", {"done": "1"}).status_code == 404
    assert bench.post(f"/stages/{pattern.code}/checks/{check.pk}/", {"seen": "1"}).status_code == 404


def test_a_commission_handed_over_shows_its_stages_and_moves_none(bench: Client, pattern: Stage) -> None:
    make_passed(pattern)
    Commission.objects.update(state="done")
    page = page_of(bench, pattern)
    assert "Reopen" not in page
    assert "How long?" not in page
    response = bench.post(f"/stages/{pattern.code}/move/", {"act": "reopen", "reason": "A crack"})
    assert response.status_code == 409
    assert "is not in hand" in response.content.decode()


def test_hours_are_booked_from_the_same_page(bench: Client, pattern: Stage) -> None:
    assert "Book hours on Base, pattern" in page_of(bench, pattern)


def test_a_stage_of_the_whole_has_its_page_too(bench: Client, commission: Commission) -> None:
    give_stages(commission, None, ("install",))
    assert "Whole, install" in page_of(bench, commission.stages.get(key="install"))


def test_what_was_typed_stays_text(bench: Client, pattern: Stage) -> None:
    make_passed(pattern, BEGUN)
    page = bench.post(
        f"/stages/{pattern.code}/move/", {"act": "reopen", "reason": "<script>alert(1)</script>"}, follow=True
    ).content.decode()
    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)" in page


@pytest.mark.parametrize("path", ["", "move/", "steps/1/", "checks/1/"])
def test_a_stranger_signs_in_first(client: Client, pattern: Stage, path: str) -> None:
    response = client.post(f"/stages/{pattern.code}/{path}", {})
    assert response.status_code == 302
    assert response.headers["Location"].startswith("/sign-in/")
