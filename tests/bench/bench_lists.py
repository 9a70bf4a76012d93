"""The list of commissions with 20 and with 2,000 of them, against a bare view of the same project."""

from typing import Any

from tests.bench.table import Row
from tests.bench.throwaway import studio
from tests.bench.timing import cpu_p10_ratio

PAIRS = 150


def run() -> list[Row]:
    """Queries at both sizes, and CPU time against a signed-in view that answers with one word."""
    with studio():
        return _rows()


def _rows() -> list[Row]:
    from django.db import connection
    from django.http import HttpRequest, HttpResponse
    from django.test import Client
    from django.test.utils import CaptureQueriesContext, override_settings
    from django.urls import path

    from studio.access import members
    from studio.urls import urlpatterns
    from tests.factories import make_commission, make_person

    @members
    def bare(request: HttpRequest) -> HttpResponse:
        return HttpResponse("here")

    class Addresses:
        pass

    addresses: Any = Addresses()
    addresses.urlpatterns = [*urlpatterns, path("bare/", bare)]
    rows = []
    with override_settings(ROOT_URLCONF=addresses):
        client = Client()
        client.force_login(make_person())
        queries = {}
        made = 0
        for size in (20, 2000):
            for number in range(made, size):
                make_commission(f"Work {number}", number=f"26-{number + 1:03d}", place="By the water")
            made = size
            with CaptureQueriesContext(
                connection,
            ) as taken:
                client.get("/commissions/")
            queries[size] = len(taken)
            ratio, baseline_ms = cpu_p10_ratio(lambda: client.get("/commissions/"), lambda: client.get("/bare/"), PAIRS)
            rows.append(Row(f"list of {size} commissions: queries", queries[size], 12, "queries"))
            rows.append(
                Row(f"list of {size} commissions: CPU", ratio, 6, "× bare view", f"bare view {baseline_ms:.2f} ms")
            )
    rows.append(Row("queries at 2,000 over those at 20", queries[2000] / queries[20], 1, "×"))
    return rows
