"""What an accepted variation does: budgets, hours allowed, sections, and stages that are done again.

What was agreed before stays as it is: the budget gets rows beside the quote's,
and the day moves by the variation's own days.
"""

import datetime
from typing import Any

from django.db.models import F

from jobs.figures.standing import Cost, cost_sum
from jobs.figures.varied import AS_DRAWN, OMITTED, Change, Place, changes_of, is_approved_anew
from jobs.figures.varied_budget import PlaceBudget
from jobs.models import Commission, Section, Stage, Variation, VariationBudget
from jobs.queries.standing import budget_of, budgets
from jobs.queries.variations import budget_agreed
from jobs.services.sections import change_section
from jobs.services.stage_making import StageInUse, budget_place, make_stages_lacking, remove_stage
from jobs.services.stages import lapse_approval, reopen
from jobs.services.variation_pricing import DONE
from materials.models import LayUp, PaintSystem
from studio.accounts.models import User

_Has = dict[Place, tuple[int, Cost]]


def take_effect(*, by: User | None, variation: Variation, at: datetime.datetime) -> None:
    """Let an accepted variation take effect; call it inside the transaction that accepts it."""
    commission = variation.commission
    rows = _budget(variation)
    VariationBudget.objects.bulk_create(
        VariationBudget(
            variation=variation,
            section=row.section,
            stage=row.stage,
            minutes=row.minutes,
            work_minor=row.cost.work_minor,
            material_minor=row.cost.material_minor,
            sent_out_minor=row.cost.sent_out_minor,
        )
        for row in rows
    )
    Commission.objects.filter(pk=commission.pk).update(days_varied=F("days_varied") + (variation.days or 0))
    minutes = {(row.section, row.stage): row.minutes for row in rows}
    _allow(commission, minutes)
    for change in changes_of(variation.changes):
        _change_sections(commission, change, by)
    make_stages_lacking(commission, minutes)
    _lapse_approvals(variation, by)
    reason = f"Variation {variation.revision}: {variation.title}"
    found = commission.stages.filter(code__in=variation.reopens or [], state__in=DONE)
    # The last first: what stands after a stage is open again before the stage is.
    for stage in found.order_by("-position"):
        reopen(by=by, stage=stage, reason=reason, at=at)


def _budget(variation: Variation) -> list[PlaceBudget]:
    """What the variation was frozen with, each stage giving back no more than its budget has by now."""
    has = _budget_now(variation)
    found = []
    for kept in variation.figures["budget"]:
        row = PlaceBudget(kept["section"], kept["stage"], kept["minutes"], Cost(**kept["cost"]))
        found.append(row.at_most(*has.get((row.section, row.stage), (0, Cost()))))
    return found


def _budget_now(variation: Variation) -> _Has:
    lines = budget_of(variation.quote)
    costs = budgets(variation.quote, lines)
    has: _Has = {(line.section, line.stage): (line.minutes, costs[line.pk]) for line in lines}
    for row in budget_agreed(variation.commission):
        minutes, cost = has.get((row.section, row.stage), (0, Cost()))
        added = Cost(row.work_minor, row.material_minor, row.sent_out_minor)
        has[row.section, row.stage] = (minutes + row.minutes, cost_sum([cost, added]))
    return has


def _allow(commission: Commission, minutes: dict[Place, int]) -> None:
    """Move the hours allowed; the office may have moved them itself, so that they stop at nought."""
    for stage in commission.stages.select_related("section", "budget"):
        more = minutes.get(budget_place(stage), 0)
        if more:
            allowed = max(0, stage.allowed_minutes + more)
            Stage.objects.filter(pk=stage.pk).update(allowed_minutes=allowed, version=stage.version + 1)


def _change_sections(commission: Commission, change: Change, by: User | None) -> None:
    """Let the sections on the Form say what is agreed; one taken as drawn says so already."""
    if change.what == AS_DRAWN:
        return
    for section in commission.sections.all():
        if not change.names(section.name):
            continue
        if change.what == OMITTED:
            _take_off_the_board(section, by)
        else:
            values = {"name": section.name, change.what: _value(change)}
            change_section(by=by, section=section, version=section.version, values=values)


def _value(change: Change) -> Any:
    """What a field of a section is set to; lay-ups and paint systems are rows, and none is the usual."""
    if change.what == "paint_system":
        return PaintSystem.objects.filter(name=change.value).first()
    if change.what in ("mould_lay_up", "cast_lay_up"):
        return LayUp.objects.filter(name=change.value).first()
    return change.value


def _lapse_approvals(variation: Variation, by: User | None) -> None:
    """What was approved and is no longer what is made has to be approved anew; work that stays keeps its approval."""
    changes = changes_of(variation.changes)
    stages = variation.commission.stages.filter(approval__isnull=False).exclude(state__in=DONE)
    for stage in stages.select_related("section", "budget"):
        if is_approved_anew(budget_place(stage), changes):
            lapse_approval(by=by, stage=stage, why=f"by variation {variation.revision}")


def _take_off_the_board(section: Section, by: User | None) -> None:
    """What nobody has worked on goes; what was worked on stays, for its hours are facts."""
    for stage in section.stages.all():
        try:
            remove_stage(by=by, stage=stage)
        except StageInUse:
            continue
