"""The rules of stages: what begins when, what holds, what passes, and what a refusal says."""

import datetime
from collections.abc import Callable

import pytest
from django.db import DatabaseError, transaction

from jobs.models import (
    Commission,
    CommissionState,
    Snag,
    SnagGrade,
    Stage,
    StageMove,
    StageState,
    Step,
    Waits,
)
from jobs.services import stages as services
from jobs.services.stages import StageRefused
from materials.models import Figure
from studio.accounts.models import AuditEntry
from tests.jobs.sign_off_life import approve
from tests.jobs.stage_life import BEGUN, DAY, anybody, give_stages, in_hand, make_passed, make_ready, the, work

pytestmark = pytest.mark.django_db
HOUR = datetime.timedelta(hours=1)


@pytest.fixture
def commission() -> Commission:
    return in_hand()


@pytest.fixture
def pattern(commission: Commission) -> Stage:
    return the(commission, "pattern")


@pytest.fixture
def mould(commission: Commission, pattern: Stage) -> Stage:
    """A mould whose pattern has passed, begun."""
    at = make_passed(pattern)
    mould = the(commission, "mould")
    services.begin(by=anybody(), stage=mould, at=at)
    return mould


def step(stage: Stage, name: str) -> Step:
    return stage.steps.select_related("stage").get(name__startswith=name)


def refusal(act: Callable[[], object]) -> str:
    with pytest.raises(StageRefused) as refused:
        act()
    sentence = str(refused.value)
    assert sentence.endswith(".")
    return sentence


def test_a_stage_goes_from_not_begun_to_passed_and_each_move_is_kept(pattern: Stage) -> None:
    make_passed(pattern)
    moves = [(move.before, move.after) for move in pattern.moves.order_by("pk")]
    assert moves == [("not_begun", "in_hand"), ("in_hand", "ready"), ("ready", "passed")]
    assert pattern.passed_at is not None


def test_a_move_is_never_altered(pattern: Stage) -> None:
    services.begin(by=anybody(), stage=pattern, at=BEGUN)
    with pytest.raises(DatabaseError, match="never altered"), transaction.atomic():
        StageMove.objects.update(reason="because")
    with pytest.raises(DatabaseError, match="never altered"), transaction.atomic():
        StageMove.objects.all().delete()


def test_a_mould_does_not_begin_before_its_pattern_has_passed(commission: Commission, pattern: Stage) -> None:
    make_ready(pattern)
    said = refusal(lambda: services.begin(by=anybody(), stage=the(commission, "mould"), at=BEGUN))
    assert said == "Base, mould cannot begin yet: Base, pattern has not passed."


def test_what_may_begin_once_all_before_has_begun_waits_for_that(commission: Commission) -> None:
    make_passed(the(commission, "mould"), make_passed(the(commission, "pattern")))
    finish = the(commission, "finish")
    assert "Base, cast has not begun" in refusal(lambda: services.begin(by=anybody(), stage=finish, at=BEGUN))
    services.begin(by=anybody(), stage=the(commission, "cast"), at=BEGUN)
    services.begin(by=anybody(), stage=finish, at=BEGUN)
    assert the(commission, "finish").state == StageState.IN_HAND


def test_a_crate_may_begin_first_and_passes_last(commission: Commission) -> None:
    crate = the(commission, "crate")
    make_ready(crate)
    approve(crate)
    said = refusal(lambda: services.pass_stage(by=anybody(), stage=crate, at=BEGUN))
    for name in ("pattern", "mould", "cast", "finish"):
        assert f"Base, {name} has not passed" in said


def test_a_stage_of_the_whole_waits_for_every_section() -> None:
    commission = in_hand(sections=("Base", "Crown"), keys=("pattern",))
    give_stages(commission, None, ("install",))
    install = commission.stages.get(key="install")
    make_passed(the(commission, "pattern", "Base"))
    said = refusal(lambda: services.begin(by=anybody(), stage=install, at=BEGUN))
    assert said == "Whole, install cannot begin yet: Crown, pattern has not passed."
    make_passed(the(commission, "pattern", "Crown"))
    services.begin(by=anybody(), stage=install, at=BEGUN)


