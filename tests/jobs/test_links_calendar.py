"""The calendar feed, against RFC 5545 (iCalendar), byte by byte and as another program reads it."""

import datetime
import re
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from jobs.calendars.entries import Entry
from jobs.calendars.feed import feed
from jobs.models import Clock, Commission, Link, LinkKind, SentOutWork, Stage
from jobs.plans.reading import PlanSheet
from jobs.services.published import publish
from studio.accounts.models import Role, User
from tests.factories import make_person, signed_in
from tests.jobs.link_samples import give_link
from tests.jobs.plan_life import in_force as plan_in_force
from tests.jobs.plan_life import owner, to_plan
from tests.jobs.stage_life import anybody, in_hand, the
from tests.jobs.standing_samples import book

pytestmark = pytest.mark.django_db
AT = datetime.datetime(2026, 5, 4, 9, 30, tzinfo=datetime.UTC)
ODD = Entry(
    "odd-1",
    datetime.date(2026, 5, 12),
    "Königin, „große“ Birne; Teil \\ 1: " + "Ü" * 60 + "\U0001f350" * 20,
    "first line\nsecond, line\x07",
)
TIMED = Entry(
    "hold-1", datetime.datetime(2026, 5, 5, 14, 0, tzinfo=datetime.timezone(datetime.timedelta(hours=1))), "A"
)


def test_every_line_is_as_the_standard_wants_it() -> None:
    content = feed([ODD, TIMED], name="Saltgate Yard", host="studio.example", at=AT)
    # 3.1: lines end in CRLF, none is longer than 75 octets, and no character is torn apart by folding.
    assert content.endswith(b"\r\n")
    assert b"\n" not in content.replace(b"\r\n", b"")
    lines = content.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert all(line.decode("utf-8") is not None for line in lines)
    unfolded = content.replace(b"\r\n ", b"").decode("utf-8")
    assert f"SUMMARY:Königin\\, „große“ Birne\\; Teil \\\\ 1: {'Ü' * 60}" in unfolded
    assert "DESCRIPTION:first line\\nsecond\\, line \r\n" in unfolded
    # 3.6: what a calendar and an event must hold; 3.3.4 and 3.3.5: days and moments in UTC.
    assert unfolded.startswith("BEGIN:VCALENDAR\r\n")
    for wanted in ("VERSION:2.0", "PRODID:", "DTSTART;VALUE=DATE:20260512", "DTEND;VALUE=DATE:20260513"):
        assert f"\r\n{wanted}" in unfolded, wanted
    assert "\r\nDTSTART:20260505T130000Z\r\n" in unfolded
    assert unfolded.count("\r\nDTSTAMP:20260504T093000Z\r\n") == 2
    assert len(set(re.findall(r"\r\nUID:(\S+)\r\n", unfolded))) == 2
    assert not re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", unfolded)


def test_another_program_reads_back_what_was_meant() -> None:
    read = Calendar.from_ical(feed([ODD, TIMED], name="Saltgate Yard", host="studio.example", at=AT))
    day, moment = read.walk("VEVENT")
    assert str(day["SUMMARY"]) == ODD.summary
    assert (day.decoded("DTSTART"), day.decoded("DTEND")) == (ODD.when, datetime.date(2026, 5, 13))
    assert moment.decoded("DTSTART") == TIMED.when
    assert read.errors == day.errors == moment.errors == []


def test_the_id_of_an_entry_stays_and_is_the_studios_own() -> None:
    def ids(host: str, *entries: Entry) -> list[str]:
        read = Calendar.from_ical(feed(entries, name="S", host=host, at=AT))
        return [str(event["UID"]) for event in read.walk("VEVENT")]

    moved = Entry(ODD.key, datetime.date(2026, 6, 1), "Later")
    assert ids("one.example", ODD) == ids("one.example", moved)
    assert ids("one.example", ODD) != ids("two.example", ODD)


