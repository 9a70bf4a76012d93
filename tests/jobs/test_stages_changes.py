"""A commission changes its own stages: steps, holds, checks and the hours allowed."""

from typing import Any

import pytest
from django.test import Client

from jobs.models import Commission, Stage, StageState, StageTemplate
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_person
from tests.jobs.sign_off_life import approve
from tests.jobs.stage_life import in_hand, make_passed, make_ready, the, work

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    return in_hand()


@pytest.fixture
def office(client: Client, commission: Commission) -> Client:
    client.force_login(make_person(Role.OWNER))
    return client


def filled(stage: Stage, **changes: str) -> dict[str, str]:
    """The form as it is opened, with changes."""
    stage.refresh_from_db()
    body = {
        "version": str(stage.version),
        "name": stage.name,
        "allowed_hours": "16",
        "waits": stage.waits,
        "sign_off": stage.sign_off,
        "weight": str(stage.weight),
        "checks": "\n".join(check.text for check in stage.checks.all()),
    }
    for number, step in enumerate(stage.steps.all()):
        body |= {
            f"name_{number}": step.name,
            f"hold_hours_{number}": f"{step.hold_hours.normalize():f}",
            f"hold_reason_{number}": step.hold_reason,
            f"foam_{number}": "barrier" if step.is_barrier else "resin" if step.needs_barrier else "",
            f"order_{number}": str(number + 1),
            **({f"slower_when_cold_{number}": "on"} if step.slower_when_cold else {}),
        }
    return body | changes


def names(stage: Stage) -> list[str]:
    return [step.name for step in stage.steps.all()]


def change(client: Client, stage: Stage, **changes: str) -> Any:
    return client.post(f"/stages/{stage.code}/change/", filled(stage, **changes))


def test_saving_it_as_it_was_opened_changes_nothing(office: Client, commission: Commission) -> None:
    for key in ("pattern", "mould"):
        stage = the(commission, key)
        before = list(stage.steps.values())
        assert change(office, stage).status_code == 302
        assert list(stage.steps.values()) == before


def test_steps_are_added_renamed_moved_and_removed_and_what_was_done_stays_done(
    office: Client, commission: Commission
) -> None:
    pattern = the(commission, "pattern")
    work(pattern, steps=2)
    response = change(
        office,
        pattern,
        name_1="Carved to the maquette",
        name_5="",
        name_6="Photographed",
        hold_hours_6="1.5",
        order_6="2.5",
        allowed_hours="18.5",
        checks="Tapped all over\nLooked at in daylight",
    )
    assert response.headers["Location"] == f"/stages/{pattern.code}/"
    assert names(pattern) == [
        "Foam blocked up and roughed out", "Carved to the maquette", "Photographed", "Filled with plaster",
        "Foam closed with the barrier coat", "Faired and sanded",
    ]  # fmt: skip
    assert pattern.steps.filter(done_at__isnull=False).count() == 2
    assert pattern.steps.get(name="Photographed").hold_hours == 1.5
    assert [check.text for check in pattern.checks.all()] == ["Tapped all over", "Looked at in daylight"]
    pattern.refresh_from_db()
    assert pattern.allowed_minutes == 18.5 * 60
    entry = AuditEntry.objects.about(commission.subject).get(act="Stage changed: Base, pattern")
    assert not entry.has_money
    assert "Photographed, hold 1.5 h" in entry.after["steps"]