def test_one_section_does_not_wait_for_another() -> None:
    commission = in_hand(sections=("Base", "Crown"))
    make_passed(the(commission, "pattern", "Base"))
    services.begin(by=anybody(), stage=the(commission, "mould", "Base"), at=BEGUN)
    assert the(commission, "mould", "Base").state == StageState.IN_HAND


def test_a_stage_begins_once(pattern: Stage) -> None:
    services.begin(by=anybody(), stage=pattern, at=BEGUN)
    assert "has begun already" in refusal(lambda: services.begin(by=anybody(), stage=pattern, at=BEGUN))


def test_hours_begin_a_stage_whose_turn_has_come_and_no_other(commission: Commission, pattern: Stage) -> None:
    assert services.begun_by_work(by=anybody(), stage=pattern, at=BEGUN)
    assert not services.begun_by_work(by=anybody(), stage=pattern, at=BEGUN)
    assert not services.begun_by_work(by=anybody(), stage=the(commission, "mould"), at=BEGUN)
    assert the(commission, "mould").state == StageState.NOT_BEGUN


@pytest.mark.parametrize("state", [CommissionState.DONE, CommissionState.QUOTED])
def test_stages_stand_still_unless_the_commission_is_in_hand(pattern: Stage, state: str) -> None:
    Commission.objects.update(state=state)
    assert "is not in hand" in refusal(lambda: services.begin(by=anybody(), stage=pattern, at=BEGUN))


def test_steps_are_done_in_their_order(pattern: Stage) -> None:
    carve = step(pattern, "Carved")
    assert "has not begun" in refusal(lambda: services.do_step(by=anybody(), step=carve, at=BEGUN))
    services.begin(by=anybody(), stage=pattern, at=BEGUN)
    said = refusal(lambda: services.do_step(by=anybody(), step=carve, at=BEGUN))
    assert said == "“Carved to form” cannot be done yet: the step “Foam blocked up and roughed out” comes first."


def test_doing_a_step_twice_changes_nothing(pattern: Stage) -> None:
    work(pattern, steps=1)
    first = step(pattern, "Foam blocked")
    services.do_step(by=anybody(), step=first, at=BEGUN + DAY)
    first.refresh_from_db()
    assert first.done_at == BEGUN


def test_a_step_starts_the_hold_that_follows_it(pattern: Stage) -> None:
    # Common practice, no source: plaster filler dries 12 h to a millimetre at 20 °C.
    assert work(pattern, steps=3) == BEGUN + 12 * HOUR
    pattern.refresh_from_db()
    assert pattern.hold_reason == "plaster filler dries, at 20 °C"
    assert pattern.is_held(BEGUN + 11 * HOUR)
    assert not pattern.is_held(BEGUN + 12 * HOUR)


def test_a_hold_lasts_twice_as_long_below_fifteen_degrees(pattern: Stage) -> None:
    work(pattern, steps=2)
    services.do_step(by=anybody(), step=step(pattern, "Filled"), at=BEGUN, temperature_c=14)
    pattern.refresh_from_db()
    assert pattern.hold_until == BEGUN + 24 * HOUR


def test_nothing_that_cures_is_done_below_ten_degrees(pattern: Stage) -> None:
    work(pattern, steps=2)
    fill = step(pattern, "Filled")
    said = refusal(lambda: services.do_step(by=anybody(), step=fill, at=BEGUN, temperature_c=9))
    assert "it must be at least 10 °C" in said
    assert "warm the workshop" in said
    fill.refresh_from_db()
    assert fill.done_at is None


def test_the_studio_decides_what_cold_is(pattern: Stage) -> None:
    Figure.objects.filter(key="cold_stop_below").update(value=5)
    work(pattern, steps=2)
    services.do_step(by=anybody(), step=step(pattern, "Filled"), at=BEGUN, temperature_c=9)
    pattern.refresh_from_db()
    assert pattern.hold_until == BEGUN + 24 * HOUR


