"""What is to be planned: activities, who and what they need, and what they wait for."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from graphlib import CycleError, TopologicalSorter

from jobs.figures.plan.calendar import Calendar
from materials.estimator.errors import EstimatorError, shown

_NAMES_SHOWN = 6


class Circle(EstimatorError):
    """Activities that wait for one another, so that none can begin.

    Parameters
    ----------
    names : list of str
        Each waits for the next; the last is the first again.
    """

    def __init__(self, names: list[str]) -> None:
        first, *others = [shown(name) for name in names[:_NAMES_SHOWN]]
        said = f"{first} waits for {', which waits for '.join(others)}"
        if len(names) > _NAMES_SHOWN:
            said = f"{said} and so on back to {shown(names[0])}"
        super().__init__("after", names[0], f"{said}; take one of the waits out of this circle.")


@dataclass(frozen=True, slots=True)
class Away:
    """Units of a resource that are not there from one period up to another, that one excluded."""

    start: int
    end: int
    units: int


@dataclass(frozen=True, slots=True)
class Resource:
    """People of one skill, or places of one kind: a spray booth, an indoor bay, a mould.

    Attributes
    ----------
    id : str
    capacity : int
        How many there are at most [each].
    away : tuple of Away
        When fewer are there; they may overlap and then add up. Someone hired for three weeks is one more in
        ``capacity``, away before and after.
    """

    id: str
    capacity: int
    away: tuple[Away, ...] = ()


@dataclass(frozen=True, slots=True)
class After:
    """One activity waits for another to end, and for a hold that nobody can shorten.

    Attributes
    ----------
    activity : str
        The one that is waited for.
    hold : int
        By the clock, through nights and days off [min].
    why : str
        What the hold is, for sentences: "cure", "sign-off".
    sooner, later : int
        By how much it may turn out shorter or longer, where somebody outside ends it; chances reckon with that, plans
        with the hold itself [min].
    """

    activity: str
    hold: int = 0
    why: str = ""
    sooner: int = 0
    later: int = 0


@dataclass(frozen=True, slots=True)
class Activity:
    """Work that runs without a break in working periods once it is begun.

    Attributes
    ----------
    id : str
    duration : int
        What remains of it, in periods; 0 for an event.
    needs : mapping of str to int
        Units of resources for as long as it runs; an event needs none [each].
    after : tuple of After
    commission : str
        Whose it is; "" where there is one only.
    release : int
        The first period in which it may begin.
    pinned : int or None
        The period in which it begins, whatever else; 0 for work in hand. See ``pinning.pin``.
    ended : int or None
        When it was done, from the beginning of period 0, so mostly below nought [min]. Done work needs nothing
        and nobody, has no start in a plan, and its holds run on from then.
    name : str
        For sentences; the id where it is "".
    """

    id: str
    duration: int
    needs: Mapping[str, int] = field(default_factory=dict)
    after: tuple[After, ...] = ()
    commission: str = ""
    release: int = 0
    pinned: int | None = None
    ended: int | None = None
    name: str = ""

    @property
    def called(self) -> str:
        """What sentences call it."""
        return self.name or self.id

    @property
    def done(self) -> bool:
        """Whether nothing of it remains."""
        return self.ended is not None


@dataclass(frozen=True, slots=True)
class Stay:
    """A place that is taken from the beginning of one activity to the end of another, gaps and all.

    A cast stays in its mould from lay-up until it is taken out, however long it waits for hands; a section
    keeps its bay; what was sprayed keeps the booth while it dries.

    Attributes
    ----------
    resource : str
    first, last : str
        The activities; the same one where only a hold is added. Where the first is done the place is taken from
        period 0, and where the last is done until its hold is over.
    hold : int
        How long the place stays taken after the last, by the clock [min].
    units : int
        [each]
    """

    resource: str
    first: str
    last: str
    hold: int = 0
    units: int = 1


@dataclass(frozen=True, slots=True)
class Commission:
    """What a commission is promised for.

    Attributes
    ----------
    id : str
        As activities name it.
    due : int or None
        The period by whose beginning all of it is to be done; None where nothing is promised.
    weight : int
        What a period of lateness weighs against that of another commission [dimensionless].
    """

    id: str
    due: int | None = None
    weight: int = 1


@dataclass(frozen=True)
class Problem:
    """All that a plan has to keep, and what it aims at.

    Attributes
    ----------
    calendar : Calendar
    resources : tuple of Resource
    activities : tuple of Activity
    stays : tuple of Stay
    commissions : tuple of Commission
        Those with a due date or a weight; others need not be named.
    published : mapping of str to int
        The period in which the last published plan begins an activity; what is not named may move freely.
    """

    calendar: Calendar
    resources: tuple[Resource, ...]
    activities: tuple[Activity, ...]
    stays: tuple[Stay, ...] = ()
    commissions: tuple[Commission, ...] = ()
    published: Mapping[str, int] = field(default_factory=dict)

    @cached_property
    def by_id(self) -> Mapping[str, Activity]:
        """The activities by their ids."""
        return {activity.id: activity for activity in self.activities}

    @cached_property
    def open(self) -> tuple[Activity, ...]:
        """The activities that are not done."""
        return tuple(activity for activity in self.activities if not activity.done)

    @cached_property
    def ordered(self) -> tuple[Activity, ...]:
        """The activities, each after all that it waits for.

        Raises
        ------
        Circle
            When some wait for one another.
        """
        waits = {activity.id: [link.activity for link in activity.after] for activity in self.activities}
        try:
            return tuple(self.by_id[name] for name in TopologicalSorter(waits).static_order())
        except CycleError as error:
            raise Circle(list(reversed(error.args[1]))) from None

    @cached_property
    def ancestors(self) -> Mapping[str, frozenset[str]]:
        """All that each activity waits for, directly or through others."""
        found: dict[str, frozenset[str]] = {}
        for activity in self.ordered:
            direct = {link.activity for link in activity.after}
            found[activity.id] = frozenset(direct.union(*(found[name] for name in direct)))
        return found

    @cached_property
    def awaited(self) -> Mapping[str, frozenset[str]]:
        """What each activity waits for directly."""
        return {activity.id: frozenset(link.activity for link in activity.after) for activity in self.activities}

    @cached_property
    def followers(self) -> Mapping[str, tuple[str, ...]]:
        """What waits for each activity directly."""
        found: dict[str, list[str]] = {name: [] for name in self.by_id}
        for name, awaited in self.awaited.items():
            for each in awaited:
                found[each].append(name)
        return {name: tuple(each) for name, each in found.items()}

    @cached_property
    def begun_by(self) -> Mapping[str, tuple[Stay, ...]]:
        """The stays by the activities that begin them."""
        return {
            name: tuple(stay for stay in self.stays if stay.first == name) for name in {s.first for s in self.stays}
        }

    @cached_property
    def outside(self) -> Mapping[Stay, frozenset[str]]:
        """What the end of each stay waits for, and may be placed before the stay begins."""
        return {
            stay: frozenset(
                name for name in self.ancestors[stay.last] - {stay.first} if stay.first not in self.ancestors[name]
            )
            for stay in self.stays
        }

    def end_of(self, activity: Activity, start: int) -> int:
        """When an activity ends that begins in a period.

        Parameters
        ----------
        activity : Activity
        start : int

        Returns
        -------
        int
            The first period after it.

        Raises
        ------
        EstimatorError
            When that lies after the calendar.
        """
        end = start + activity.duration
        if end > self.calendar.horizon:
            what = f"{shown(activity.called)} does not end within the {self.calendar.horizon} periods of the calendar"
            raise EstimatorError("calendar", end, f"{what}; give a longer one, or look what keeps it waiting so long.")
        return end

    def ready(self, link: After, starts: Mapping[str, int]) -> int:
        """The first period that begins when a hold after an activity is over.

        Parameters
        ----------
        link : After
        starts : mapping of str to int
            The plan so far; the activity waited for is in it, or done.

        Returns
        -------
        int
            As of ``Calendar.first_from``.
        """
        before = self.by_id[link.activity]
        if before.ended is not None:
            return self.calendar.first_from(before.ended + link.hold)
        start = starts[before.id]
        return self.calendar.ready(start, start + before.duration, link.hold)
