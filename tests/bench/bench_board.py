"""The board and the Workshop page for one month and for five years of six people's work.

A workshop of six has as much in hand after five years as in its first month;
what grows is what lies behind it. So the live commissions are the same at both
sizes, and finished ones with their stages and hours come before them.
"""

import datetime
import math
import uuid
from collections.abc import Iterator
from typing import TYPE_CHECKING

from tests.bench.table import Row
from tests.bench.throwaway import studio
from tests.bench.timing import cpu_p10_ratio

if TYPE_CHECKING:
    from jobs.models import Commission
    from studio.accounts.models import User

PAIRS = 40
PEOPLE, LIVE, SECTIONS = 6, 4, 4
MONTHS = 60
WORKING_DAYS, ENTRIES_A_DAY = 20, 5
FINISHED_A_MONTH = 3
GROWTH_A_TENFOLD = 1.3
KEYS = ("pattern", "mould", "cast", "finish", "crate")


def run() -> list[Row]:
    """Queries at both sizes, and how CPU time grows between them."""
    with studio():
        return _rows()


def _rows() -> list[Row]:
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from tests.factories import make_person

    people = [make_person("bench", username=f"maker-{number}") for number in range(PEOPLE)]
    live = [_commission(f"Live {number}", "accepted") for number in range(LIVE)]
    _book(people, live, month=0)
    client = Client()
    client.force_login(make_person())
    pages = {"board": f"/commissions/{live[0].pk}/board/", "Workshop": "/"}
    bare = "/help/"
    ratios: dict[tuple[str, int], float] = {}
    queries: dict[tuple[str, int], int] = {}
    baseline_ms = 0.0
    for months in (1, MONTHS):
        if months == MONTHS:
            _finish(people, months - 1)
        for name, path in pages.items():
            client.get(path)
            with CaptureQueriesContext(connection) as taken:
                client.get(path)
            queries[name, months] = len(taken)
            ratios[name, months], baseline_ms = cpu_p10_ratio(
                lambda path=path: client.get(path), lambda: client.get(bare), PAIRS
            )
    return [row for name in pages for row in _found(name, ratios, queries, baseline_ms)]


def _found(
    name: str, ratios: dict[tuple[str, int], float], queries: dict[tuple[str, int], int], baseline_ms: float
) -> Iterator[Row]:
    from jobs.models import HourEntry

    first, last = (name, 1), (name, MONTHS)
    growth = (ratios[last] / ratios[first]) ** (1 / math.log10(MONTHS))
    entries = f"{HourEntry.objects.count():,} entries of hours"
    yield Row(f"{name} after five years: queries", queries[last], 20, "queries", entries)
    yield Row(f"{name}: queries over those of one month", queries[last] / queries[first], 1, "×")
    yield Row(f"{name}: growth of CPU a tenfold", growth, GROWTH_A_TENFOLD, "×")
    yield Row(f"{name} after five years: CPU", ratios[last], None, "× help page", f"help page {baseline_ms:.2f} ms")


def _commission(title: str, state: str) -> "Commission":
    from jobs.models import Commission, Stage, StageState
    from tests.factories import make_commission, make_section

    number = Commission.objects.count() + 1
    commission = make_commission(title, number=f"26-{number:04d}", state=state)
    sections = [make_section(commission, f"Part {each}", position=each + 1) for each in range(SECTIONS)]
    done = state == "done"
    Stage.objects.bulk_create(
        Stage(
            commission=commission,
            section=section,
            key=key,
            name=key.capitalize(),
            position=place * 10,
            code=f"{number:X}G{section.position}G{place}",
            allowed_minutes=960,
            state=StageState.PASSED if done or key == "pattern" else StageState.NOT_BEGUN,
            passed_at=datetime.datetime(2026, 3, 2, tzinfo=datetime.UTC) if done or key == "pattern" else None,
        )
        for section in sections
        for place, key in enumerate(KEYS)
    )
    return commission


def _finish(people: "list[User]", months: int) -> None:
    for month in range(1, months + 1):
        finished = [_commission(f"Done {month}-{number}", "done") for number in range(FINISHED_A_MONTH)]
        _book(people, finished, month)


def _book(people: "list[User]", commissions: "list[Commission]", month: int) -> None:
    """A month of everybody's hours, spread over the stages of these commissions."""
    from django.utils import timezone

    from jobs.models import HourEntry, Stage

    stages = list(Stage.objects.filter(commission__in=commissions))
    today = timezone.localdate()
    count = iter(range(10**9))
    HourEntry.objects.bulk_create(
        HourEntry(
            person=person,
            booked_by=person,
            stage=stages[next(count) % len(stages)],
            work_date=today - datetime.timedelta(days=30 * month + day),
            minutes=90,
            key=uuid.uuid4(),
        )
        for day in range(WORKING_DAYS)
        for person in people
        for _ in range(ENTRIES_A_DAY)
    )
