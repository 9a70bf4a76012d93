"""The bench page without a script, and what a phone's queue is answered."""

import datetime
import uuid
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from jobs.models import Clock, HourEntry, Stage
from jobs.services.clocks import start
from studio.accounts.models import Role, User
from studio.office.models import House
from studio.once import KeyUsed
from tests.factories import make_commission, make_open_stage, make_person, make_section, signed_in

pytestmark = pytest.mark.django_db
QUEUE = {"Accept": "application/json"}


@pytest.fixture
def stage() -> Stage:
    return make_open_stage(make_section(make_commission()))


@pytest.fixture
def bench() -> Client:
    return signed_in(Role.BENCH)


def person() -> User:
    return User.objects.get(username="ines")


def tapped(on: Stage, **values: Any) -> dict[str, Any]:
    return {
        "key": str(uuid.uuid4()),
        "person": person().pk,
        "work_date": timezone.localdate().isoformat(),
        "stage": on.pk,
        "minutes": 60,
    } | values


def text(response: Any) -> str:
    return response.content.decode()


def test_the_page_offers_every_stage_in_hand_and_shows_no_money(bench: Client, stage: Stage) -> None:
    page = text(bench.get("/bench/"))
    assert f'name="stage" value="{stage.pk}"' in page
    assert "The Long Pear" in page
    assert "£" not in page


def test_a_stage_of_a_commission_that_is_not_accepted_is_not_offered(bench: Client, stage: Stage) -> None:
    stage.commission.state = "quoted"
    stage.commission.save()
    page = text(bench.get("/bench/"))
    assert f'name="stage" value="{stage.pk}"' not in page
    assert "There is nothing to book on" in page


def test_three_taps_book_an_hour_and_offer_to_undo_it(bench: Client, stage: Stage) -> None:
    page = text(bench.post("/bench/book/", tapped(stage), follow=True))
    entry = HourEntry.objects.get()
    assert (entry.minutes, entry.person, entry.stage) == (60, person(), stage)
    assert "Booked 1 h on Base, finish." in page
    assert f'name="of" value="{entry.key}"' in page


@pytest.mark.parametrize(
    ("taps", "minutes"),
    [
        ({"quarter": "15"}, 75),
        ({"quarter": "-15"}, 45),
        ({"length": "435"}, 435),
        ({"minutes": "", "length": "30"}, 30),
        ({"minutes": "", "quarter": "15"}, 15),
    ],
)
def test_lengths_add_up(bench: Client, stage: Stage, taps: dict[str, str], minutes: int) -> None:
    assert bench.post("/bench/book/", tapped(stage, **taps)).status_code == 302
    assert HourEntry.objects.get().minutes == minutes


@pytest.mark.parametrize(
    ("taps", "told"),
    [
        ({"stage": ""}, "Tap a section and its stage."),
        ({"stage": "999999"}, "no longer in hand"),
        ({"minutes": ""}, "Tap how long it took."),
        ({"minutes": "50"}, "book quarter hours"),
        ({"work_date": "2019-01-07"}, "more than 31 days back"),
        ({"key": "no key"}, "This page lost its place"),
        ({"person": "999999"}, "This page lost its place"),
    ],
)
def test_a_tap_that_lacks_something_is_refused_with_the_rest_kept(
    bench: Client, stage: Stage, taps: dict[str, str], told: str
) -> None:
    response = bench.post("/bench/book/", tapped(stage, **taps))
    page = text(response)
    assert response.status_code == 422
    assert told in page
    assert "<title>Error: " in page
    if "stage" not in taps:
        assert f'name="stage" value="{stage.pk}" checked' in page
    assert not HourEntry.objects.exists()


def test_the_same_page_sent_twice_books_once(bench: Client, stage: Stage) -> None:
    once = tapped(stage)
    assert [bench.post("/bench/book/", once).status_code for _ in range(2)] == [302, 302]
    assert HourEntry.objects.count() == 1


def test_one_tap_changes_the_person_and_who_booked_is_kept(bench: Client, stage: Stage) -> None:
    jory = make_person(Role.BENCH, username="jory", shown_name="Jory Penhale")
    page = text(bench.get(f"/bench/?person={jory.pk}"))
    assert f'name="person" value="{jory.pk}"' in page
    bench.post("/bench/book/", tapped(stage, person=jory.pk))
    entry = HourEntry.objects.get()
    assert (entry.person.shown_name, entry.booked_by.shown_name) == ("Jory Penhale", "Ines Varga")


