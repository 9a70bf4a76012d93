"""What an enquiry would bring: the stages it would be given, with the hours of its take-off."""

from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import CAST, CommissionToDo, StageToDo
from jobs.models import Commission, StageTemplate
from jobs.queries.plans import Estimated, delivered
from jobs.services.planning.gather import Circumstances, promise_of, sent_between


def enquiry_to_do(commission: Commission, estimate: Estimated, around: Circumstances) -> CommissionToDo:
    """A commission that is not accepted yet, as if it were, by the stages as the studio does them."""
    places = [
        (template, section)
        for template in around.templates.values()
        for section in ([""] if template.for_whole else estimate.moulds)
    ]
    stages = [
        _stage(template, section, commission, estimate, around)
        for template, section in places
        if not template.optional or estimate.hours.get((section, template.key), (0, 0, 0))[1]
    ]
    return CommissionToDo(
        id=str(commission.pk),
        name=commission.title,
        stages=tuple(stages),
        is_delivered=commission.pk in delivered([commission]),
    ).promising(promise_of(commission), around.days)


def _stage(
    template: StageTemplate, section: str, commission: Commission, estimate: Estimated, around: Circumstances
) -> StageToDo:
    hours = ThreePoint(*estimate.hours.get((section, template.key), (0.0, 0.0, 0.0)))
    steps = tuple(around.step(step) for step in template.steps.all())
    wanted = estimate.services.get((section, template.key), ())
    return StageToDo(
        id=f"e{commission.pk}.{section}.{template.key}",
        key=template.key,
        name=template.name,
        section=section,
        position=template.position,
        waits=template.waits,
        hours=hours,
        steps=sent_between(steps, wanted, around),
        cast_steps=steps,
        crew=template.crew,
        room=template.room,
        sign_off=template.sign_off,
        sign_off_days=around.sign_off_days,
        casts=estimate.casts.get(section, 1) if template.key == CAST else 1,
        moulds=estimate.moulds.get(section, 1),
    )
