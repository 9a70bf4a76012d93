"""The studio's own stages, which every commission accepted from then on is given."""

import datetime

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import StageTemplate
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_person
from tests.jobs.stage_life import in_hand, the

pytestmark = pytest.mark.django_db

LIGHTING = {
    "version": "0", "name": "Lighting", "position": "55", "waits": "passed", "sign_off": "fit_up", "weight": "8",
    "crew": "2", "room": "bay", "optional": "on", "checks": "Every lamp lights",
    "name_0": "Cables drawn", "order_0": "1",
    "name_1": "Lamps set in resin", "hold_hours_1": "16", "hold_reason_1": "resin cures", "slower_when_cold_1": "on",
    "hold_evidence_1": "common practice, no source", "order_1": "2",
}  # fmt: skip


@pytest.fixture
def office(client: Client) -> Client:
    client.force_login(make_person(Role.OFFICE))
    return client


def test_every_stage_stands_with_its_steps_holds_and_where_they_come_from(office: Client) -> None:
    page = office.get("/office/stages/").content.decode()
    for name in ("Pattern", "Mould", "Cast", "Metalwork", "Finish", "Assembly", "Crate", "Install"):
        assert f">{name}</a>" in page
    assert "Frames on, hold 72 h: mould cures on its pattern" in page
    assert "suppliers: several days for a full cure" in page
    assert page.count("25 Nov 2026") == 8
    assert "due for a check" not in page
    StageTemplate.objects.filter(key="cast").update(checked_on=datetime.date(2020, 1, 1))
    assert office.get("/office/stages/").content.decode().count("due for a check") == 1


def test_a_stage_is_added_with_its_steps_and_checks(office: Client) -> None:
    assert office.post("/office/stages/new/", LIGHTING).headers["Location"] == "/office/stages/"
    row = StageTemplate.objects.get(key="lighting")
    assert (row.position, row.waits, row.sign_off, row.weight, row.optional, row.for_whole) == (
        55, "passed", "fit_up", 8, True, False,
    )  # fmt: skip
    assert (row.crew, row.room, row.checked_on) == (2, "bay", timezone.localdate())
    assert [(step.name, step.hold_hours, step.slower_when_cold) for step in row.steps.all()] == [
        ("Cables drawn", 0, False),
        ("Lamps set in resin", 16, True),
    ]
    assert [check.text for check in row.checks.all()] == ["Every lamp lights"]
    assert AuditEntry.objects.filter(subject="office", act="Stage added: Lighting").exists()


def test_a_change_leaves_the_commissions_that_have_theirs(office: Client) -> None:
    commission = in_hand(keys=("pattern",))
    row = StageTemplate.objects.get(key="pattern")
    response = office.post(f"/office/stages/{row.pk}/", LIGHTING | {"name": "Pattern", "position": "10"})
    assert response.status_code == 302
    assert [step.name for step in row.steps.all()] == ["Cables drawn", "Lamps set in resin"]
    assert the(commission, "pattern").steps.count() == 6
    row.refresh_from_db()
    assert (row.key, row.version) == ("pattern", 1)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"name": ""}, "Enter what the stage is called"),
        ({"name": "pattern"}, "There is a stage called pattern already"),
        ({"position": "20"}, "Mould has the place 20 already"),
        ({"position": "0"}, "the least is 1"),
        ({"checked_on": "2999-01-01"}, "is still to come"),
        ({"hold_hours_1": "16 h"}, "is not a plain number"),
        ({"foam_0": "melts"}, "Choose what the step does to foam."),
    ],
)
def test_it_says_what_to_put_right_and_keeps_what_was_typed(office: Client, changes: dict[str, str], said: str) -> None:
    response = office.post("/office/stages/new/", LIGHTING | changes)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert "<title>Error: " in page
    assert 'value="Lamps set in resin"' in page
    assert StageTemplate.objects.count() == 8


def test_the_second_to_save_is_told(office: Client) -> None:
    row = StageTemplate.objects.get(key="crate")
    given = LIGHTING | {"name": "Crate", "position": "70"}
    office.post(f"/office/stages/{row.pk}/", given)
    late = office.post(f"/office/stages/{row.pk}/", given | {"weight": "11"})
    assert late.status_code == 409
    assert 'value="11"' in late.content.decode()
    row.refresh_from_db()
    assert row.weight == 8


def test_removing_asks_first_and_leaves_commissions_alone(office: Client) -> None:
    commission = in_hand(keys=("crate",))
    row = StageTemplate.objects.get(key="crate")
    page = office.get(f"/office/stages/{row.pk}/remove/").content.decode()
    assert "Remove Crate from the studio's stages?" in page
    office.post(f"/office/stages/{row.pk}/remove/")
    assert not StageTemplate.objects.filter(key="crate").exists()
    assert the(commission, "crate").steps.count() == 2


def test_keys_stay_apart_where_names_begin_alike(office: Client) -> None:
    for number, name in enumerate(("Lighting of the head", "Lighting of the foot"), start=1):
        office.post("/office/stages/new/", LIGHTING | {"name": name, "position": str(300 + number)})
    keys = StageTemplate.objects.filter(name__startswith="Lighting").values_list("key", flat=True)
    assert len(set(keys)) == 2
    assert all(len(key) <= 12 for key in keys)


@pytest.mark.parametrize(
    "path", ["/office/stages/", "/office/stages/new/", "/office/stages/1/", "/office/stages/1/remove/"]
)
def test_strangers_sign_in_and_the_bench_is_refused(client: Client, path: str) -> None:
    assert client.get(path).headers["Location"].startswith("/sign-in/")
    client.force_login(make_person(Role.BENCH))
    assert client.get(path).status_code == 403
