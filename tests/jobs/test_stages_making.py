"""The stages a commission is given when its quote is accepted, and what is added or taken away later."""

import pytest
from django.utils import timezone

from jobs.figures.reference import COEFFICIENTS
from jobs.models import BudgetLine, Commission, Decision, Stage, StageTemplate
from jobs.seeding.stages import STAGES
from jobs.services.extras import add_extra
from jobs.services.quotes import answer
from jobs.services.sections import SectionInUse, remove_section
from jobs.services.stage_making import ALPHABET, LENGTH, StageInUse, StageNotAdded, add_stage, remove_stage
from jobs.services.stages import begin
from materials.models import Item
from studio.accounts.models import AuditEntry
from tests.factories import make_commission, make_issued, make_section, price_everything
from tests.jobs.stage_life import BEGUN, anybody, in_hand, the

pytestmark = pytest.mark.django_db


@pytest.fixture
def accepted() -> Commission:
    """Base goes into a crate and holds steel, Crown does neither; it is stood in its place by us."""
    price_everything()
    commission = make_commission()
    make_section(commission, "Base", metal="20 kg")
    make_section(commission, "Crown", crated=False)
    hour = Item.objects.get(key="bench_hour")
    add_extra(by=anybody(), commission=commission, item=hour, label="Standing it", quantity=14)
    quote = make_issued(commission, anybody())
    today = timezone.localdate()
    answer(by=anybody(), quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="", on=today)
    return commission


def keys(commission: Commission, section: str | None) -> list[str]:
    return list(commission.stages.filter(section__name=section).order_by("position").values_list("key", flat=True))


def test_accepting_gives_each_section_its_stages_and_the_whole_its_own(accepted: Commission) -> None:
    assert keys(accepted, "Base") == ["pattern", "mould", "cast", "metalwork", "finish", "crate"]
    assert keys(accepted, "Crown") == ["pattern", "mould", "cast", "finish"]
    assert keys(accepted, None) == ["install"]


def test_the_hours_allowed_are_those_of_the_budget_and_none_is_lost(accepted: Commission) -> None:
    for stage in accepted.stages.select_related("budget"):
        assert stage.budget is not None
        assert stage.allowed_minutes == stage.budget.minutes > 0
    allowed = sum(stage.allowed_minutes for stage in accepted.stages.all())
    assert allowed == sum(line.minutes for line in BudgetLine.objects.filter(quote__commission=accepted))


def test_the_hours_of_the_job_are_allowed_for_standing_it(accepted: Commission) -> None:
    assert accepted.stages.get(key="install").allowed_minutes == 14 * 60


def test_each_stage_has_the_steps_and_checks_of_its_template(accepted: Commission) -> None:
    for stage in accepted.stages.all():
        template = StageTemplate.objects.get(key=stage.key)
        fields = ("name", "hold_hours", "hold_reason", "slower_when_cold", "is_barrier", "needs_barrier")
        assert list(stage.steps.values_list(*fields)) == list(template.steps.values_list(*fields))
        assert [check.text for check in stage.checks.all()] == [check.text for check in template.checks.all()]
        assert (stage.waits, stage.sign_off, stage.weight) == (template.waits, template.sign_off, template.weight)


def test_each_label_says_something_else_in_signs_that_look_unlike_each_other(accepted: Commission) -> None:
    codes = [stage.code for stage in accepted.stages.all()]
    assert len(set(codes)) == len(codes)
    assert all(len(code) == LENGTH and set(code) <= set(ALPHABET) for code in codes)
    assert not set("0O1IL5S2Z8B") & set(ALPHABET)


def test_the_barrier_comes_before_any_resin_in_the_stages_as_delivered() -> None:
    steps = [step for stage in STAGES for step in stage.steps]
    barriers = [number for number, step in enumerate(steps) if step.is_barrier]
    resin = [number for number, step in enumerate(steps) if step.needs_barrier]
    assert barriers
    assert max(barriers) < min(resin)


def test_holds_as_delivered_are_those_of_the_figures_of_waiting() -> None:
    holds = {step.name: step.hold for stage in STAGES for step in stage.steps if step.hold}
    for name, key in (("Frames on", "hold_mould_on_pattern"), ("Layers laid", "hold_cast")):
        assert float(holds[name].hours) == COEFFICIENTS[key].value
        assert holds[name].evidence == COEFFICIENTS[key].source
    # Common practice, no source: a topcoat hardens seven days in all before it is wrapped.
    sprayed, polished = holds["Topcoat on"], holds["Flatted, polished and touched up"]
    assert float(sprayed.hours) + float(polished.hours) == COEFFICIENTS["hold_paint"].value == 168
    assert all(hold.evidence for hold in holds.values())


def test_a_stage_that_the_quote_had_no_hours_for_is_added_once(accepted: Commission) -> None:
    template, crown = StageTemplate.objects.get(key="crate"), accepted.sections.get(name="Crown")
    made = add_stage(by=anybody(), commission=accepted, template=template, section=crown)
    assert (made.allowed_minutes, made.steps.count()) == (0, template.steps.count())
    with pytest.raises(StageNotAdded, match="Crown has the stage crate already"):
        add_stage(by=anybody(), commission=accepted, template=template, section=crown)
    Commission.objects.update(state="done")
    with pytest.raises(StageNotAdded, match="stand still once the piece is handed over"):
        add_stage(by=anybody(), commission=accepted, template=StageTemplate.objects.get(key="metalwork"), section=crown)
    assert not accepted.stages.filter(key="metalwork", section=crown).exists()
    assert AuditEntry.objects.about(accepted.subject).filter(act="Stage added: Crown, crate").exists()


def test_only_a_stage_nobody_worked_on_is_removed() -> None:
    commission = in_hand()
    remove_stage(by=anybody(), stage=the(commission, "crate"))
    assert "crate" not in keys(commission, "Base")
    pattern = the(commission, "pattern")
    begin(by=anybody(), stage=pattern, at=BEGUN)
    with pytest.raises(StageInUse, match="has been worked on and stays"):
        remove_stage(by=anybody(), stage=pattern)
    assert Stage.objects.filter(pk=pattern.pk).exists()


def test_a_section_with_stages_stays() -> None:
    section = in_hand().sections.get()
    with pytest.raises(SectionInUse, match="Base has stages on the board"):
        remove_section(by=anybody(), section=section)
    assert section.stages.exists()