def test_a_step_that_was_done_is_not_taken_out(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    work(pattern, steps=2)
    response = change(office, pattern, name_0="", name_3="Closed twice over")
    page = response.content.decode()
    assert response.status_code == 422
    assert "has been done and stays" in page
    assert 'value="Closed twice over"' in page
    assert len(names(pattern)) == 6


def test_what_is_not_done_is_not_put_before_what_is(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    work(pattern, steps=2)
    response = change(office, pattern, order_4="1.5")
    assert "steps that are not done come after it" in response.content.decode()
    assert names(pattern)[1] == "Carved to form"


def test_a_check_that_stays_stays_looked_at(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    pattern.checks.filter(position=1).update(seen_at="2026-03-02T08:00Z")
    kept = pattern.checks.get(position=1).text
    change(office, pattern, checks=f"One more\n{kept}")
    assert [(check.text, check.seen_at is not None) for check in pattern.checks.all()] == [
        ("One more", False),
        (kept, True),
    ]


def test_what_has_passed_is_left_alone(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    make_passed(pattern)
    assert "reopen it before its steps are changed" in change(office, pattern, weight="9").content.decode()
    pattern.refresh_from_db()
    assert (pattern.state, pattern.weight) == (StageState.PASSED, 30)


def test_another_hold_point_is_signed_anew(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    make_ready(pattern)
    approve(pattern)
    change(office, pattern)
    pattern.refresh_from_db()
    assert not pattern.lacks_sign_off
    change(office, pattern, sign_off="model")
    pattern.refresh_from_db()
    assert pattern.lacks_sign_off


def test_the_second_to_save_is_told_and_loses_nothing(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    late = filled(pattern, name_1="Carved by two")
    change(office, pattern, weight="12")
    response = office.post(f"/stages/{pattern.code}/change/", late)
    assert response.status_code == 409
    assert 'value="Carved by two"' in response.content.decode()
    assert names(pattern)[1] == "Carved to form"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"name": ""}, "Enter what the stage is called"),
        ({"allowed_hours": "many"}, "Enter the hours allowed, such as 16."),
        ({"weight": "101"}, "the most is 100"),
        ({"hold_hours_2": "-4"}, "Enter hours such as 16 or 0.5."),
        ({"hold_hours_2": "2001"}, "the most is 2000"),
        ({"sign_off": "blood"}, "Choose what the commissioner signs"),
        ({"checks": "x" * 161}, "is longer than 160 letters"),
        ({"checks": "\n".join(map(str, range(21)))}, "keep the 20 that matter"),
    ],
)
def test_it_says_what_to_put_right_and_keeps_what_was_typed(
    office: Client, commission: Commission, changes: dict[str, str], said: str
) -> None:
    pattern = the(commission, "pattern")
    response = change(office, pattern, name_4="Sanded with care", **changes)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert 'value="Sanded with care"' in page
    assert names(pattern)[4] == "Faired and sanded"


def test_the_office_adds_a_stage_and_takes_away_one_nobody_worked_on(office: Client, commission: Commission) -> None:
    assert "Base, crate" in office.get(f"/commissions/{commission.pk}/stages/").content.decode()
    crate = the(commission, "crate")
    assert "Remove Base, crate from the board?" in office.get(f"/stages/{crate.code}/remove/").content.decode()
    office.post(f"/stages/{crate.code}/remove/")
    assert not commission.stages.filter(key="crate").exists()
    wanted = {"template": StageTemplate.objects.get(key="crate").pk, "section": commission.sections.get().pk}
    office.post(f"/commissions/{commission.pk}/stages/", wanted)
    assert commission.stages.filter(key="crate", section__name="Base").exists()
    again = office.post(f"/commissions/{commission.pk}/stages/", wanted)
    assert again.status_code == 422
    assert "Base has the stage crate already" in again.content.decode()


def test_a_stage_that_was_worked_on_stays(office: Client, commission: Commission) -> None:
    pattern = the(commission, "pattern")
    work(pattern, steps=1)
    page = office.post(f"/stages/{pattern.code}/remove/", follow=True).content.decode()
    assert "has been worked on and stays on the board" in page
    assert commission.stages.filter(key="pattern").exists()


def test_no_stage_is_added_before_a_quote_is_accepted(office: Client, commission: Commission) -> None:
    Commission.objects.update(state="quoted")
    wanted = {"template": StageTemplate.objects.get(key="install").pk, "section": ""}
    response = office.post(f"/commissions/{commission.pk}/stages/", wanted)
    assert "Stages come with an accepted quote" in response.content.decode()
    assert not commission.stages.filter(key="install").exists()


def test_the_bench_changes_no_stages(client: Client, commission: Commission) -> None:
    code = the(commission, "pattern").code
    paths = (f"/stages/{code}/change/", f"/stages/{code}/remove/", f"/commissions/{commission.pk}/stages/")
    for path in paths:
        assert client.get(path).headers["Location"].startswith("/sign-in/")
    client.force_login(make_person(Role.BENCH))
    for path in paths:
        assert client.get(path).status_code == 403
        assert client.post(path, {}).status_code == 403
