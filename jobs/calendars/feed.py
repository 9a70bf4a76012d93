"""A calendar as other programs read it: iCalendar, after RFC 5545."""

import datetime
import re
import uuid
from collections.abc import Iterable

from icalendar import Calendar, Event

from jobs.calendars.entries import Entry

PRODUCT = "-//Mouldwright//Calendar//EN"
ASK_AGAIN = datetime.timedelta(hours=1)
A_MOMENT = datetime.timedelta(minutes=30)
"""How long an entry at an hour is drawn that has no end; what it stands for is a moment."""
# RFC 5545, 3.1: text holds no control characters besides the line end and the tab.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")


def feed(entries: Iterable[Entry], *, name: str, host: str, at: datetime.datetime) -> bytes:
    """The calendar; ``host`` makes its entries' ids unlike those of another studio."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", _text(name))
    calendar.add("refresh-interval", ASK_AGAIN, parameters={"value": "DURATION"})
    for entry in entries:
        calendar.add_component(_event(entry, host, at))
    return bytes(calendar.to_ical())


def _event(entry: Entry, host: str, at: datetime.datetime) -> Event:
    event = Event()
    event.add("uid", str(uuid.uuid5(uuid.NAMESPACE_URL, f"https://{host}/{entry.key}")))
    event.add("dtstamp", at.astimezone(datetime.UTC))
    if isinstance(entry.when, datetime.datetime):
        begins = entry.when.astimezone(datetime.UTC)
        event.add("dtstart", begins)
        event.add("dtend", entry.until.astimezone(datetime.UTC) if entry.until else begins + A_MOMENT)
    else:
        event.add("dtstart", entry.when)
        event.add("dtend", entry.when + datetime.timedelta(days=1))
    event.add("summary", _text(entry.summary))
    if entry.about:
        event.add("description", _text(entry.about))
    # It tells of something; nobody is kept busy by it.
    event.add("transp", "TRANSPARENT")
    return event


def _text(text: str) -> str:
    return _CONTROL.sub(" ", text)
