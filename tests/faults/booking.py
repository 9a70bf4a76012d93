"""Booking under load: many people at once, one tap many times, and a server killed again and again."""

import http.client
import threading
import time
from functools import partial
from typing import Any

from tests.faults.sending import Phone, Tally, Tap, doubled, taps, together
from tests.faults.table import Row
from tests.real_server import RealStudio, Server

PEOPLE, ENTRIES = 50, 20
SAME = 20
KILLS = 50
PHONES = 4
EACH_TIME = 12
LONGEST_SECONDS = 4.0
LOOK_SECONDS = 0.002
BOOK = "/bench/book/"


def judged(run: str, studio: RealStudio, sent: list[Tap], tally: Tally, tried: int) -> Row:
    """The row of a run, by what the database holds afterwards."""
    entries = studio.ask("entries")
    present = {key for key, *_ in entries}
    acknowledged = set(tally.acknowledged)
    return Row(
        run=run,
        tried=tried,
        acknowledged=len(acknowledged),
        present=len(present & {tap.key for tap in sent}),
        lost=len(acknowledged - present),
        doubled=doubled(entries, {tap.content for tap in sent}),
        errors=tally.errors + tally.refused,
    )


def everybody_at_once(name: str, studio: RealStudio, cast: dict[str, Any]) -> Row:
    """Fifty people with twenty entries each; every one has to be there."""
    tally, sent = Tally(), dict[int, list[Tap]]()
    with_server = studio.serve().wait()

    def book(person: dict[str, Any]) -> None:
        phone = Phone(with_server.port, person["session"])
        for tap in sent[person["id"]]:
            tally.note(tap.key, phone.post(BOOK, tap.fields()))
        phone.close()

    people = cast["people"][:PEOPLE]
    for person in people:
        sent[person["id"]] = taps(person["id"], cast["stages"], ENTRIES)
    together(partial(book, person) for person in people)
    with_server.stop()
    every = [tap for found in sent.values() for tap in found]
    row = judged(f"{PEOPLE} people × {ENTRIES} entries, {name}", studio, every, tally, len(every))
    # Here nothing interferes, so that what was not acknowledged is lost too.
    return Row(row.run, row.tried, row.acknowledged, row.present, row.tried - row.present, row.doubled, row.errors)


def the_same_at_once(name: str, studio: RealStudio, cast: dict[str, Any]) -> Row:
    """One entry sent twenty times at the same moment."""
    tally, person = Tally(), cast["people"][-1]
    (tap,) = taps(person["id"], cast["stages"], 1, minutes=45)
    server = studio.serve().wait()

    def book() -> None:
        phone = Phone(server.port, person["session"])
        tally.note(tap.key, phone.post(BOOK, tap.fields()))
        phone.close()

    together([book] * SAME)
    server.stop()
    return judged(f"one entry sent {SAME} times, {name}", studio, [tap], tally, SAME)


def killed(name: str, studio: RealStudio, cast: dict[str, Any]) -> Row:
    """Killed while people book; what was acknowledged before each kill has to be there after the last.

    A phone sends again, to the next server, what was not acknowledged. The next
    server starts while the one before it is still being used.
    """
    tally = Tally()
    people = cast["people"][-PHONES - 1 : -1]
    queues = {person["id"]: taps(person["id"], cast["stages"], 10_000, minutes=30) for person in people}
    sent: list[Tap] = [tap for queue in queues.values() for tap in queue]
    tried = _Count()
    following = studio.serve()
    for _ in range(KILLS):
        server = following.wait()
        following = studio.serve()
        ending = threading.Event()
        threads = [
            threading.Thread(target=_book_on, args=(server, person, queues[person["id"]], tally, tried, ending))
            for person in people
        ]
        for thread in threads:
            thread.start()
        _until(tally, len(tally.acknowledged) + EACH_TIME)
        server.kill()
        ending.set()
        for thread in threads:
            thread.join()
    following.wait().stop()
    return judged(f"killed {KILLS} times while booking, {name}", studio, sent, tally, tried.number)


def _until(tally: Tally, acknowledged: int) -> None:
    """Wait until so many are acknowledged, or long enough."""
    ends = time.monotonic() + LONGEST_SECONDS
    while len(tally.acknowledged) < acknowledged and time.monotonic() < ends:
        time.sleep(LOOK_SECONDS)


class _Count:
    """A number that several threads count up."""

    def __init__(self) -> None:
        self.number = 0
        self._lock = threading.Lock()

    def up(self) -> None:
        """One more."""
        with self._lock:
            self.number += 1


def _book_on(
    server: Server, person: dict[str, Any], queue: list[Tap], tally: Tally, tried: _Count, ending: threading.Event
) -> None:
    """Book from the head of the queue until the server is gone; an entry leaves it when it is acknowledged."""
    phone = Phone(server.port, person["session"])
    while queue and not ending.is_set():
        tried.up()
        try:
            status = phone.post(BOOK, queue[0].fields())
        except (OSError, http.client.HTTPException):
            # The server died before or in the middle of its answer.
            break
        tally.note(queue[0].key, status)
        queue.pop(0)
    phone.close()
