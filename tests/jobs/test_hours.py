"""The ledger of hours: what may be booked, what one tap books, and how it is taken back."""

import datetime
import uuid
from typing import Any

import pytest
from django.db import DatabaseError, transaction
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from jobs.models import CommissionState, HourEntry, Stage, StageState
from jobs.queries.hours import booked_minutes, day_sums, lately, minutes_on
from jobs.services.hours import NotBooked, book, hours_text, take_back
from studio.accounts.models import Role, User
from studio.once import KeyUsed
from tests.factories import make_commission, make_open_stage, make_person, make_section

pytestmark = pytest.mark.django_db


@pytest.fixture
def stage() -> Stage:
    return make_open_stage(make_section(make_commission()))


@pytest.fixture
def ines() -> User:
    return make_person(Role.BENCH)


def booked(person: User, stage: Stage, minutes: int = 60, **values: Any) -> HourEntry:
    given = {"by": person, "work_date": timezone.localdate(), "key": uuid.uuid4(), "at": timezone.now()} | values
    return book(person=person, stage=stage, minutes=minutes, **given)


def test_it_books_an_hour_and_begins_the_stage(stage: Stage, ines: User) -> None:
    entry = booked(ines, stage)
    stage.refresh_from_db()
    assert (entry.minutes, entry.booked_by, entry.work_date) == (60, ines, timezone.localdate())
    assert stage.state == StageState.IN_HAND


def test_it_keeps_who_booked_for_whom(stage: Stage, ines: User) -> None:
    jory = make_person(Role.BENCH, shown_name="Jory Penhale")
    entry = booked(jory, stage, by=ines)
    assert (entry.person, entry.booked_by) == (jory, ines)


def test_the_same_tap_sent_again_books_nothing_more(stage: Stage, ines: User) -> None:
    key = uuid.uuid4()
    first, second = booked(ines, stage, key=key), booked(ines, stage, key=key)
    assert first == second
    assert HourEntry.objects.count() == 1


def test_the_same_tap_sent_by_whoever_signed_in_since_books_nothing_more(stage: Stage, ines: User) -> None:
    key, jory = uuid.uuid4(), make_person(Role.BENCH, shown_name="Jory Penhale")
    assert booked(ines, stage, key=key) == booked(ines, stage, key=key, by=jory)


def test_a_tap_sent_again_long_after_is_still_the_same(stage: Stage, ines: User) -> None:
    key = uuid.uuid4()
    first = booked(ines, stage, key=key)
    later = timezone.now() + datetime.timedelta(days=400)
    assert booked(ines, stage, key=key, at=later) == first


@pytest.mark.parametrize("other", ["minutes", "person", "date"])
def test_it_refuses_a_key_that_came_with_other_content(stage: Stage, ines: User, other: str) -> None:
    key, jory = uuid.uuid4(), make_person(Role.BENCH, shown_name="Jory Penhale")
    booked(ines, stage, key=key)
    changed: dict[str, dict[str, Any]] = {
        "minutes": {"minutes": 75},
        "person": {"person": jory},
        "date": {"work_date": timezone.localdate() - datetime.timedelta(days=1)},
    }
    with pytest.raises(KeyUsed, match="enter it afresh"):
        booked(**{"person": ines, "stage": stage, "key": key} | changed[other])
    assert HourEntry.objects.count() == 1


@pytest.mark.parametrize("minutes", [0, -15, 7, 20, 735, 1440])
def test_it_refuses_what_is_not_quarter_hours_up_to_twelve_hours(stage: Stage, ines: User, minutes: int) -> None:
    with pytest.raises(NotBooked, match="book quarter hours, from a quarter up to 12 h"):
        booked(ines, stage, minutes)
    assert not HourEntry.objects.exists()


@pytest.mark.parametrize(("days", "told"), [(1, "has not come yet"), (-32, "more than 31 days back")])
def test_it_refuses_a_day_that_is_to_come_or_long_past(stage: Stage, ines: User, days: int, told: str) -> None:
    with pytest.raises(NotBooked, match=told):
        booked(ines, stage, work_date=timezone.localdate() + datetime.timedelta(days=days))


@pytest.mark.parametrize("days", [0, -31])
def test_it_books_today_and_a_month_back(stage: Stage, ines: User, days: int) -> None:
    day = timezone.localdate() + datetime.timedelta(days=days)
    assert booked(ines, stage, work_date=day).work_date == day