def summaries(client: Client, token: str) -> list[str]:
    answer = client.get(f"/l/{token}/calendar.ics")
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    return sorted(str(event["SUMMARY"]) for event in Calendar.from_ical(answer.content).walk("VEVENT"))


def hold(commission: Commission, key: str = "cast", days: int = 2) -> Stage:
    stage = the(commission, key)
    Stage.objects.filter(pk=stage.pk).update(
        state="in_hand", hold_until=timezone.now() + datetime.timedelta(days=days), hold_reason="cast cures"
    )
    return stage


@pytest.fixture
def pear() -> Commission:
    commission = in_hand("The Long Pear")
    commission.needed_by = datetime.date(2027, 1, 15)
    commission.save()
    return commission


def test_the_studios_calendar_holds_holds_days_and_work_due_back(pear: Commission, client: Client) -> None:
    hold(pear)
    hold(pear, "mould", days=-1)
    SentOutWork.objects.create(
        commission=pear,
        what="Galvanising",
        firm="Fenwharf Galvanisers",
        ordered_on="2026-03-02",
        due_back="2026-03-20",
        agreed_minor=42_000,
        currency="GBP",
    )
    made = give_link(None, kind=LinkKind.CALENDAR)
    common = ["The Long Pear: Base, cast may go on", "The Long Pear: work due back"]
    assert summaries(client, made.token) == sorted([*common, "The Long Pear: needed"])
    days = {"promised_on": datetime.date(2027, 2, 1), "expected_on": datetime.date(2027, 2, 9)}
    publish(by=anybody(), commission=pear, follows=0, note="", at=timezone.now(), **days)
    assert summaries(client, made.token) == sorted([*common, "The Long Pear: promised", "The Long Pear: expected"])
    SentOutWork.objects.update(stage=the(pear, "cast"))
    assert "The Long Pear: Base, cast, work due back" in summaries(client, made.token)
    assert "Fenwharf" not in client.get(f"/l/{made.token}/calendar.ics").content.decode()


def test_the_studios_calendar_holds_the_days_of_a_site(pear: Commission, client: Client) -> None:
    Commission.objects.update(site_from="2027-01-11", site_until="2027-01-15")
    made = give_link(None, kind=LinkKind.CALENDAR)
    told = ["The Long Pear: the site takes it from today", "The Long Pear: the site takes it until today"]
    assert [each for each in summaries(client, made.token) if "site" in each] == told


@pytest.mark.parametrize("by", ["hours", "clock", "step"])
def test_a_persons_calendar_holds_what_they_work_on(pear: Commission, client: Client, by: str) -> None:
    ines = make_person(Role.BENCH)
    stage, other = hold(pear), in_hand("Tide Lantern")
    hold(other)
    made = give_link(None, kind=LinkKind.CALENDAR, person=ines)
    assert summaries(client, made.token) == []
    if by == "hours":
        book(stage, ines, 60)
    elif by == "clock":
        Clock.objects.create(person=ines, stage=stage, started_at=timezone.now())
    else:
        stage.steps.filter(position=stage.steps.first().position).update(done_by=ines, done_at=timezone.now())  # type: ignore[union-attr]
    assert summaries(client, made.token) == ["The Long Pear: Base, cast may go on", "The Long Pear: needed"]
    assert "Ines" not in client.get(f"/l/{made.token}/calendar.ics").content.decode()


