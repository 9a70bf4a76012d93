"""Clocks: the server's time counts, and a forgotten one is asked about."""

import datetime

import pytest
from django.utils import timezone

from jobs.models import Clock, HourEntry, Stage
from jobs.services.clocks import Forgotten, drop, is_forgotten, quarter_marks, start, stop
from jobs.services.hours import NotBooked
from studio.accounts.models import AuditEntry, Role, User
from tests.factories import make_commission, make_open_stage, make_person, make_section

pytestmark = pytest.mark.django_db
# A Wednesday morning in winter, when the studio's zone is UTC.
MORNING = datetime.datetime(2026, 11, 25, 8, 10, tzinfo=datetime.UTC)


def after(hours: float) -> datetime.datetime:
    return MORNING + datetime.timedelta(hours=hours)


@pytest.fixture
def stage() -> Stage:
    return make_open_stage(make_section(make_commission()))


@pytest.fixture
def ines() -> User:
    return make_person(Role.BENCH)


@pytest.fixture
def clock(stage: Stage, ines: User) -> Clock:
    return start(person=ines, stage=stage, at=MORNING)


@pytest.mark.parametrize(
    ("hours", "minutes"), [(0.01, 15), (0.36, 15), (0.38, 30), (1, 60), (1.13, 75), (11.99, 720), (12.1, 720)]
)
def test_stopping_books_to_the_nearest_quarter_and_at_least_one(
    clock: Clock, ines: User, hours: float, minutes: int
) -> None:
    entry = stop(by=ines, person=ines, clock_id=clock.pk, at=after(hours))
    assert (entry.minutes, entry.work_date) == (minutes, MORNING.date())
    assert not Clock.objects.exists()


def test_stopping_twice_books_once(clock: Clock, ines: User) -> None:
    first = stop(by=ines, person=ines, clock_id=clock.pk, at=after(1))
    assert stop(by=ines, person=ines, clock_id=clock.pk, at=after(2)) == first
    assert HourEntry.objects.count() == 1


def test_starting_twice_starts_once_and_keeps_the_first_time(clock: Clock, stage: Stage, ines: User) -> None:
    assert start(person=ines, stage=stage, at=after(1)) == clock
    assert Clock.objects.get().started_at == MORNING


def test_it_refuses_a_second_clock_on_another_stage(clock: Clock, stage: Stage, ines: User) -> None:
    with pytest.raises(NotBooked, match="Stop that one first"):
        start(person=ines, stage=make_open_stage(stage.section, "crate"), at=after(1))


def test_a_clock_left_running_into_another_day_is_asked_about(clock: Clock, ines: User) -> None:
    with pytest.raises(Forgotten, match="Choose when you stopped"):
        stop(by=ines, person=ines, clock_id=clock.pk, at=after(24))
    assert Clock.objects.exists()
    assert not HourEntry.objects.exists()


def test_a_clock_left_running_past_twelve_hours_is_asked_about(clock: Clock, ines: User) -> None:
    assert not is_forgotten(clock, after(12))
    assert is_forgotten(clock, after(12.5))


def test_the_answer_books_on_the_day_it_was_started(clock: Clock, ines: User) -> None:
    entry = stop(by=ines, person=ines, clock_id=clock.pk, at=after(24), left_at=MORNING.replace(hour=16, minute=15))
    assert (entry.minutes, entry.work_date) == (480, MORNING.date())


@pytest.mark.parametrize(("hour", "minute"), [(8, 10), (16, 20), (7, 0), (20, 30)])
def test_it_refuses_an_answer_that_was_not_offered(clock: Clock, ines: User, hour: int, minute: int) -> None:
    with pytest.raises(Forgotten, match="one of the quarter hours shown"):
        stop(by=ines, person=ines, clock_id=clock.pk, at=after(24), left_at=MORNING.replace(hour=hour, minute=minute))
    assert Clock.objects.exists()


def test_the_quarter_hours_offered_begin_after_the_start_and_end_after_twelve_hours(clock: Clock) -> None:
    marks = quarter_marks(clock, after(24))
    assert [f"{mark:%H:%M}" for mark in (marks[0], marks[1], marks[-1])] == ["08:15", "08:30", "20:00"]


def test_no_quarter_hour_to_come_is_offered(ines: User, stage: Stage) -> None:
    evening = datetime.datetime(2026, 11, 25, 23, 50, tzinfo=datetime.UTC)
    clock = start(person=ines, stage=stage, at=evening)
    marks = quarter_marks(clock, evening + datetime.timedelta(minutes=12))
    assert [f"{mark:%H:%M}" for mark in marks] == ["00:00"]


def test_a_clock_thrown_away_books_nothing_and_is_on_record(clock: Clock, ines: User) -> None:
    drop(by=ines, person=ines, clock_id=clock.pk)
    assert not Clock.objects.exists()
    assert not HourEntry.objects.exists()
    assert AuditEntry.objects.get(act__startswith="Clock of").before["started"] == "2026-11-25 08:10"


def test_nobody_stops_the_clock_of_another_by_its_number(clock: Clock, ines: User) -> None:
    jory = make_person(Role.BENCH, shown_name="Jory Penhale")
    with pytest.raises(NotBooked, match="no longer runs"):
        stop(by=jory, person=jory, clock_id=clock.pk, at=timezone.now())
    assert Clock.objects.exists()
