"""A backup taken while people book, restored elsewhere: every entry acknowledged before it began is in it."""

import tempfile
import threading
import time
from functools import partial
from pathlib import Path
from typing import Any

from tests.faults.booking import BOOK
from tests.faults.cluster import RESTORED, SERVED
from tests.faults.sending import Phone, Tally, Tap, doubled, taps
from tests.faults.table import Row
from tests.real_server import RealStudio, real_studio

PHONES = 8
ENTRIES = 200
FIRST_SECONDS = 1.0


def backed_up_meanwhile(name: str, studio: RealStudio, cast: dict[str, Any]) -> Row:
    """Take it while eight phones book, and look for the entries in what is restored from it."""
    people = cast["people"][:PHONES]
    queues = {person["id"]: taps(person["id"], cast["stages"][4:], ENTRIES, minutes=60) for person in people}
    server, tally, ending = studio.serve().wait(), Tally(), threading.Event()

    def book(person: dict[str, Any]) -> None:
        phone = Phone(server.port, person["session"])
        for tap in queues[person["id"]]:
            if ending.is_set():
                break
            tally.note(tap.key, phone.post(BOOK, tap.fields()))
        phone.close()

    threads = [threading.Thread(target=partial(book, person)) for person in people]
    for thread in threads:
        thread.start()
    time.sleep(FIRST_SECONDS)
    with tempfile.TemporaryDirectory(prefix="mouldwright-backup-") as folder:
        file = Path(folder) / "studio.backup"
        acknowledged = set(tally.acknowledged)
        studio.run("manage.py", "backup", str(file))
        ending.set()
        for thread in threads:
            thread.join()
        server.stop()
        entries = _restored(studio, file)
    sent: list[Tap] = [tap for queue in queues.values() for tap in queue]
    present = {key for key, *_ in entries}
    return Row(
        run=f"restored from a backup taken meanwhile, {name}",
        tried=len(tally.acknowledged) + tally.errors + tally.refused,
        acknowledged=len(acknowledged),
        present=len(present & {tap.key for tap in sent}),
        lost=len(acknowledged - present),
        doubled=doubled(entries, {tap.content for tap in sent}),
        errors=tally.errors + tally.refused,
    )


def _restored(studio: RealStudio, file: Path) -> list[list[Any]]:
    address = studio.env.get("DATABASE_URL", "").replace(f"/{SERVED}", f"/{RESTORED}")
    with real_studio(database_url=address, migrated=False) as other:
        other.run("manage.py", "restore", str(file))
        return list(other.ask("entries"))
