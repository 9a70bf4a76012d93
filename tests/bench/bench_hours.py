"""Booking an hour, against a bare view of the same project that writes one row."""

import uuid
from typing import Any

from tests.bench.table import Row
from tests.bench.throwaway import studio
from tests.bench.timing import cpu_p10_ratio

PAIRS = 250
LIMIT = 8


def run() -> list[Row]:
    """CPU time of a tap from a phone's queue, and of the same from a plain form."""
    with studio():
        return _rows()


def _rows() -> list[Row]:
    from django.db import transaction
    from django.http import HttpRequest, HttpResponse
    from django.test import Client
    from django.test.utils import override_settings
    from django.urls import path
    from django.utils import timezone

    from jobs.models import HourEntry
    from studio.accounts.models import AuditEntry, Role
    from studio.urls import urlpatterns
    from tests.factories import make_commission, make_open_stage, make_person, make_section

    def bare(request: HttpRequest) -> HttpResponse:
        with transaction.atomic():
            AuditEntry.objects.create(subject="bench", act="One row")
        return HttpResponse("written")

    class Addresses:
        pass

    addresses: Any = Addresses()
    addresses.urlpatterns = [*urlpatterns, path("bare/", bare)]
    section = make_section(make_commission())
    stages = [make_open_stage(section, f"stage{number}") for number in range(10)]
    # A day holds 24 h, so that everybody books little.
    crew = [make_person(Role.BENCH, username=f"p{number}", shown_name=f"Maker {number}") for number in range(20)]
    today = timezone.localdate().isoformat()
    count = 0

    def tap() -> dict[str, Any]:
        nonlocal count
        count += 1
        person, stage = crew[count % len(crew)], stages[count % len(stages)]
        return {"key": uuid.uuid4(), "person": person.pk, "stage": stage.pk, "work_date": today, "minutes": 15}

    rows = []
    with override_settings(ROOT_URLCONF=addresses):
        client = Client()
        client.force_login(crew[0], backend="django.contrib.auth.backends.ModelBackend")
        for name, headers in (("a phone's queue", {"Accept": "application/json"}), ("a plain form", {})):
            before = HourEntry.objects.count()
            ratio, baseline_ms = cpu_p10_ratio(
                lambda headers=headers: client.post("/bench/book/", tap(), headers=headers),
                lambda: client.post("/bare/"),
                PAIRS,
            )
            written = HourEntry.objects.count() - before
            if written != PAIRS + 1:
                raise RuntimeError(f"{written} entries were written where {PAIRS + 1} were booked")
            rows.append(
                Row(f"booking from {name}: CPU", ratio, LIMIT, "× bare view", f"bare view {baseline_ms:.2f} ms")
            )
    return rows
