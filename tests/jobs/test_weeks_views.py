"""Hours by the week, on the page and as files."""

import csv
import datetime
import io
import uuid
from typing import Any

import openpyxl
import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from jobs.models import HourEntry, Stage
from jobs.services.hours import book
from jobs.weeks import read_week, week_of
from studio.accounts.models import Role, User
from tests.factories import make_commission, make_open_stage, make_person, make_section, signed_in

pytestmark = pytest.mark.django_db
BACKEND = "django.contrib.auth.backends.ModelBackend"


@pytest.fixture
def stage() -> Stage:
    return make_open_stage(make_section(make_commission()))


def booked(person: User, stage: Stage, minutes: int = 60) -> HourEntry:
    today = timezone.localdate()
    given = {"work_date": today, "key": uuid.uuid4(), "at": timezone.now()}
    return book(by=person, person=person, stage=stage, minutes=minutes, **given)


def as_(person: User) -> Client:
    client = Client()
    client.force_login(person, backend=BACKEND)
    return client


def text(response: Any) -> str:
    return response.content.decode()


def test_the_office_sees_everybodys_week_with_its_sums(stage: Stage) -> None:
    ines, jory = make_person(Role.BENCH), make_person(Role.BENCH, shown_name="Jory Penhale")
    booked(ines, stage, 90)
    booked(jory, stage, 45)
    page = text(signed_in(Role.OFFICE).get("/crew/weeks/"))
    assert "Ines Varga: 1 h 30" in page
    assert "Jory Penhale: 45 min" in page
    assert "2 h 15 in all" in page


def test_the_bench_sees_its_own_week_alone(stage: Stage) -> None:
    ines, jory = make_person(Role.BENCH), make_person(Role.BENCH, shown_name="Jory Penhale")
    booked(ines, stage, 90)
    booked(jory, stage, 45)
    client = as_(ines)
    for where in ("/crew/weeks/", "/crew/weeks/hours.csv"):
        answer = text(client.get(where))
        assert "Ines Varga" in answer
        assert "Jory" not in answer
    assert client.get(f"/crew/{jory.pk}/week/").status_code == 403
    assert client.get(f"/crew/{ines.pk}/week/").status_code == 200


def test_another_week_is_empty_and_says_so(stage: Stage) -> None:
    booked(make_person(Role.BENCH), stage)
    assert "Nothing was booked in this week" in text(signed_in(Role.OFFICE).get("/crew/weeks/?week=2026-W02"))


@pytest.mark.parametrize("typed", ["", "2026-W99", "soon", "2026-W00", "0001-W01", "9999-W52", "\0", "2026-W1-1"])
def test_a_week_there_is_not_shows_this_one(typed: str) -> None:
    today = datetime.date(2026, 11, 25)
    assert read_week(typed, today) == week_of(today)


def test_a_week_is_monday_to_sunday_by_the_iso_calendar() -> None:
    # ISO 8601: the first week of a year is the one with its first Thursday.
    week = read_week("2027-W01", datetime.date(2026, 11, 25))
    assert (week.first, week.last) == (datetime.date(2027, 1, 4), datetime.date(2027, 1, 10))
    assert (week.before, week.after) == ("2026-W53", "2027-W02")


def test_an_entry_is_taken_back_by_a_row_of_its_own(stage: Stage) -> None:
    ines = make_person(Role.BENCH)
    entry, client = booked(ines, stage), as_(ines)
    where = f"/crew/entries/{entry.pk}/take-back/"
    key = {"key": str(uuid.uuid4())}
    page = text(client.post(where, key, follow=True))
    client.post(where, key)
    assert "taken back" in page
    assert list(HourEntry.objects.order_by("pk").values_list("minutes", flat=True)) == [60, -60]


def test_somebody_elses_entry_is_not_taken_back(stage: Stage) -> None:
    entry = booked(make_person(Role.BENCH), stage)
    other = as_(make_person(Role.BENCH, shown_name="Jory Penhale"))
    assert other.post(f"/crew/entries/{entry.pk}/take-back/", {"key": str(uuid.uuid4())}).status_code == 403
    assert HourEntry.objects.count() == 1


def test_the_office_takes_back_anybodys_entry(stage: Stage) -> None:
    entry = booked(make_person(Role.BENCH), stage)
    answer = signed_in(Role.OFFICE).post(f"/crew/entries/{entry.pk}/take-back/", {"key": str(uuid.uuid4())})
    assert answer.status_code == 302
    assert HourEntry.objects.count() == 2


@pytest.mark.parametrize("where", ["/crew/weeks/", "/crew/weeks/hours.csv", "/crew/weeks/hours.xlsx", "/crew/1/week/"])
def test_a_stranger_signs_in_first(where: str) -> None:
    assert Client().get(where).headers["Location"].startswith("/sign-in/")


def test_the_files_hold_typed_numbers_and_no_text_runs_as_a_formula(stage: Stage) -> None:
    stage.section.name = "=1+1"
    stage.section.save()
    ines = make_person(Role.BENCH)
    booked(ines, stage, 75)
    client = signed_in(Role.OFFICE)
    today = timezone.localdate()
    answer = client.get("/crew/weeks/hours.csv")
    assert answer.headers["Content-Disposition"] == f'attachment; filename="hours-{week_of(today).text}.csv"'
    (line,) = csv.DictReader(io.StringIO(text(answer).removeprefix("\ufeff")))
    assert (line["person"], line["date"], line["section"]) == ("Ines Varga", today.isoformat(), "'=1+1")
    assert (line["minutes"], line["hours"]) == ("75", "1.25")
    workbook = openpyxl.load_workbook(io.BytesIO(client.get("/crew/weeks/hours.xlsx").content))
    cells = next(workbook.worksheets[0].iter_rows(min_row=2))
    assert [cell.value for cell in cells[:2]] == ["Ines Varga", datetime.datetime.combine(today, datetime.time())]
    assert (cells[4].value, cells[4].data_type) == ("=1+1", "s")
    assert [cell.value for cell in cells[6:]] == [75, 1.25]


def test_the_pages_cost_the_same_queries_for_one_entry_and_for_many(stage: Stage) -> None:
    ines = make_person(Role.BENCH)
    client, counts = signed_in(Role.OFFICE), []
    for people in (1, 12):
        for number in range(people):
            person = make_person(Role.BENCH, username=f"p{people}-{number}", shown_name=f"Person {number}")
            booked(person, make_open_stage(make_section(make_commission(f"W{people}{number}"))), 15)
            booked(ines, stage, 15)
        taken = []
        for where in ("/crew/weeks/", f"/crew/{ines.pk}/week/", "/crew/weeks/hours.csv"):
            with CaptureQueriesContext(connection) as found:
                client.get(where)
            taken.append(len(found))
        counts.append(taken)
    assert counts[0] == counts[1]
    assert max(counts[0]) <= 8
