"""The studio's doors, vehicles and limits of the road: seeded, and changed by the office alone."""

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.delivery.reference import roads
from jobs.delivery.reference.roads import DOORS, ROAD_RULES, VEHICLES
from jobs.models import Doorway, RoadLimit, Transport
from jobs.queries.sending import doors, road_rules, vehicles
from materials.estimator.reference import CHECKED_ON
from materials.estimator.reference.rows import PRACTICE
from studio.accounts.models import AuditEntry, Role
from tests.factories import signed_in

pytestmark = pytest.mark.django_db

LUTON = {
    "version": "0",
    "name": "Our own van",
    "length_m": "4.1 m",
    "width_m": "2000 mm",
    "height_m": "2.1 m",
    "door_width_m": "1.9 m",
    "door_height_m": "2.05 m",
    "payload_kg": "950 kg",
    "deck_m": "900 mm",
    "overall_width_m": "2.2 m",
    "source": "the logbook",
    "checked_on": "2025-06-01",
}


def test_a_new_studio_begins_with_the_reference() -> None:
    assert sorted(doors(), key=str) == sorted(DOORS, key=str)
    assert {(rule.measure, rule.above_m, rule.action) for rule in road_rules()} == {
        (rule.measure, rule.above_m, rule.action) for rule in ROAD_RULES
    }
    assert all("checked on 1 January 2025" in rule.source for rule in road_rules())
    assert {row.source for row in Doorway.objects.all()} == {PRACTICE}
    assert {row.checked_on for row in Doorway.objects.all()} == {CHECKED_ON}
    assert {row.checked_on for row in Transport.objects.all()} == {roads.CHECKED_ON}
    known = {each.name: each for each in vehicles()}
    for each in VEHICLES:
        found = known[each.name]
        assert (found.room, found.payload_kg, found.is_open) == (each.room, each.payload_kg, each.is_open)
        assert (found.door is None) is (each.door is None)


def test_the_office_adds_changes_and_removes_a_vehicle() -> None:
    client = signed_in(Role.OFFICE)
    assert client.post(reverse("new_own_row", args=["vehicle"]), LUTON).status_code == 302
    row = Transport.objects.get(name="Our own van")
    assert (row.width_m, row.deck_m, row.is_open) == (2.0, 0.9, False)
    changed = {**LUTON, "payload_kg": "900 kg"}
    assert client.post(reverse("own_row", args=["vehicle", row.pk]), {**changed, "checked_on": ""}).status_code == 302
    row.refresh_from_db()
    assert (row.payload_kg, row.version, row.checked_on) == (900.0, 1, timezone.localdate())
    entry = AuditEntry.objects.filter(act="Vehicle changed: Our own van").get()
    assert entry.before == {"payload": "950.0", "checked on": "2025-06-01"}
    assert entry.after == {"payload": "900.0", "checked on": str(timezone.localdate())}
    again = client.post(reverse("own_row", args=["vehicle", row.pk]), {**LUTON, "name": "Van"})
    assert again.status_code == 409
    assert "900 kg" in again.content.decode()
    assert client.post(reverse("remove_own_row", args=["vehicle", row.pk])).status_code == 302
    assert not Transport.objects.filter(pk=row.pk).exists()


@pytest.mark.parametrize(
    ("kind", "values", "told"),
    [
        ("door", {"name": "Gate", "width_m": "wide", "height_m": "2 m"}, "width"),
        ("door", {"name": "Gate", "width_m": "0.05 m", "height_m": "2 m"}, "between 0.1 and 50 m"),
        (
            "door",
            {"name": "double DOOR", "width_m": "2 m", "height_m": "2 m"},
            "double DOOR stands on the list",
        ),
        ("vehicle", {**LUTON, "door_width_m": ""}, "Enter both measures of its door"),
        ("vehicle", {**LUTON, "payload_kg": "1000"}, "ayload"),
        ("vehicle", {**LUTON, "payload_kg": "900000 kg"}, "at most 200000 kg"),
        (
            "limit",
            {"measure": "depth", "above_m": "3 m", "action": "Stop.", "checked_on": "2025-06-01"},
            "Choose what is measured",
        ),
        (
            "limit",
            {"measure": "width", "above_m": "2.9 m", "action": "Stop.", "checked_on": "2025-06-01"},
            "stands on the list",
        ),
        (
            "limit",
            {"measure": "width", "above_m": "2.7 m", "action": "Stop.", "checked_on": "soon"},
            "Enter a day",
        ),
    ],
)
def test_what_is_no_door_vehicle_or_limit_is_refused_and_kept_on_the_page(kind, values, told) -> None:
    counts = [model.objects.count() for model in (Doorway, Transport, RoadLimit)]
    page = signed_in(Role.OFFICE).post(reverse("new_own_row", args=[kind]), {"version": "0", **values})
    body = page.content.decode()
    assert page.status_code == 422
    assert told in body
    assert all(value in body for name, value in values.items() if name not in ("measure", "version"))
    assert counts == [model.objects.count() for model in (Doorway, Transport, RoadLimit)]


def test_the_list_shows_them_all_and_the_bench_does_not_edit_them() -> None:
    office = signed_in(Role.OFFICE)
    body = office.get(reverse("ways")).content.decode()
    assert all(each.name in body for each in (*DOORS, *VEHICLES))
    assert all(rule.action in body for rule in ROAD_RULES)
    Doorway.objects.filter(name="Single door").update(checked_on=None)
    assert body.count("due for a check") + 1 == office.get(reverse("ways")).content.decode().count("due for a check")
    bench = signed_in(Role.BENCH)
    assert bench.get(reverse("ways")).status_code == 403
    assert bench.get(reverse("new_own_row", args=["door"])).status_code == 403
    assert office.get(reverse("new_own_row", args=["boat"])).status_code == 404
