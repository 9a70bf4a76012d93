"""Plans asked for, worked out behind the pages, kept, published and frozen; and what other sheets read of them."""

import datetime
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs.figures.plan.serial import serial_plan
from jobs.models import Commission, Decision, Plan, Section, SentOutWork, Stage
from jobs.plans.reading import PlanSheet
from jobs.queries.plans import changes_since, expected_on, stage_days
from jobs.queries.stores import needs_of
from jobs.services import plan_work
from jobs.services.planning import remedies
from jobs.services.planning.suppositions import HIRE, MOVE_DATE, PAINT_OUT, SATURDAYS, SECOND_MOULD, Supposition
from jobs.services.plans import PlanRefused, ask_for_plan, drop_plan, keep_plan, publish_plan
from jobs.services.quotes import answer
from studio.accounts.models import AuditEntry
from studio.tasks.models import WorkState
from studio.tasks.queue import cancel
from studio.tasks.running import perform
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything
from tests.jobs.plan_life import gathered, in_force, owner, to_plan, worked_out
from tests.jobs.stage_life import make_passed, the, work

pytestmark = pytest.mark.django_db

DAY = datetime.timedelta(days=1)


def test_a_plan_says_when_everything_is_done_and_by_whom() -> None:
    pear = to_plan(needed_by=timezone.localdate() + 300 * DAY)
    plan = worked_out()
    assert plan.work is not None
    assert plan.work.state == WorkState.DONE
    sheet = PlanSheet(plan)
    (finish,) = sheet.finishes
    rows = sheet.rows_of(pear.pk)
    assert {row.key for row in rows} == {"pattern", "mould", "cast", "finish", "crate"}
    assert all(row.start.date() >= plan.begins for row in rows)
    # The board's own order: the mould waits for the pattern's signature, the cast for a rested mould.
    ends = {key: max(row.last for row in rows if row.key == key) for key in ("pattern", "mould")}
    begins = {key: min(row.start for row in rows if row.key == key) for key in ("mould", "cast")}
    assert ends["pattern"] <= begins["mould"]
    assert ends["mould"] <= begins["cast"]
    assert max(row.end for row in rows).date() <= finish.finish <= max(row.last for row in rows).date()
    assert finish.p50 <= finish.p80
    assert finish.days_late == 0
    worked = [row for row in rows if row.crew]
    assert all(len(row.people) >= row.crew for row in worked)
    assert {name for row in worked for name in row.people} <= {"Ines Varga", "Jory Penhale"}
    assert sum(row.hours for row in rows) == pytest.approx(5 * 12, abs=0.1)


def test_a_day_years_ahead_stops_nobodys_plan() -> None:
    pear, acorns, lantern = to_plan(), to_plan("Six Acorns"), to_plan("Tide Lantern")
    today = timezone.localdate()
    Commission.objects.filter(pk=pear.pk).update(site_from=today + 1500 * DAY)
    stage = the(lantern, "mould")
    SentOutWork.objects.create(
        commission=lantern,
        stage=stage,
        what="Steel frames",
        firm="Quay Street",
        ordered_on=today,
        agreed_minor=0,
        currency="GBP",
        due_back=today + 900 * DAY,
    )
    moved = Supposition(MOVE_DATE, "six acorns later", commission=str(acorns.pk), site_from=str(today + 2000 * DAY))
    finish = {int(each.id): each.finish for each in PlanSheet(worked_out()).finishes}
    assert finish[pear.pk] >= today + 1500 * DAY
    assert finish[lantern.pk] > today + 900 * DAY
    assert finish[acorns.pk] < today + 100 * DAY
    moved_to = {int(each.id): each.finish for each in PlanSheet(worked_out([moved])).finishes}
    assert moved_to[acorns.pk] >= today + 2000 * DAY


def test_what_has_passed_leaves_the_next_plan() -> None:
    pear = to_plan()
    make_passed(the(pear, "pattern"))
    assert "pattern" not in {row.key for row in PlanSheet(worked_out()).rows}


def test_a_plan_that_breaks_a_rule_is_never_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    to_plan()
    monkeypatch.setattr(plan_work, "breaches", lambda *_: ("The cast begins before its mould has rested.",))
    plan = worked_out()
    assert plan.work is not None
    assert plan.work.state == WorkState.FAILED
    assert "breaks a rule" in plan.work.problem
    assert not plan.is_worked_out
    with pytest.raises(PlanRefused, match="not been worked out"):
        publish_plan(by=owner(), plan=plan, at=timezone.now())


def test_nothing_in_hand_is_said_so() -> None:
    plan = worked_out()
    assert plan.work is not None
    assert plan.work.problem == plan_work.NOTHING


