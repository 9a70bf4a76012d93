"""How far Six Acorns has come, nine weeks after its quote was accepted. Invented."""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from jobs.models import Commission, Stage
from jobs.services import stages as services
from studio.accounts.models import User
from studio.management.demo.days import moment
from studio.management.demo.sign_offs import CLERK, ROLE, approved


@dataclass(frozen=True, slots=True)
class Told:
    """One stage: who worked on it, and days before today; a day for each step done, then ready and passed."""

    section: str
    key: str
    by: str
    begun: int
    steps: tuple[int, ...]
    ready: int | None = None
    passed: int | None = None
    signed: str = ""
    temperature_c: float = 18
    who: tuple[str, str] = (CLERK, ROLE)


LINK, PAPER = "link", "paper"
LIFE = (
    Told("Nut", "pattern", "ines", 54, (53, 52, 51, 50, 48, 47), 46, 45, signed=LINK),
    Told("Cup", "pattern", "jory", 52, (51, 50, 49, 48, 46, 44), 43, 42, signed=PAPER),
    Told("Nut", "mould", "senka", 45, (44, 44, 43, 42, 41, 40, 36), 33, 33),
    Told("Cup", "mould", "bram", 41, (40, 40, 39, 38, 37, 36, 32), 29, 28),
    Told("Nut", "cast", "ines", 33, (32, 31, 30, 27, 26), 24, 23),
    Told("Nut", "metalwork", "bram", 34, (30, 28), 26, 22),
    Told("Nut", "finish", "senka", 24, (22, 20, 18, 15, 12), 4),
    Told("Nut", "crate", "jory", 6, (3,)),
    Told("Cup", "cast", "ines", 26, (2, 1, 1), temperature_c=14),
)
CRACKED = "A return cracked as the third cup came out; lay it up again"


def move_acorns(commission: Commission, people: Mapping[str, User], on: datetime.date) -> None:
    """Take its stages to where they are, one of them back to work."""
    stages = move_stages(commission, LIFE, people, on)
    services.reopen(by=people["bram"], stage=stages["Cup", "mould"], reason=CRACKED, at=moment(on, 12, 15))


def move_stages(
    commission: Commission, life: Iterable[Told], people: Mapping[str, User], on: datetime.date
) -> dict[tuple[str, str], Stage]:
    """Take stages to where they are, through the services and in the order in which it happened."""
    own = commission.stages.select_related("section", "commission")
    stages = {(stage.section.name, stage.key): stage for stage in own if stage.section}
    for told in life:
        _live(stages[told.section, told.key], told, people, on)
    return stages


def _live(stage: Stage, told: Told, people: Mapping[str, User], on: datetime.date) -> None:
    by, office = people[told.by], people["tam"]
    services.begin(by=by, stage=stage, at=moment(on, told.begun, 8))
    for number, (step, days) in enumerate(zip(stage.steps.select_related("stage"), told.steps, strict=False)):
        # Two steps of one day are a morning apart, so that a short hold between them has run out.
        hour = 15 if number and told.steps[number - 1] == days else 9
        services.do_step(by=by, step=step, at=moment(on, days, hour), temperature_c=told.temperature_c)
    if told.ready is None:
        return
    services.ready_to_check(by=by, stage=stage, at=moment(on, told.ready, 16))
    for check in stage.checks.select_related("stage"):
        services.look_at(by=people["maud"], check=check, seen=True, at=moment(on, told.ready, 16))
    if told.signed:
        answered = on - datetime.timedelta(days=told.passed or 0)
        sent, on_paper = moment(on, told.ready, 17), told.signed == PAPER
        approved(stage, office, sent=sent, on=answered, on_paper=on_paper, who=told.who)
    if told.passed is not None:
        services.pass_stage(by=people["maud"], stage=stage, at=moment(on, told.passed, 12))
