"""People who can each do several kinds of work: what a plan may ask of them at once, and who does what.

Work of some kinds can be shared out among people in one period when any set
of kinds asks for no more people than have one of them (Hall, 1935). Each set of
people that some kinds have to themselves is one resource of the plan.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from jobs.figures.plan.problem import Away, Resource
from materials.estimator.errors import EstimatorError

_MARK = "people for "
MOST_KINDS = 8
"""Kinds of people told apart; beyond it the sets would be too many to plan with."""


@dataclass(frozen=True, slots=True)
class Hand:
    """Somebody who works.

    Attributes
    ----------
    id, name : str
    kinds : frozenset of str
        Kinds of work; none stands for every one.
    away : tuple of Away
        Periods in which they are not there.
    """

    id: str
    name: str
    kinds: frozenset[str]
    away: tuple[Away, ...] = ()

    def does(self, kind: str) -> bool:
        """Whether they can do a kind of work.

        Parameters
        ----------
        kind : str

        Returns
        -------
        bool
        """
        return not self.kinds or kind in self.kinds

    def is_there(self, period: int) -> bool:
        """Whether they are at work.

        Parameters
        ----------
        period : int

        Returns
        -------
        bool
        """
        return not any(away.start <= period < away.end for away in self.away)


@dataclass(frozen=True)
class Crew:
    """Everybody, as resources of a plan.

    Attributes
    ----------
    resources : tuple of Resource
    kinds : mapping of str to tuple of str
        For each kind of work the resources that it takes.
    """

    resources: tuple[Resource, ...]
    kinds: Mapping[str, tuple[str, ...]]

    def needs(self, kind: str, people: int) -> dict[str, int]:
        """What work takes.

        Parameters
        ----------
        kind : str
        people : int
            [each]

        Returns
        -------
        dict
            Units by resource [each].
        """
        return dict.fromkeys(self.kinds[kind], people)


def crew_of(hands: Sequence[Hand], kinds: Iterable[str]) -> Crew:
    """Turn people into resources.

    Parameters
    ----------
    hands : sequence of Hand
    kinds : iterable of str
        Every kind of work that is wanted.

    Returns
    -------
    Crew

    Raises
    ------
    EstimatorError
        Where nobody can do a kind of work, or people are of too many sorts.

    References
    ----------
    P. Hall, On Representatives of Subsets, J. London Math. Soc. 10 (1935), from memory.
    """
    able = {kind: frozenset(hand.id for hand in hands if hand.does(kind)) for kind in sorted(set(kinds))}
    for kind, people in able.items():
        if not people:
            message = f"Nobody can do the stage {kind!r}; tick it for somebody among the working hours of the crew."
            raise EstimatorError("crew", kind, message)
    resources: list[Resource] = []
    takes: dict[str, tuple[str, ...]] = dict.fromkeys(able, ())
    for together in _unions(able):
        own = [kind for kind, people in able.items() if people <= together]
        name = _MARK + ", ".join(own)
        away = tuple(away for hand in hands if hand.id in together for away in hand.away)
        resources.append(Resource(name, len(together), away))
        for kind in own:
            takes[kind] = (*takes[kind], name)
    return Crew(tuple(resources), takes)


def _unions(able: Mapping[str, frozenset[str]]) -> list[frozenset[str]]:
    """Every set of people that are all who can do one of some kinds; those kinds are all that ask for them alone."""
    sorts = sorted(set(able.values()), key=sorted)
    if len(sorts) > MOST_KINDS:
        told = f"let more of them do the same stages, so that there are {MOST_KINDS} at most"
        message = f"There are {len(sorts)} sorts of people by what they can do; {told}."
        raise EstimatorError("crew", len(sorts), message)
    chosen = (sets for size in range(1, len(sorts) + 1) for sets in combinations(sorts, size) if _linked(sets))
    return list(dict.fromkeys(frozenset().union(*sets) for sets in chosen))


def _linked(chosen: Sequence[frozenset[str]]) -> bool:
    """Whether the sets share people all along; those of sets that do not say no more than each on its own."""
    reached, rest = set(chosen[0]), list(chosen[1:])
    while rest:
        near = next((people for people in rest if people & reached), None)
        if near is None:
            return False
        reached |= near
        rest.remove(near)
    return True


@dataclass(frozen=True, slots=True)
class Job:
    """A piece of work in its place.

    Attributes
    ----------
    id, work, kind : str
        Pieces of the same ``work`` are best done by the same people.
    start, end : int
        From one period up to another, that one excluded.
    people : int
        How many work at it [each].
    """

    id: str
    work: str
    kind: str
    start: int
    end: int
    people: int


def share_out(jobs: Collection[Job], hands: Sequence[Hand]) -> dict[int, dict[str, str]]:
    """Who does what, period by period; people go on with what they were at, where that leaves nothing undone.

    Parameters
    ----------
    jobs : collection of Job
        As a plan places them.
    hands : sequence of Hand

    Returns
    -------
    dict
        For each period the job of each person, by their ids.

    Raises
    ------
    EstimatorError
        Where a period asks for more people than there are.
    """
    found: dict[int, dict[str, str]] = {}
    sharing = _Sharing(hands)
    for period in range(min((job.start for job in jobs), default=0), max((job.end for job in jobs), default=0)):
        going = sorted((job for job in jobs if job.start <= period < job.end), key=lambda job: (job.start, job.id))
        found[period] = sharing.of(going, [hand for hand in hands if hand.is_there(period)])
    return found


class _Sharing:
    """Places at jobs matched with people by augmenting paths, period after period."""

    def __init__(self, hands: Sequence[Hand]) -> None:
        self.last = dict.fromkeys((hand.id for hand in hands), "")
        self.taken: dict[str, Job] = {}

    def of(self, going: Sequence[Job], there: Sequence[Hand]) -> dict[str, str]:
        by_id = {job.id: job for job in going}
        before, self.taken = self.taken, {}
        for hand in there:
            job = by_id.get(before[hand.id].id) if hand.id in before else None
            if job is not None:
                self.taken[hand.id] = job
        for job in going:
            short = job.people - sum(each is job for each in self.taken.values())
            for _ in range(short):
                if not self._place(job, there, set()):
                    message = f"More people are asked for than are there, at {job.id}; work the plan out again."
                    raise EstimatorError("crew", job.people, message)
        self.last.update({person: job.work for person, job in self.taken.items()})
        return {person: job.id for person, job in self.taken.items()}

    def _place(self, job: Job, there: Sequence[Hand], tried: set[str]) -> bool:
        """Find somebody for a job, whoever is free and knows the work first; others may move for it."""
        able = [hand for hand in there if hand.does(job.kind)]
        able.sort(
            key=lambda hand: (hand.id in self.taken, self.last[hand.id] != job.work, len(hand.kinds) or MOST_KINDS)
        )
        for hand in able:
            other = self.taken.get(hand.id)
            if hand.id in tried or other is job:
                continue
            tried.add(hand.id)
            if other is None or self._place(other, there, tried):
                self.taken[hand.id] = job
                return True
        return False