def test_asking_again_makes_room_and_what_is_kept_stays() -> None:
    to_plan()
    first = worked_out()
    keep_plan(by=owner(), plan=first)
    second = ask_for_plan(by=owner())
    third = ask_for_plan(by=owner())
    assert set(Plan.objects.values_list("pk", flat=True)) == {first.pk, third.pk}
    # The second was waiting; its work is stopped, and does nothing if it runs all the same.
    perform(second.work_id or 0)
    assert second.work is not None
    second.work.refresh_from_db()
    assert second.work.state == WorkState.CANCELLED


def test_work_that_is_stopped_changes_nothing() -> None:
    to_plan()
    plan = ask_for_plan(by=owner())
    assert plan.work is not None
    cancel(work=plan.work)
    perform(plan.work.pk)
    plan.refresh_from_db()
    assert not plan.is_worked_out


def test_a_published_plan_is_frozen_by_the_database() -> None:
    to_plan()
    plan = in_force()
    assert AuditEntry.objects.filter(subject="plan", act__startswith="Published").count() == 1
    for change in (lambda: Plan.objects.filter(pk=plan.pk).update(result={}), plan.delete):
        with pytest.raises(IntegrityError, match="never altered"), transaction.atomic():
            change()
    with pytest.raises(PlanRefused, match="published already"):
        publish_plan(by=owner(), plan=plan, at=timezone.now())
    with pytest.raises(PlanRefused, match="stays"):
        drop_plan(by=owner(), plan=plan)


def test_an_older_plan_is_not_put_in_force_after_a_newer_one() -> None:
    to_plan()
    older = worked_out()
    keep_plan(by=owner(), plan=older)
    in_force()
    with pytest.raises(PlanRefused, match="newer plan is in force"):
        publish_plan(by=owner(), plan=older, at=timezone.now())


def test_the_next_plan_keeps_to_the_one_in_force() -> None:
    to_plan()
    to_plan("Six Acorns", sections=("Nut", "Cup"))
    before = {row.id: row.start for row in PlanSheet(in_force()).rows}
    after = {row.id: row.start for row in PlanSheet(worked_out()).rows}
    assert after == before


def test_a_hold_that_ran_when_the_last_plan_was_made_is_no_activity_of_the_next() -> None:
    pear = to_plan()
    work(the(pear, "pattern"), timezone.now() - 3 * DAY, steps=3)
    Stage.objects.filter(commission=pear, key="pattern").update(hold_until=timezone.now() + 5 * DAY)
    in_force()
    held = [own for own in gathered(now=timezone.now()).problem.published if own.endswith("/held")]
    assert held == []
    assert worked_out().is_worked_out


def test_other_sheets_read_the_plan_in_force_alone() -> None:
    pear = to_plan()
    worked_out()
    assert expected_on(pear) is None
    plan = in_force()
    assert expected_on(pear) == PlanSheet(plan).finishes[0].finish
    first = Stage.objects.get(commission=pear, key="pattern")
    assert stage_days()[first.pk] == min(row.start for row in PlanSheet(plan).rows if row.key == "pattern").date()


def test_what_a_stage_needs_is_wanted_on_the_day_it_begins() -> None:
    price_everything()
    pear = make_commission(needed_by=timezone.localdate() + 300 * DAY)
    make_section(pear)
    quote = make_issued(pear, owner())
    answer(by=owner(), quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="", on=timezone.localdate())
    make_person("bench")
    assert {need.need.by for need in needs_of([pear])} == {pear.needed_by}
    in_force()
    days = stage_days()
    wanted = {need.stage.pk: need.need.by for need in needs_of([pear]) if need.stage}
    assert wanted == {pk: days[pk] for pk in wanted}
    assert len(set(wanted.values())) > 1


def test_what_happened_since_is_counted() -> None:
    pear = to_plan()
    plan = worked_out()
    assert (changes_since(plan).hours, changes_since(plan).moves) == (0, 0)
    make_passed(the(pear, "pattern"), timezone.now())
    assert changes_since(plan).moves == 3
    assert changes_since(plan).accepted == ()
    later = to_plan("Tide Lantern")
    assert changes_since(plan).accepted == (later,)


def test_a_late_commission_names_what_would_mend_it_the_cheapest_first() -> None:
    price_everything(2_000)
    pear = to_plan(allowed_h=60, needed_by=timezone.localdate() + 300 * DAY)
    in_time = PlanSheet(worked_out()).finishes[0]
    assert in_time.remedies == ()
    pear.needed_by = in_time.finish - DAY
    pear.save(update_fields=["needed_by"])
    late = PlanSheet(worked_out()).finishes[0]
    assert late.days_late >= 1
    mending = [each for each in late.remedies if each["mends"]]
    assert mending == list(late.remedies[: len(mending)])
    assert [each["cost_minor"] for each in mending] == sorted(each["cost_minor"] for each in mending)
    assert late.remedy is not None
    assert late.remedy["mends"]
    assert all(each["days"] > 0 for each in late.remedies)