def test_a_day_has_no_more_than_24_hours(stage: Stage, ines: User) -> None:
    booked(ines, stage, 720)
    booked(ines, stage, 705)
    with pytest.raises(NotBooked, match="23 h 45"):
        booked(ines, stage, 30)
    assert booked(ines, stage, 15).minutes == 15


@pytest.mark.parametrize("state", [CommissionState.ENQUIRY, CommissionState.QUOTED, CommissionState.DONE])
def test_it_refuses_a_commission_that_is_not_in_hand(stage: Stage, ines: User, state: str) -> None:
    stage.commission.state = state
    with pytest.raises(NotBooked, match="office"):
        booked(ines, stage)


def test_it_refuses_somebody_who_has_left(stage: Stage, ines: User) -> None:
    ines.is_active = False
    ines.save()
    with pytest.raises(NotBooked, match="Choose who did the work"):
        booked(ines, stage)


def test_taking_back_books_the_same_minutes_less(stage: Stage, ines: User) -> None:
    entry = booked(ines, stage, 90)
    back = take_back(by=ines, entry=entry, key=uuid.uuid4())
    assert (back.minutes, back.reverses, back.work_date) == (-90, entry, entry.work_date)
    assert booked_minutes(Stage.objects.all()) == {stage.pk: 0}


def test_taking_back_sent_again_takes_back_nothing_more(stage: Stage, ines: User) -> None:
    entry, key = booked(ines, stage), uuid.uuid4()
    assert take_back(by=ines, entry=entry, key=key) == take_back(by=ines, entry=entry, key=key)


def test_it_refuses_to_take_back_twice_or_to_take_back_a_reversal(stage: Stage, ines: User) -> None:
    entry = booked(ines, stage)
    back = take_back(by=ines, entry=entry, key=uuid.uuid4())
    with pytest.raises(NotBooked, match="taken back already"):
        take_back(by=ines, entry=entry, key=uuid.uuid4())
    with pytest.raises(NotBooked, match="takes other hours back"):
        take_back(by=ines, entry=back, key=uuid.uuid4())


def test_only_whose_hours_they_are_who_booked_them_and_the_office_take_back(stage: Stage, ines: User) -> None:
    jory, senka = (make_person(Role.BENCH, shown_name=name) for name in ("Jory Penhale", "Senka Dole"))
    with pytest.raises(NotBooked, match="Only Ines Varga"):
        take_back(by=senka, entry=booked(ines, stage, by=jory), key=uuid.uuid4())
    for allowed in (ines, jory, make_person(Role.OFFICE)):
        assert take_back(by=allowed, entry=booked(ines, stage, by=jory), key=uuid.uuid4()).booked_by == allowed


@pytest.mark.parametrize("change", ["update", "delete"])
def test_the_database_refuses_to_alter_an_entry(stage: Stage, ines: User, change: str) -> None:
    rows = HourEntry.objects.filter(pk=booked(ines, stage).pk)
    with pytest.raises(DatabaseError, match="never altered"), transaction.atomic():
        rows.update(minutes=15) if change == "update" else rows.delete()
    assert rows.get().minutes == 60


def test_sums_leave_out_what_cancels_out(stage: Stage, ines: User) -> None:
    today = timezone.localdate()
    kept, gone = booked(ines, stage, 45), make_open_stage(stage.section, "crate")
    take_back(by=ines, entry=booked(ines, gone), key=uuid.uuid4())
    assert [(row.stage_id, row.minutes) for row in day_sums(today, today)] == [(stage.pk, kept.minutes)]
    assert minutes_on([today]) == {(ines.pk, today): 45}
    assert lately([ines], today, 4) == {ines.pk: [stage.pk]}


def test_the_stage_worked_on_last_stands_first(stage: Stage, ines: User) -> None:
    other = make_open_stage(stage.section, "crate")
    for each in (stage, other, stage):
        booked(ines, each, 15)
    assert lately([ines], timezone.localdate(), 4)[ines.pk] == [stage.pk, other.pk]


@given(st.integers(-5000, 5000))
def test_minutes_read_back_from_their_text(minutes: int) -> None:
    text = hours_text(minutes)
    parts = text.removeprefix("−").replace(" min", "").replace(" h", ":").split(":")
    found = int(parts[0]) * 60 + int(parts[1] or 0) if len(parts) > 1 else int(parts[0])
    assert (-found if text.startswith("−") else found) == minutes
