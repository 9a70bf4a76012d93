"""Phones that book over HTTP: each on a connection of its own, with a session and a token."""

import datetime
import http.client
import threading
import uuid
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

TOKEN = "a" * 32
HEADERS = {"Accept": "application/json", "Content-Type": "application/x-www-form-urlencoded", "X-CSRFToken": TOKEN}
# The session's cookie and the token's, as the settings name them without https.
COOKIES = "session={session}; csrf={token}"


@dataclass(frozen=True, slots=True)
class Tap:
    """One entry as a phone sends it; no two of a run are alike but for the key."""

    key: str
    person: int
    stage: int
    day: str
    minutes: int

    @property
    def content(self) -> tuple[int, int, str, int]:
        """What it says, whatever its key."""
        return (self.person, self.stage, self.day, self.minutes)

    def fields(self) -> dict[str, Any]:
        """What the form sends."""
        return {
            "key": self.key,
            "person": self.person,
            "stage": self.stage,
            "work_date": self.day,
            "minutes": self.minutes,
        }


def taps(person: int, stages: list[int], count: int, minutes: int = 15) -> list[Tap]:
    """Entries of one person, each for another day and stage."""
    today = datetime.date.today()  # noqa: DTZ011 - the day where the server runs too
    places = [(day, stage) for day in range(1, 31) for stage in stages][:count]
    return [
        Tap(str(uuid.uuid4()), person, stage, str(today - datetime.timedelta(days=day)), minutes)
        for day, stage in places
    ]


@dataclass(slots=True)
class Tally:
    """What a run's phones were answered; several threads write to it."""

    acknowledged: list[str] = field(default_factory=list)
    errors: int = 0
    refused: int = 0
    lock: threading.Lock = field(default_factory=threading.Lock)

    def note(self, key: str, status: int) -> None:
        """Count one answer."""
        with self.lock:
            if status == 200:
                self.acknowledged.append(key)
            elif status >= 500:
                self.errors += 1
            else:
                self.refused += 1


class Phone:
    """One connection to the server, with somebody's session."""

    def __init__(self, port: int, session: str) -> None:
        self._link = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self._headers = {**HEADERS, "Cookie": COOKIES.format(session=session, token=TOKEN)}

    def post(self, where: str, fields: Mapping[str, Any]) -> int:
        """The status of the answer."""
        self._link.request("POST", where, urlencode(fields), self._headers)
        return self._answer()[0]

    def get(self, where: str) -> str:
        """The page."""
        self._link.request("GET", where, headers=self._headers)
        return self._answer()[1]

    def _answer(self) -> tuple[int, str]:
        answer = self._link.getresponse()
        return answer.status, answer.read().decode()

    def close(self) -> None:
        """Hang up."""
        self._link.close()


def together(acts: Iterable[Callable[[], None]]) -> None:
    """Do all of it at once, each in a thread of its own, beginning at the same moment."""
    found = list(acts)
    gate = threading.Barrier(len(found))

    def begin(act: Callable[[], None]) -> None:
        gate.wait()
        act()

    threads = [threading.Thread(target=begin, args=(act,), daemon=True) for act in found]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def doubled(entries: Iterable[list[Any]], wanted: set[tuple[int, int, str, int]]) -> int:
    """How many rows say what another row says already, among what the run sent."""
    seen: dict[tuple[Any, ...], int] = {}
    for _, *content in entries:
        seen[tuple(content)] = seen.get(tuple(content), 0) + 1
    return sum(count - 1 for content, count in seen.items() if content in wanted)