def test_no_step_is_done_while_a_hold_runs(pattern: Stage) -> None:
    work(pattern, steps=3)
    said = refusal(lambda: services.do_step(by=anybody(), step=step(pattern, "Foam closed"), at=BEGUN + HOUR))
    assert "it is on hold until Mon 2 Mar 20:00 (plaster filler dries, at 20 °C)" in said


def test_a_stage_on_hold_is_not_ready(pattern: Stage) -> None:
    work(pattern, steps=3)
    said = refusal(lambda: services.ready_to_check(by=anybody(), stage=pattern, at=BEGUN + HOUR))
    assert "on hold until" in said
    assert "the step “Faired and sanded” is not done" in said


def test_no_resin_goes_on_before_the_foam_is_closed(mould: Stage) -> None:
    at = BEGUN + 30 * DAY
    for name in ("Parting", "Waxed"):
        services.do_step(by=anybody(), step=step(mould, name), at=at)
        at += DAY
    # The pattern is opened again, and its barrier sanded off.
    pattern = the(mould.commission, "pattern")
    services.reopen(by=anybody(), stage=pattern, reason="Carved deeper at the neck", at=at)
    for name in ("Sealed", "Faired", "Foam closed"):
        services.take_step_back(by=anybody(), step=step(pattern, name), at=at)
    gel_coat = step(mould, "Tooling gel coat")
    said = refusal(lambda: services.do_step(by=anybody(), step=gel_coat, at=at))
    assert "the foam is bare: “Foam closed with the barrier coat” is not done" in said
    services.do_step(by=anybody(), step=step(pattern, "Foam closed"), at=at)
    said = refusal(lambda: services.do_step(by=anybody(), step=gel_coat, at=at + HOUR))
    assert "Base, pattern is on hold until" in said
    services.do_step(by=anybody(), step=gel_coat, at=at + 3 * HOUR)
    gel_coat.refresh_from_db()
    assert gel_coat.done_at is not None


def test_a_section_whose_foam_nothing_closes_takes_no_resin(mould: Stage) -> None:
    Step.objects.filter(is_barrier=True).delete()
    at = BEGUN + 30 * DAY
    for name in ("Parting", "Waxed"):
        services.do_step(by=anybody(), step=step(mould, name), at=at)
        at += DAY
    gel_coat = step(mould, "Tooling gel coat")
    said = refusal(lambda: services.do_step(by=anybody(), step=gel_coat, at=at))
    assert "no step of Base closes the foam" in said


def test_the_last_step_is_taken_back_with_its_hold_and_recorded(pattern: Stage) -> None:
    work(pattern, steps=3)
    first, fill = step(pattern, "Foam blocked"), step(pattern, "Filled")
    assert "take that one back first" in refusal(
        lambda: services.take_step_back(by=anybody(), step=first, at=BEGUN + HOUR)
    )
    services.take_step_back(by=anybody(), step=fill, at=BEGUN + HOUR)
    pattern.refresh_from_db()
    fill.refresh_from_db()
    assert (pattern.hold_until, fill.done_at) == (None, None)
    assert AuditEntry.objects.filter(act="Step taken back on Base, pattern: Filled with plaster").exists()


def test_nothing_passes_before_it_is_ready(pattern: Stage) -> None:
    work(pattern)
    said = refusal(lambda: services.pass_stage(by=anybody(), stage=pattern, at=BEGUN + 9 * DAY))
    assert said == "Base, pattern is in hand; it has to be ready to check before it passes."


def test_a_refusal_to_pass_names_everything_that_is_missing(commission: Commission, pattern: Stage) -> None:
    at = make_ready(pattern)
    services.look_at(by=anybody(), check=pattern.checks.select_related("stage")[0], seen=False, at=at)
    Snag.objects.create(
        commission=commission, section=pattern.section, what="Nose broken off", grade=SnagGrade.GRAVE,
        found_by=anybody(),
    )  # fmt: skip
    said = refusal(lambda: services.pass_stage(by=anybody(), stage=pattern, at=at))
    assert "“No foam shows through the barrier, corners and undersides looked at” has not been looked at" in said
    assert "the sign-off “Form of the pattern” has not been given" in said
    assert "the grave snag “Nose broken off” is open" in said


