"""From the stages of a commission to what is planned: who works how long, after what, in which place.

A stage is worked in parts: a part ends with a hold of more than a few hours,
and where work goes into the booth, out of it, or to a firm outside. The order of
stages is that of the board:

- A stage that begins when all before it have passed waits for that.
- One that begins when they have begun waits for the first cast alone, where
  several are taken; its next part waits for all.
- One that begins at any time is planned as soon as the first stage of its
  section has passed, for then its form is settled; its last part waits until
  all before it have passed.

Stages of the whole commission wait for those of all its sections. Casts queue
on their mould for as long as each cures in it. What is delivered and stood up
keeps to the days on which its site takes it, and what is done outdoors to its
weather. A hold, what is out of the house and a signature are time by the clock
that more people do not shorten. Common practice, no source.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from jobs.figures.doubts import CERTAIN, NO_DOUBTS, Doubt, Doubts
from jobs.figures.plan.problem import Activity, After, Commission, Resource, Stay
from jobs.figures.runs import cut, lowered, named, parted
from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import ANY_TIME, BAY, BEGUN, CAST, INSTALL, CommissionToDo, StageToDo, StepToDo
from jobs.figures.weather import OUTDOORS

BAYS, BOOTHS = "bays", "booths"
OWN_MOULD, SITE = "mould ", "site "
"""What the names of places begin with that a stage or a commission has to itself."""
ASKED_EARLY = "sample"
"""A sample is shown while the stage goes on; every other signature is asked for when its work is done."""
NO_MATTER = "installed"
"""Signed when everything is done, so that nothing waits for it."""
DELIVERY, DONE = "delivery", "done"
SIGN_OFF = "sign-off"
LONGEST_DAYS = 2
"""Longer work is planned in pieces, so that somebody else may go on with it where one is away [day]; what its place
may stop at any time is planned by the period."""
_NOTHING = ThreePoint(0.0, 0.0, 0.0)
_HOUR = 60
_DAY = 24 * _HOUR
_Links = tuple[After, ...]


@dataclass(frozen=True, slots=True)
class Follows:
    """What comes after a part and takes nobody: why, how long by the clock [min], and how sure that is."""

    why: str
    minutes: int
    doubt: Doubt = CERTAIN


@dataclass(frozen=True, slots=True)
class Part:
    """What is planned, with what a reader is to know of it.

    Attributes
    ----------
    activity : Activity
        Its ``needs`` name the stage's key, for as many people as it takes.
    commission, section, stage, key, name, what : str
        ``stage`` is the stage's id and ``name`` its name; ``what`` the first step, or which cast.
    hours : ThreePoint
        Of all who work on it [h].
    follows : tuple of Follows
    stretch : tuple of float
        Where it is one of several pieces, from which share of them to which it goes [dimensionless].
    """

    activity: Activity
    commission: str
    section: str
    stage: str
    key: str
    name: str
    what: str
    hours: ThreePoint
    follows: tuple[Follows, ...] = ()
    stretch: tuple[float, float] = (0.0, 1.0)

    @property
    def people(self) -> int:
        """How many work at it [each]."""
        return self.activity.needs.get(self.key, 0)


@dataclass(frozen=True, slots=True)
class ToPlan:
    """All that is planned of one commission; the ids of ``in_hand`` go on at once.

    ``places`` are those it has to itself: its moulds, and its site where that is shut at times.
    """

    parts: tuple[Part, ...]
    stays: tuple[Stay, ...]
    places: tuple[Resource, ...]
    commission: Commission
    in_hand: tuple[str, ...]


def to_plan(
    work: CommissionToDo, period_h: float, day_periods: int, able: Mapping[str, int], doubts: Doubts = NO_DOUBTS
) -> ToPlan:
    """Everything of a commission that is still to be planned.

    Parameters
    ----------
    work : CommissionToDo
    able : mapping of str to int
        How many people can work at a stage, by its key [each].
    period_h : float
        What one person gets done in a period [h].
    day_periods : int
        Periods of a day [each].
    doubts : Doubts, optional
        How sure it is what others take; by default quite.

    Returns
    -------
    ToPlan
        With an event at the end, by which all holds are over.
    """
    return _Planner(work, period_h, day_periods, able, doubts).planned()


@dataclass(frozen=True, slots=True)
class _Run:
    """Steps that are planned in one go, with their share of the stage's hours, what they are called and marked by."""

    steps: Sequence[StepToDo]
    share: float
    what: str
    mark: str = ""

    def piece(self, number: int, pieces: int) -> "_Run":
        """The same for one piece of a mould."""
        what = f"{self.what}, piece {number} of {pieces}"
        return _Run(self.steps, self.share / pieces, what, f"{self.mark}p{number}.")