def test_a_persons_calendar_holds_what_the_plan_gives_them(client: Client) -> None:
    to_plan("Tide Lantern", allowed_h=30, keys=("pattern", "mould"))
    plan = plan_in_force()
    ines = User.objects.get(username="ines")
    made = give_link(None, kind=LinkKind.CALENDAR, person=ines)
    today = timezone.localdate()
    wanted = PlanSheet(plan).tasks_of(str(ines), today, 28)
    assert wanted
    read = Calendar.from_ical(client.get(f"/l/{made.token}/calendar.ics").content).walk("VEVENT")
    given = {str(event["SUMMARY"]): (event.decoded("DTSTART"), event.decoded("DTEND")) for event in read}
    for task in wanted:
        begins, ends = given[f"Tide Lantern: {task.row.called}"]
        assert (timezone.make_naive(begins), timezone.make_naive(ends)) == (task.row.begins, task.row.ends)
    assert "Tide Lantern: done by the plan" in given
    # Of what is a month away or given to others alone there is nothing, and nobody is named.
    assert (
        sum(
            begins > timezone.now() + datetime.timedelta(days=29)
            for begins, _ in given.values()
            if isinstance(begins, datetime.datetime)
        )
        == 0
    )
    assert "Jory" not in str(read)
    assert summaries(client, give_link(None, kind=LinkKind.CALENDAR, person=owner()).token) == []


def test_fetching_is_noted_as_last_opened(client: Client) -> None:
    made = give_link(None, kind=LinkKind.CALENDAR)
    client.get(f"/l/{made.token}/calendar.ics")
    assert Link.objects.get().last_opened_at is not None


def test_it_takes_as_many_queries_for_many_commissions_as_for_one(pear: Commission) -> None:
    made = give_link(None, kind=LinkKind.CALENDAR)

    def queries() -> int:
        with CaptureQueriesContext(connection) as found:
            assert Client().get(f"/l/{made.token}/calendar.ics").status_code == 200
        return len(found)

    hold(pear)
    one = queries()
    for number in range(4):
        hold(in_hand(f"Acorn {number}"))
    assert queries() == one


def ask(client: Client, name: str, **values: str) -> Any:
    sent = {"receiver": "Ines, phone", "expires_on": f"{timezone.localdate()}", **values}
    return client.post(reverse(name), sent)


def test_everybody_makes_and_ends_links_to_their_own_calendar() -> None:
    bench = signed_in(Role.BENCH)
    page = ask(bench, "my_calendar").content.decode()
    (token,) = set(re.findall(r"/l/([\w-]{43})/calendar\.ics", page))
    link = Link.objects.get()
    assert link.person == User.objects.get(role=Role.BENCH)
    assert Client().get(f"/l/{token}/calendar.ics").status_code == 200
    assert "Ines, phone" in bench.get(reverse("my_calendar")).content.decode()
    assert bench.post(reverse("end_calendar", args=[link.pk])).headers["Location"] == reverse("my_calendar")
    assert Client().get(f"/l/{token}/calendar.ics").status_code == 404


def test_the_office_makes_the_studios_calendar_and_ends_any() -> None:
    office, ines = signed_in(Role.OFFICE), make_person(Role.BENCH)
    assert ask(office, "calendars").status_code == 200
    assert Link.objects.get().person is None
    hers = give_link(None, kind=LinkKind.CALENDAR, person=ines).link
    page = office.get(reverse("calendars")).content.decode()
    assert '<td data-head="Whose calendar">the studio' in page
    assert "Ines Varga" in page
    assert office.post(reverse("end_calendar", args=[hers.pk])).headers["Location"] == reverse("calendars")
    hers.refresh_from_db()
    assert hers.revoked_at is not None


def test_nobody_ends_anothers_calendar_and_the_bench_has_no_whole_one() -> None:
    bench, tam = signed_in(Role.BENCH), anybody()
    for person in (None, tam):
        link = give_link(None, kind=LinkKind.CALENDAR, person=person).link
        assert bench.post(reverse("end_calendar", args=[link.pk])).status_code == 404
    assert ask(bench, "calendars").status_code == 403
    assert Link.objects.filter(revoked_at__isnull=True).count() == 2


def test_a_link_without_a_last_day_is_asked_again() -> None:
    answer = ask(signed_in(Role.BENCH), "my_calendar", expires_on="")
    assert answer.status_code == 422
    assert "Enter the last day" in answer.content.decode()
    assert 'value="Ines, phone"' in answer.content.decode()
