"""The chain that sets a commission's date, in words that can be read out."""

from jobs.figures.activities import BAYS, BOOTHS, DONE, OWN_MOULD, SIGN_OFF, SITE
from jobs.figures.moments import day_words
from jobs.figures.plan.chain import Reason, Step, chain
from jobs.figures.plan.result import Plan
from jobs.figures.weather import OUTDOORS
from jobs.services.planning.problem import Asked

LONGEST = 10
PLACES = {BAYS: "a bay", BOOTHS: "the booth"}


def chain_words(asked: Asked, plan: Plan, commission: str) -> list[str]:
    """A sentence for each link, from what comes first; what only follows its own stage is left out."""
    told = [step for step in chain(asked.problem, plan, commission) if not _goes_without_saying(asked, step)]
    return [_Words(asked, plan, commission).of(step) for step in told[-LONGEST:]]


def _goes_without_saying(asked: Asked, step: Step) -> bool:
    if step.reason != Reason.WORK:
        return False
    part = asked.parts[step.activity]
    return part.key == DONE or part.stage == asked.parts[step.because].stage


class _Words:
    """Links of one commission's chain in words; what belongs to another is named with its title."""

    def __init__(self, asked: Asked, plan: Plan, commission: str) -> None:
        self.asked, self.plan, self.commission = asked, plan, commission
        self.titles = {work.id: work.name for work in asked.commissions}

    def of(self, step: Step) -> str:
        day = day_words(self.asked.days.day_of(self.plan.starts[step.activity]))
        return f"{day}: {self._called(step.activity)} {self._why(step)}."

    def _called(self, activity: str) -> str:
        part, called = self.asked.parts[activity], self.asked.problem.by_id[activity].called
        return called if part.commission == self.commission else f"{called} ({self.titles[part.commission]})"

    def _why(self, step: Step) -> str:
        if step.reason == Reason.HOLD and step.until is not None:
            until = day_words(self.asked.days.at(step.until).date())
            return f"waits until {until}: {_hold_words(step.why)}"
        if step.reason == Reason.WORK:
            return f"comes after {self._called(step.because)}"
        if step.reason == Reason.RESOURCE:
            return f"waits for {_resource_words(step.resource)}, taken until then by {self._called(step.because)}"
        if step.reason == Reason.AWAY:
            if step.resource.startswith(SITE):
                return "waits until the site takes it again"
            if step.resource == OUTDOORS:
                return "waits for the weather: what winter stops outdoors"
            return f"waits for {_resource_words(step.resource)}: somebody is away"
        if step.reason == Reason.RELEASE:
            return "waits for the first day on which the site takes it"
        if step.reason == Reason.IN_HAND:
            return "is in hand"
        if step.reason == Reason.BEGINNING:
            return "begins at once"
        return "could begin sooner, and nothing would be done sooner for it"


def _hold_words(why: str) -> str:
    words = ["the sign-off is awaited" if each == SIGN_OFF else each for each in why.split(", ")]
    return ", then ".join(words)


def _resource_words(resource: str) -> str:
    return PLACES.get(resource, "the mould" if resource.startswith(OWN_MOULD) else "hands")