def test_a_snag_that_is_closed_or_slight_stops_nothing(commission: Commission, pattern: Stage) -> None:
    at = make_ready(pattern)
    approve(pattern, at)
    given = {"commission": commission, "section": pattern.section, "what": "Scratch", "found_by": anybody()}
    Snag.objects.create(grade=SnagGrade.PLAIN, **given)
    Snag.objects.create(grade=SnagGrade.GRAVE, closed_at=at, closed_by=anybody(), **given)
    services.pass_stage(by=anybody(), stage=pattern, at=at)
    assert the(commission, "pattern").state == StageState.PASSED


def test_a_stage_is_reopened_for_a_reason_and_then_checked_and_signed_anew(
    commission: Commission, pattern: Stage
) -> None:
    at = make_passed(pattern)
    assert "Say why" in refusal(lambda: services.reopen(by=anybody(), stage=pattern, reason=" ", at=at))
    services.reopen(by=anybody(), stage=pattern, reason="Nose broken off", at=at)
    pattern.refresh_from_db()
    assert (pattern.state, pattern.passed_at, pattern.lacks_sign_off) == (StageState.REOPENED, None, True)
    assert not pattern.checks.filter(seen_at__isnull=False).exists()
    assert pattern.moves.first().reason == "Nose broken off"
    services.ready_to_check(by=anybody(), stage=pattern, at=at)
    said = refusal(lambda: services.pass_stage(by=anybody(), stage=pattern, at=at))
    assert "has not been looked at" in said
    assert "has not been given" in said


def test_what_is_in_hand_is_not_reopened(pattern: Stage) -> None:
    services.begin(by=anybody(), stage=pattern, at=BEGUN)
    said = refusal(lambda: services.reopen(by=anybody(), stage=pattern, reason="A crack", at=BEGUN))
    assert "only what is ready or passed is reopened" in said


def test_a_later_stage_does_not_pass_while_an_earlier_one_is_reopened(commission: Commission, mould: Stage) -> None:
    at = BEGUN + 30 * DAY
    services.reopen(by=anybody(), stage=the(commission, "pattern"), reason="Nose broken off", at=at)
    Stage.objects.filter(pk=mould.pk).update(state=StageState.READY)
    mould.steps.update(done_at=at)
    mould.checks.update(seen_at=at)
    said = refusal(lambda: services.pass_stage(by=anybody(), stage=mould, at=at))
    assert said == "Base, mould cannot pass yet: Base, pattern has not passed."


def test_no_check_is_ticked_before_the_work_or_after_it_passed(pattern: Stage) -> None:
    check = pattern.checks.select_related("stage")[0]
    look = lambda: services.look_at(by=anybody(), check=check, seen=True, at=BEGUN)  # noqa: E731
    assert "is not begun" in refusal(look)
    make_passed(pattern)
    assert "is passed" in refusal(look)


def test_nothing_more_is_done_on_a_stage_that_is_ready(pattern: Stage) -> None:
    at = make_ready(pattern)
    Step.objects.create(stage=pattern, position=40, name="Polished again")
    last = step(pattern, "Polished again")
    assert "reopen it" in refusal(lambda: services.do_step(by=anybody(), step=last, at=at))
    assert "“Polished again” is not done" in refusal(lambda: services.pass_stage(by=anybody(), stage=pattern, at=at))


def test_a_stage_that_waits_for_nothing_says_so(commission: Commission) -> None:
    Stage.objects.filter(key="cast").update(waits=Waits.NO)
    services.begin(by=anybody(), stage=the(commission, "cast"), at=BEGUN)
    assert the(commission, "cast").begun_at == BEGUN