def test_undo_takes_back_what_was_booked(bench: Client, stage: Stage) -> None:
    once = tapped(stage)
    bench.post("/bench/book/", once)
    page = text(bench.post("/bench/undo/", {"key": str(uuid.uuid4()), "of": once["key"]}, follow=True))
    assert "Taken back: 1 h on Base, finish." in page
    assert sum(HourEntry.objects.values_list("minutes", flat=True)) == 0


def test_undo_is_offered_for_half_a_minute(bench: Client, stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    once = tapped(stage)
    bench.post("/bench/book/", once)
    later = timezone.now() + datetime.timedelta(seconds=31)
    monkeypatch.setattr("jobs.views.bench.timezone.now", lambda: later)
    assert 'name="of"' not in text(bench.get(f"/bench/?booked={once['key']}"))


def test_an_undo_of_nothing_is_refused(bench: Client, stage: Stage) -> None:
    response = bench.post("/bench/undo/", {"key": str(uuid.uuid4()), "of": str(uuid.uuid4())})
    assert response.status_code == 422
    assert "nothing to take back" in text(response)


def test_a_queue_is_answered_in_a_line_and_twice_alike(bench: Client, stage: Stage) -> None:
    once = tapped(stage)
    answers = [bench.post("/bench/book/", once, headers=QUEUE) for _ in range(2)]
    assert [(answer.status_code, answer.json()) for answer in answers] == [(200, {"booked": once["key"]})] * 2
    assert HourEntry.objects.count() == 1


def test_a_queue_is_told_in_a_sentence_what_was_refused(bench: Client, stage: Stage) -> None:
    once = tapped(stage)
    bench.post("/bench/book/", once, headers=QUEUE)
    answer = bench.post("/bench/book/", once | {"minutes": 75}, headers=QUEUE)
    assert answer.status_code == 422
    assert answer.json() == {"refused": str(KeyUsed())}


def test_a_queue_undoes_in_the_same_way(bench: Client, stage: Stage) -> None:
    once, undo = tapped(stage), {"key": str(uuid.uuid4())}
    bench.post("/bench/book/", once, headers=QUEUE)
    answers = [bench.post("/bench/undo/", undo | {"of": once["key"]}, headers=QUEUE) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [200, 200]
    assert HourEntry.objects.count() == 2


def test_the_tiles_a_phone_keeps_hold_names_and_stages_and_no_money(bench: Client, stage: Stage) -> None:
    bench.post("/bench/book/", tapped(stage))
    answer = bench.get("/bench/tiles.json")
    kept = answer.json()
    mine = next(each for each in kept["people"] if each["id"] == kept["me"])
    assert (mine["name"], mine["lately"], mine["minutes"]) == ("Ines Varga", [stage.pk], 60)
    assert kept["tiles"][str(stage.pk)]["section"] == "Base"
    assert answer.headers["Cache-Control"] == "no-store"
    assert not {"minor", "rate", "margin", "price"} & set(text(answer).replace('"', " ").split())


def test_the_shell_is_the_same_for_everybody_and_names_nobody(bench: Client, stage: Stage) -> None:
    page = text(bench.get("/bench/shell/"))
    assert "What did you work on?" in page
    assert "Ines" not in page
    assert "Base" not in page
    assert Client().get("/bench/shell/").status_code == 200


def test_the_worker_keeps_the_shell_and_its_files_and_no_page(stage: Stage) -> None:
    script = Client().get("/worker.js")
    assert script.headers["Content-Type"] == "text/javascript"
    kept = text(script).partition("\n")[0]
    assert '"shell": "/bench/shell/"' in kept
    assert "/static/css/bench.css" in kept
    assert '"/bench/"]' not in kept


def test_yesterday_empty_is_asked_about_until_it_is_booked_or_said(bench: Client, stage: Stage) -> None:
    House.objects.update(working_days=[0, 1, 2, 3, 4, 5, 6])
    yesterday = timezone.localdate() - datetime.timedelta(days=1)
    asked = f"{yesterday:%A} is empty for Ines Varga."
    assert asked in text(bench.get("/bench/"))
    bench.post("/bench/away/", {"day": yesterday.isoformat(), "person": person().pk})
    assert asked not in text(bench.get("/bench/"))


def test_a_day_booked_is_not_asked_about(bench: Client, stage: Stage) -> None:
    House.objects.update(working_days=[0, 1, 2, 3, 4, 5, 6])
    yesterday = timezone.localdate() - datetime.timedelta(days=1)
    bench.post("/bench/book/", tapped(stage, work_date=yesterday.isoformat()))
    assert "is empty for" not in text(bench.get("/bench/"))


def test_a_clock_is_started_and_stopped(bench: Client, stage: Stage) -> None:
    page = text(bench.post("/bench/clock/start/", tapped(stage), follow=True))
    clock = Clock.objects.get()
    assert "The clock runs on Base, finish" in page
    page = text(bench.post("/bench/clock/stop/", {"person": person().pk, "clock": clock.pk}, follow=True))
    assert "Booked ¼ h on Base, finish." in page
    assert not Clock.objects.exists()


def test_a_clock_without_a_stage_is_not_started(bench: Client, stage: Stage) -> None:
    response = bench.post("/bench/clock/start/", {"person": person().pk})
    assert response.status_code == 422
    assert "then start the clock" in text(response)


def test_a_forgotten_clock_is_asked_about_and_books_what_is_answered(bench: Client, stage: Stage) -> None:
    began = timezone.localtime().replace(hour=8, minute=0, second=0, microsecond=0) - datetime.timedelta(days=1)
    clock = start(person=person(), stage=stage, at=began)
    assert "When did you stop?" in text(bench.get("/bench/"))
    stopped = {"person": person().pk, "clock": clock.pk}
    refused = bench.post("/bench/clock/stop/", stopped)
    assert refused.status_code == 422
    assert "Choose when you stopped" in text(refused)
    left = (began + datetime.timedelta(hours=7, minutes=30)).isoformat()
    assert bench.post("/bench/clock/stop/", stopped | {"left_at": left}).status_code == 302
    entry = HourEntry.objects.get()
    assert (entry.minutes, entry.work_date) == (450, began.date())


def test_a_clock_is_thrown_away(bench: Client, stage: Stage) -> None:
    bench.post("/bench/clock/start/", tapped(stage))
    clock = Clock.objects.get()
    bench.post("/bench/clock/throw-away/", {"person": person().pk, "clock": clock.pk})
    assert not Clock.objects.exists()
    assert not HourEntry.objects.exists()


@pytest.mark.parametrize("nonsense", ["", "0", "yesterday", "2026-11-25T25:00", "2026-11-25T08:00", "\0"])
def test_nonsense_for_a_clock_is_refused(bench: Client, stage: Stage, nonsense: str) -> None:
    bench.post("/bench/clock/start/", tapped(stage))
    for name in ("clock", "left_at", "person"):
        given = {"person": person().pk, "clock": Clock.objects.get().pk} | {name: nonsense}
        if name != "left_at" or nonsense:
            assert bench.post("/bench/clock/stop/", given).status_code == 422


@pytest.mark.parametrize("where", ["/bench/", "/bench/tiles.json"])
def test_a_stranger_signs_in_first(where: str) -> None:
    assert Client().get(where).headers["Location"].startswith("/sign-in/")


def test_the_page_and_the_tiles_cost_the_same_queries_for_two_stages_and_for_sixty(bench: Client) -> None:
    counts = []
    for sections in (1, 29):
        for number in range(sections):
            section = make_section(make_commission(f"Work {number}"), f"Part {sections} {number}")
            for key in ("cast", "finish"):
                bench.post("/bench/book/", tapped(make_open_stage(section, key), minutes=15))
        taken = []
        for where in ("/bench/", "/bench/tiles.json"):
            with CaptureQueriesContext(connection) as found:
                bench.get(where)
            taken.append(len(found))
        counts.append(taken)
    assert counts[0] == counts[1]
    assert max(counts[0]) <= 12


def test_the_sheet_that_a_label_opens_books_on_its_stage(bench: Client, stage: Stage) -> None:
    page = text(bench.get(f"/stages/{stage.code}/"))
    assert "Book hours on Base, finish" in page
    key = page.partition('name="key" value="')[2].partition('"')[0]
    assert bench.post("/bench/book/", tapped(stage, key=key, minutes=30)).status_code == 302
    assert HourEntry.objects.get().minutes == 30