def test_paint_shops_and_moulds_cost_what_the_accepted_quote_says_of_them() -> None:
    price_everything(2_000)
    pear = make_commission()
    make_section(pear, pulls=3, mirrored=True)
    quote = make_issued(pear, owner())
    answer(by=owner(), quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="", on=timezone.localdate())
    make_person("bench")
    (row,) = quote.take_off["sections"]
    own = {"commission": str(pear.pk), "section": row["name"]}
    # 20.00 for each square metre of every cast that is still to be sprayed.
    painted = worked_out([Supposition(PAINT_OUT, "paint out", commission=str(pear.pk))]).result["cost_minor"]
    assert painted == round(row["area_m2"] * row["casts"] * 2_000, -3) > 0
    # Of what both moulds of a mirrored pair may cost, the half.
    lines = quote.budget.filter(stage="mould", section=row["name"])
    budgeted = sum(line.labour_minor + line.material_minor + line.sent_out_minor for line in lines)
    assert row["moulds"] == 2
    assert worked_out([Supposition(SECOND_MOULD, "again", **own)]).result["cost_minor"] == round(budgeted / 2, -3) > 0


def by_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plan by the rule of priority alone: quick, and the same under any load."""
    for module in (plan_work, remedies):
        monkeypatch.setattr(module, "solve", lambda problem, **_: serial_plan(problem))


def test_what_nothing_mends_alone_is_tried_in_pairs_of_the_cheapest(monkeypatch: pytest.MonkeyPatch) -> None:
    by_rule(monkeypatch)
    price_everything(2_000)
    pear = to_plan(allowed_h=60, needed_by=timezone.localdate())
    pear.sections.update(pulls=3)
    hopeless = PlanSheet(worked_out()).finishes[0]
    assert hopeless.remedy is not None
    assert not any(each["mends"] for each in hopeless.remedies)
    assert not hopeless.is_cut_off
    # One day short of what the best of them brings alone, two of them together do.
    alone = min(each["day"] for each in hopeless.remedies if ", and " not in each["words"])
    pear.needed_by = alone - DAY
    pear.save(update_fields=["needed_by"])
    mended = PlanSheet(worked_out()).finishes[0]
    assert mended.remedy is not None
    assert mended.remedy["mends"]
    assert ", and " in mended.remedy["words"]
    assert mended.remedy["day"] <= pear.needed_by
    # It costs what both cost.
    costs = {each["words"]: each["cost_minor"] for each in hopeless.remedies + mended.remedies}
    first, second = mended.remedy["words"].split(", and ")
    assert mended.remedy["cost_minor"] == costs[first] + costs[second]


def test_every_late_commission_is_tried_for_and_time_that_ran_out_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    by_rule(monkeypatch)
    price_everything(2_000)
    for number in range(4):
        to_plan(f"Acorn {number}", allowed_h=30, keys=("pattern", "mould"), needed_by=timezone.localdate())
    found = PlanSheet(worked_out()).finishes
    assert [each.is_tried for each in found] == [True] * 4
    monkeypatch.setattr(remedies, "TIMES", 0)
    cut = PlanSheet(worked_out()).finishes
    assert [(each.is_cut_off, each.remedies) for each in cut] == [(True, ())] * 4


def test_sections_of_one_name_are_tried_for_each_commission(monkeypatch: pytest.MonkeyPatch) -> None:
    by_rule(monkeypatch)
    rows = [to_plan(title, needed_by=timezone.localdate()) for title in ("The Long Pear", "Six Acorns")]
    Section.objects.update(pulls=3)
    tried = []
    gather = remedies.asked
    monkeypatch.setattr(remedies, "asked", lambda now, group: tried.append(group) or gather(now, group))
    worked_out()
    moulds = [group[0].commission for group in tried if [each.kind for each in group] == [SECOND_MOULD]]
    assert sorted(moulds) == [str(row.pk) for row in rows]


@pytest.mark.parametrize(
    ("kind", "given", "cost_minor"),
    [
        # One person, 3 weeks of 37.5 h, at 20.00 an hour with 28 % on-cost and 40 % more: 4,032.00.
        (HIRE, {"weeks": 3, "people": 1}, 403_000),
        # Two people on two Saturdays of 7.5 h, half as much again: 30 h at 38.40, 1,152.00.
        (SATURDAYS, {"weeks": 2}, 115_000),
    ],
)
def test_what_a_supposition_costs(kind: str, given: dict[str, Any], cost_minor: int) -> None:
    price_everything(2_000)
    to_plan()
    supposed = Supposition(kind, f"suppose {kind}", day=timezone.localdate().isoformat(), **given)
    plan = worked_out([supposed])
    assert plan.result["cost_minor"] == cost_minor