class _Planner:
    """One commission on its way from stages to parts."""

    def __init__(
        self, work: CommissionToDo, period_h: float, day_periods: int, able: Mapping[str, int], doubts: Doubts
    ) -> None:
        self.work, self.period_h, self.day_periods, self.able, self.doubts = work, period_h, day_periods, able, doubts
        self.parts: dict[str, Part] = {}
        self.stays: list[Stay] = []
        self.places: list[Resource] = []
        self.in_hand: list[str] = []
        # What stands for a stage that has passed, for its first part, and for its first cast.
        self.passed: dict[str, _Links] = {}
        self.first: dict[str, After] = {}
        self.first_cast: dict[str, After] = {}

    def planned(self) -> ToPlan:
        stages = sorted(self.work.stages, key=lambda stage: (stage.position, stage.id))
        if self.work.site.shut:
            self.places.append(Resource(self.site, 1, self.work.site.shut))
        for number, stage in enumerate(stages):
            earlier = [each for each in stages[:number] if not each.beside]
            before = _before(stage, earlier)
            if stage.key == INSTALL and self.work.is_delivered and not stage.begun:
                self._delivery(self._all_passed(before))
            self._stage(stage, before, self._settled(stage, earlier))
        if self.work.is_delivered and all(stage.key != INSTALL for stage in stages):
            self._delivery(self._all_passed(stages))
        ends = tuple(link for links in self.passed.values() for link in links)
        self._event(f"{self.work.id}/{DONE}", ends, 0, "Done")
        goal = Commission(self.work.id, self.work.due, self.work.weight)
        return ToPlan(tuple(self.parts.values()), tuple(self.stays), tuple(self.places), goal, tuple(self.in_hand))

    @property
    def site(self) -> str:
        """The place where it will stand, as a resource."""
        return f"{SITE}{self.work.id}"

    def _delivery(self, links: _Links) -> None:
        """A day on the road, when all that stands before it has passed and the site takes it."""
        own = f"{self.work.id}/{DELIVERY}"
        self._event(own, links, self.day_periods, "Delivery")
        part = self.parts[own]
        self.parts[own] = replace(part, activity=replace(part.activity, release=self.work.site.opens))
        if self.work.site.shut:
            self.stays.append(Stay(self.site, own, own))
        self.passed[DELIVERY] = (After(own),)

    def _stopped_by(self, stage: StageToDo) -> list[str]:
        """The places that are shut at times, and stop what is done there."""
        on_site = [self.site] if stage.key == INSTALL and self.work.site.shut else []
        return [*on_site, *([OUTDOORS] if stage.room == OUTDOORS else [])]

    def _all_passed(self, stages: Iterable[StageToDo]) -> _Links:
        return tuple(link for each in stages for link in self.passed[each.id])

    def _settled(self, stage: StageToDo, earlier: Sequence[StageToDo]) -> _Links:
        """What stands for the first stage of a section, by which its form is settled."""
        return self._all_passed([each for each in earlier if each.section and each.section == stage.section][:1])

    def _stage(self, stage: StageToDo, before: Sequence[StageToDo], settled: _Links) -> None:
        passed = self._all_passed(before)
        if stage.key == INSTALL and DELIVERY in self.passed:
            passed = self.passed[DELIVERY]
        early, late = self._waits(stage, before, passed, settled)
        held = (self._done(stage, "held", self._held(stage)),) if stage.held_h else ()
        ends = (*held, *passed)
        if stage.steps:
            ends = self._worked(stage, (*early, *held), late)
        self.passed[stage.id] = self._signed(stage, ends)

    def _held(self, stage: StageToDo) -> Follows:
        minutes = round(stage.held_h * _HOUR)
        return Follows(stage.held_why, minutes, self.doubts.of_firm(minutes) if stage.is_out else CERTAIN)

    def _waits(
        self, stage: StageToDo, before: Sequence[StageToDo], passed: _Links, settled: _Links
    ) -> tuple[_Links, _Links]:
        """What the first part waits for, and what a later one does."""
        if stage.begun:
            return (), passed
        if stage.waits == BEGUN:
            casts = tuple(self.first_cast[each.id] for each in before if each.id in self.first_cast)
            return (casts, passed) if casts and len(casts) == len(before) else (passed, ())
        if stage.waits == ANY_TIME:
            return settled, passed
        return passed, ()

    def _worked(self, stage: StageToDo, early: _Links, late: _Links) -> _Links:
        """Put the stage's parts one after another; answers what its end is."""
        if stage.key == CAST and stage.casts > 1:
            return self._casts(stage, early, late)
        runs = parted(stage.steps, last_apart=stage.waits == ANY_TIME and bool(late))
        steps = sum(len(run) for run in runs)
        waits_again = min(1, len(runs) - 1) if stage.waits == BEGUN else len(runs) - 1
        links = early
        for number, run in enumerate(runs):
            links = self._outside(stage, run[0], links)
            if number == waits_again:
                links = (*links, *late)
            links = (self._part(stage, _Run(run, len(run) / steps, named(run)), links),)
        return links

    def _casts(self, stage: StageToDo, early: _Links, late: _Links) -> _Links:
        """One cast after another from the moulds there are; each cures in its mould, and so keeps it."""
        moulds = self._moulds(stage)
        casts = [stage.steps, *[stage.cast_steps] * (stage.casts - 1)]
        steps = sum(len(own) for own in casts)
        if stage.held_h:
            held = self.parts[f"{stage.id}/held"].activity.id
            self.stays += [Stay(mould, held, held, round(stage.held_h * _HOUR)) for mould in moulds]
        ends: list[After] = []
        for number, own in enumerate(casts, start=1):
            # The cast in hand waits for its own hold alone; those after it need what stands before, the mould first.
            later = late if stage.begun else early
            links = later if number > 1 else early if stage.begun else (*early, *late)
            if number % stage.moulds == 0:
                links = (*links, *self.passed.get(stage.second_mould, ()))
            what, mark = f"cast {stage.taken + number} of {stage.taken + stage.casts}", f"c{stage.casts - number}."
            runs = [_Run(run, len(run) / steps, what, mark) for run in cut(own)]
            if len(runs) > 1:
                # What is in hand was begun in all pieces at once.
                together = [moulds] if stage.begun and number == 1 else [[mould] for mould in moulds]
                links = self._laid_up(stage, runs.pop(0), links, together)
            for run in runs:
                links = (self._part(stage, run, links),)
            ends += links
            self.first_cast.setdefault(stage.id, links[0])
        return tuple(ends)

    def _moulds(self, stage: StageToDo) -> list[str]:
        """The places of a mould: one, or its pieces where each is used by itself."""
        mould = f"{OWN_MOULD}{stage.id}"
        apart = stage.apart and stage.mould_pieces > 1
        names = [f"{mould}.{number}" for number in range(1, stage.mould_pieces + 1)] if apart else [mould]
        self.places += [Resource(name, stage.moulds) for name in names]
        return names

    def _laid_up(self, stage: StageToDo, run: _Run, links: _Links, together: Sequence[Sequence[str]]) -> _Links:
        """One cast up to its cure in the mould, in one part or one for each piece of the mould."""
        if len(together) == 1:
            return (self._part(stage, run, links, together[0]),)
        pieces = (run.piece(number, len(together)) for number in range(1, len(together) + 1))
        return tuple(self._part(stage, piece, links, moulds) for piece, moulds in zip(pieces, together, strict=True))

    def _part(self, stage: StageToDo, run: _Run, links: _Links, moulds: Sequence[str] = ()) -> After:
        """One part, and how another waits for its end."""
        last = run.steps[-1]
        own, hold = f"{stage.id}/{run.mark}{last.position}", round(last.hold_h * _HOUR)
        hours = stage.hours.share(run.share)
        crew = max(1, min(stage.crew, self.able.get(stage.key, 1), ceil(hours.likely / self.period_h)))
        duration = max(1, ceil(round(hours.likely / (crew * self.period_h), 6)))
        places = self._stopped_by(stage)
        pieces = duration if places else -(-duration // (LONGEST_DAYS * self.day_periods))
        ids = [f"{own}-{number}" for number in range(pieces, 1, -1)] + [own]
        self.stays += [Stay(mould, ids[0], own, hold) for mould in moulds]
        if last.in_booth:
            self.stays.append(Stay(BOOTHS, ids[0], own, hold))
        elif stage.room == BAY:
            self.stays.append(Stay(BAYS, ids[0], own))
        if stage.begun and not links and stage.id not in self.first:
            self.in_hand.append(ids[0])
        called = f"{stage.section or self.work.name}, {stage.name.lower()}: {lowered(run.what)}"
        begun = 0
        for number, each in enumerate(ids):
            length = duration // pieces + (number < duration % pieces)
            activity = Activity(each, length, {stage.key: crew}, links, self.work.id, name=called)
            follows = (Follows(last.why, hold),) if hold and each == own else ()
            part = _part_of(stage, activity, run.what, hours.share(length / duration), follows)
            self.parts[each] = replace(part, stretch=(begun / duration, (begun + length) / duration))
            begun += length
            links = (After(each),)
            self.stays += [Stay(place, each, each) for place in places]
        self.first.setdefault(stage.id, After(own))
        return After(own, hold, last.why if hold else "")

    def _outside(self, stage: StageToDo, step: StepToDo, links: _Links) -> _Links:
        """The links, longer by the time that a firm outside takes before a step."""
        if step.sent is None:
            return links
        minutes = round(step.sent.days * _DAY)
        out = Follows(step.sent.what, minutes, self.doubts.of_firm(minutes))
        return self._longer(links, out) if links else (self._done(stage, "sent", out),)

    def _signed(self, stage: StageToDo, ends: _Links) -> _Links:
        """How a stage ends: with its work, and with the signature that it waits for."""
        if stage.sign_off in ("", NO_MATTER):
            return ends
        minutes = max(1, round(stage.sign_off_days * _DAY))
        signed = Follows(SIGN_OFF, minutes, self.doubts.signature.within(minutes))
        if stage.asked or not stage.steps:
            return (*ends, self._done(stage, "asked", signed))
        if stage.sign_off == ASKED_EARLY:
            return (*ends, *self._longer((self.first[stage.id],), signed))
        return self._longer(ends, signed)

    def _longer(self, links: _Links, by: Follows) -> _Links:
        """The same links with something more that takes nobody, which a reader sees after each."""
        for activity in {link.activity for link in links}:
            part = self.parts[activity]
            self.parts[activity] = replace(part, follows=(*part.follows, by))
        return tuple(_after_both(link, by) for link in links)

    def _done(self, stage: StageToDo, mark: str, follows: Follows) -> After:
        """Something that is done by now, and what runs from it."""
        own = f"{stage.id}/{mark}"
        called = f"{stage.section or self.work.name}, {stage.name.lower()}"
        activity = Activity(own, 0, commission=self.work.id, ended=0, name=called)
        self.parts[own] = _part_of(stage, activity, "", _NOTHING, (follows,))
        return _after_both(After(own), follows)

    def _event(self, own: str, links: _Links, duration: int, name: str) -> None:
        activity = Activity(own, duration, {}, links, self.work.id, name=f"{self.work.name}, {name.lower()}")
        self.parts[own] = Part(activity, self.work.id, "", "", own.rsplit("/")[-1], name, name, _NOTHING)


def _after_both(link: After, by: Follows) -> After:
    """A wait, and then another."""
    doubt = Doubt(link.sooner, link.later) + by.doubt
    why = ", ".join(filter(None, (link.why, by.why)))
    return After(link.activity, link.hold + by.minutes, why, doubt.sooner, doubt.later)


def _part_of(stage: StageToDo, activity: Activity, what: str, hours: ThreePoint, follows: tuple[Follows, ...]) -> Part:
    return Part(
        activity, activity.commission, stage.section, stage.id, stage.key, stage.name, what, hours, follows
    )  # fmt: skip


def _before(stage: StageToDo, earlier: Sequence[StageToDo]) -> list[StageToDo]:
    """The stages that stand right before one: of its section, or of every one where it concerns the whole."""
    if stage.section:
        return [each for each in earlier if each.section in (stage.section, "")][-1:]
    return list({each.section: each for each in earlier}.values())
