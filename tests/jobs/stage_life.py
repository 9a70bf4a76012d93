"""Commissions in hand, and stages taken as far as a test wants them, by the services that people use."""

import datetime
from collections.abc import Sequence

from jobs.models import Commission, CommissionState, Section, Stage, StageState, StageTemplate
from jobs.services import stages as services
from jobs.services.stage_making import add_stage
from studio.accounts.models import Role, User
from tests.factories import make_commission, make_person, make_section
from tests.jobs.sign_off_life import approve

USUAL = ("pattern", "mould", "cast", "finish", "crate")
BEGUN = datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.UTC)
DAY = datetime.timedelta(days=1)


def anybody() -> User:
    """Whoever is in the office; made where nobody is."""
    return User.objects.filter(role=Role.OFFICE).first() or make_person(Role.OFFICE)


def in_hand(
    title: str = "The Long Pear", sections: Sequence[str] = ("Base",), keys: Sequence[str] = USUAL
) -> Commission:
    """A commission that is accepted, each section with the studio's stages of these keys."""
    commission = make_commission(title, state=CommissionState.ACCEPTED)
    for name in sections:
        give_stages(commission, make_section(commission, name), keys)
    return commission


def give_stages(commission: Commission, section: Section | None, keys: Sequence[str]) -> None:
    """The studio's stages of these keys."""
    for template in StageTemplate.objects.filter(key__in=keys):
        add_stage(by=anybody(), commission=commission, template=template, section=section)


def the(commission: Commission, key: str, section: str = "Base") -> Stage:
    """One stage as it stands now."""
    return Stage.objects.select_related("section", "commission").get(
        commission=commission, section__name=section, key=key
    )


def work(stage: Stage, at: datetime.datetime = BEGUN, steps: int | None = None) -> datetime.datetime:
    """Begin a stage and do its steps, each when the hold before it is over; answers when the last hold is."""
    services.begin(by=anybody(), stage=stage, at=at)
    for step in stage.steps.select_related("stage")[:steps]:
        services.do_step(by=anybody(), step=step, at=at)
        stage.refresh_from_db()
        at = max(at, stage.hold_until or at)
    return at


def make_ready(stage: Stage, at: datetime.datetime = BEGUN) -> datetime.datetime:
    """Work a stage through and look at every check."""
    at = work(stage, at)
    services.ready_to_check(by=anybody(), stage=stage, at=at)
    for check in stage.checks.select_related("stage"):
        services.look_at(by=anybody(), check=check, seen=True, at=at)
    stage.refresh_from_db()
    return at


def make_passed(stage: Stage, at: datetime.datetime = BEGUN) -> datetime.datetime:
    """Take a stage through its whole life."""
    at = make_ready(stage, at)
    if stage.sign_off:
        approve(stage, at)
    services.pass_stage(by=anybody(), stage=stage, at=at)
    stage.refresh_from_db()
    assert stage.state == StageState.PASSED
    return at
