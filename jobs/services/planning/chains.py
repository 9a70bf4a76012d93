"""The chain that sets a commission's date, in words that can be read out."""

from jobs.figures.activities import BAYS, BOOTHS, DONE, SIGN_OFF
from jobs.figures.moments import day_words
from jobs.figures.plan.chain import Reason, Step, chain
from jobs.figures.plan.result import Plan
from jobs.services.planning.problem import Asked

LONGEST = 10
PLACES = {BAYS: "a bay", BOOTHS: "the booth"}


def chain_words(asked: Asked, plan: Plan, commission: str) -> list[str]:
    """A sentence for each link, from what comes first; what only follows its own stage is left out."""
    steps = chain(asked.problem, plan, commission)
    return [_sentence(asked, plan, step) for step in steps if not _goes_without_saying(asked, step)][-LONGEST:]


def _goes_without_saying(asked: Asked, step: Step) -> bool:
    if step.reason != Reason.WORK:
        return False
    part = asked.parts[step.activity]
    return part.key == DONE or part.stage == asked.parts[step.because].stage


def _sentence(asked: Asked, plan: Plan, step: Step) -> str:
    day = day_words(asked.days.day_of(plan.starts[step.activity]))
    return f"{day}: {_called(asked, step.activity)} {_why(asked, plan, step)}."


def _why(asked: Asked, plan: Plan, step: Step) -> str:
    if step.reason == Reason.HOLD and step.until is not None:
        until = day_words(asked.days.at(step.until).date())
        return f"waits until {until}: {_hold_words(step.why)}"
    if step.reason == Reason.WORK:
        return f"comes after {_called(asked, step.because)}"
    if step.reason == Reason.RESOURCE:
        return f"waits for {_resource_words(step.resource)}, taken until then by {_called(asked, step.because)}"
    if step.reason == Reason.AWAY:
        return f"waits for {_resource_words(step.resource)}: somebody is away"
    if step.reason == Reason.IN_HAND:
        return "is in hand"
    if step.reason == Reason.BEGINNING:
        return "begins at once"
    return "could begin sooner, and nothing would be done sooner for it"


def _hold_words(why: str) -> str:
    words = ["the sign-off is awaited" if each == SIGN_OFF else each for each in why.split(", ")]
    return ", then ".join(words)


def _resource_words(resource: str) -> str:
    return PLACES.get(resource, "the mould" if resource.startswith("mould ") else "hands")


def _called(asked: Asked, activity: str) -> str:
    called = asked.problem.by_id[activity].called
    own = asked.parts[activity]
    several = len(asked.commissions) > 1 and own.section
    title = next(work.name for work in asked.commissions if work.id == own.commission)
    return f"{called} ({title})" if several else called
