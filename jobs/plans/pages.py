"""What the pages of plans show: one plan, one commission in it, two plans side by side, a person's week."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from jobs.forms.plans import (
    FirstForm,
    HireForm,
    MoveDateForm,
    OrderForm,
    PaintOutForm,
    SaturdaysForm,
    SecondMouldForm,
    SplitForm,
    SupposeForm,
    TakeOnForm,
)
from jobs.models import Commission, CommissionState, Plan
from jobs.plans.reading import Finish, PlanSheet
from jobs.plans.wall import Chart, wall
from jobs.queries.plans import casts_to_come, changes_since, in_force, newest, stages_to_come
from jobs.services.planning.suppositions import TAKE_ON

WEEKS_SHOWN = 8
DAYS_A_WEEK = 7


def plan_context(plan: Plan, today: datetime.date) -> dict[str, Any]:
    """One plan's page."""
    context: dict[str, Any] = {"plan": plan, "work": plan.work}
    if not plan.is_worked_out:
        return context
    sheet = PlanSheet(plan)
    charts = [Chart(finish, sheet.rows_of(finish.id)) for finish in sheet.finishes]
    weeks, loads = sheet.load_table(WEEKS_SHOWN)
    return context | {
        "sheet_of_plan": sheet,
        "drawing": wall(charts, today, f"plan{plan.pk}"),
        "tables": [(finish, sheet.table_of(finish.id)) for finish in sheet.finishes],
        "weeks": weeks,
        "loads": loads,
        "changes": changes_since(plan),
        "compared": compared(plan),
        "present": present_for(plan) if plan.suppositions else None,
    }


def shown_plan() -> Plan | None:
    """The plan in force, or where none is the newest that was worked out."""
    plan = in_force()
    if plan is not None:
        return plan
    last = newest()
    return last if last is not None and last.is_worked_out else None


def present_for(plan: Plan) -> Plan | None:
    """The plan of things as they are that a supposition is set beside: the newest worked out before it."""
    found = Plan.objects.present().exclude(result={}).filter(pk__lt=plan.pk)
    return found.first()


@dataclass(frozen=True, slots=True)
class Beside:
    """One commission in two plans; None where the present one does not hold it."""

    now: Finish | None
    then: Finish

    @property
    def sooner(self) -> int:
        """Days gained; 0 where none are."""
        return max(0, (self.now.finish - self.then.finish).days) if self.now else 0

    @property
    def later(self) -> int:
        """Days lost; 0 where none are."""
        return max(0, (self.then.finish - self.now.finish).days) if self.now else 0


def compared(plan: Plan) -> list[Beside]:
    """A supposed plan beside the present one, commission by commission."""
    if not plan.suppositions:
        return []
    present = present_for(plan)
    known = {each.id: each for each in PlanSheet(present).finishes} if present else {}
    return [Beside(known.get(each.id), each) for each in PlanSheet(plan).finishes]


def commission_context(commission: Commission, today: datetime.date) -> dict[str, Any]:
    """The plan of one commission, from the plan in force."""
    plan = shown_plan()
    finish = PlanSheet(plan).finish_of(commission.pk) if plan else None
    context: dict[str, Any] = {"plan": plan, "finish": finish, "told": commission.publications.first()}
    if plan is None or finish is None:
        return context
    sheet = PlanSheet(plan)
    return context | {
        "drawing": wall([Chart(finish, sheet.rows_of(commission.pk))], today, f"c{commission.pk}"),
        "tables": [(finish, sheet.table_of(commission.pk))],
    }


def enquiry_context(commission: Commission, today: datetime.date) -> dict[str, Any]:
    """When an enquiry could be done: the newest plan that takes it on, and the weeks to promise."""
    plan = taking_on(commission)
    context: dict[str, Any] = {"plan": plan, "work": plan.work if plan else None}
    if plan is None or not plan.is_worked_out:
        return context
    finish = PlanSheet(plan).finish_of(commission.pk)
    rows = PlanSheet(plan).rows_of(commission.pk)
    charts = [Chart(finish, rows)] if finish else []
    return context | {
        "finish": finish,
        "drawing": wall(charts, today, f"e{commission.pk}"),
        "compared": [each for each in compared(plan) if each.now is not None],
        "weeks": weeks_until(finish, plan) if finish else None,
        "begins": min((row.start.date() for row in rows if not row.is_done), default=None),
    }


def taking_on(commission: Commission) -> Plan | None:
    """The newest plan that supposes an enquiry to be accepted, and nothing besides."""
    plans = Plan.objects.exclude(suppositions=[]).select_related("work").order_by("-pk")
    wanted = (TAKE_ON, str(commission.pk))
    return next(
        (
            plan
            for plan in plans[:200]
            if [(each["kind"], each["commission"]) for each in plan.suppositions] == [wanted]
        ),
        None,
    )


def weeks_until(finish: Finish, plan: Plan) -> int:
    """Whole weeks from the plan's first day to the day that four in five such plans keep."""
    return max(1, -(-((finish.p80 - plan.begins).days + 1) // DAYS_A_WEEK))


def suppose_forms(today: datetime.date, kind: str = "", data: Any = None) -> list[SupposeForm]:
    """Everything that may be supposed; the form of ``kind`` is bound to what was sent."""
    rows = list(Commission.objects.in_hand())
    enquiries = list(Commission.objects.filter(state__in=[CommissionState.ENQUIRY, CommissionState.QUOTED]))
    kinds: Sequence[tuple[type[SupposeForm], dict[str, Any]]] = (
        (PaintOutForm, {"commissions": rows}),
        (HireForm, {"commissions": rows}),
        (SaturdaysForm, {"commissions": rows}),
        (SplitForm, {"commissions": rows, "sections": casts_to_come(rows, mould_pieces=2)}),
        (SecondMouldForm, {"commissions": rows, "sections": casts_to_come(rows)}),
        (FirstForm, {"commissions": rows}),
        (OrderForm, {"commissions": rows, "stages": stages_to_come(rows)}),
        (MoveDateForm, {"commissions": rows}),
        (TakeOnForm, {"commissions": enquiries}),
    )
    return [form(data if form.kind == kind else None, today=today, **given) for form, given in kinds]
