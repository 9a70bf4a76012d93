"""People who do several things: what may be asked of them at once, and who does what."""

import itertools
import random
from collections.abc import Sequence

import pytest

from jobs.figures.crewing import Hand, Job, crew_of, share_out
from jobs.figures.plan.problem import Away
from materials.estimator.errors import EstimatorError

INES = Hand("1", "Ines", frozenset())
JORY = Hand("2", "Jory", frozenset({"pattern", "mould"}))
BRAM = Hand("3", "Bram", frozenset({"mould", "metal"}))


def _fits(hands: Sequence[Hand], wanted: dict[str, int]) -> bool:
    """By trying everything: whether people can be given to the work that is wanted."""
    places = [kind for kind, count in wanted.items() for _ in range(count)]
    return any(
        all(hand.does(kind) for hand, kind in zip(chosen, places, strict=True))
        for chosen in itertools.permutations(hands, len(places))
    )


def test_the_resources_allow_just_what_people_can_share_out() -> None:
    # Against trying every arrangement, for crews and wishes drawn by chance; the rule is Hall's of 1935.
    draw = random.Random(7)  # noqa: S311 - drawn to try, not to guard
    kinds = ("pattern", "mould", "metal", "paint")
    for _ in range(150):
        hands = [INES] + [
            Hand(str(number), "", frozenset(draw.sample(kinds, draw.randint(1, 3)))) for number in range(5, 9)
        ]
        crew = crew_of(hands, kinds)
        wanted = {kind: draw.randint(0, 2) for kind in kinds}
        asked: dict[str, int] = {}
        for kind, people in wanted.items():
            for name, count in crew.needs(kind, people).items():
                asked[name] = asked.get(name, 0) + count
        allowed = all(asked.get(each.id, 0) <= each.capacity for each in crew.resources)
        assert allowed == _fits(hands, wanted), (hands, wanted)


def test_people_who_do_the_same_are_one_resource() -> None:
    crew = crew_of([INES, Hand("9", "Ada", frozenset())], ["mould", "cast"])
    assert [(each.capacity, each.away) for each in crew.resources] == [(2, ())]


def test_absence_takes_from_every_resource_the_person_is_in() -> None:
    away = Hand("4", "Senka", frozenset({"mould"}), (Away(4, 8, 1),))
    crew = crew_of([INES, away], ["mould", "pattern"])
    assert {each.capacity: each.away for each in crew.resources} == {1: (), 2: (Away(4, 8, 1),)}


def test_work_that_nobody_can_do_is_refused() -> None:
    with pytest.raises(EstimatorError, match="Nobody can do the stage 'paint'"):
        crew_of([JORY, BRAM], ["paint"])


def test_people_stay_with_their_work_and_make_way_where_they_must() -> None:
    jobs = [Job("a", "a", "mould", 0, 4, 1), Job("b", "b", "pattern", 1, 3, 1), Job("c", "c", "metal", 2, 4, 1)]
    shared = share_out(jobs, [JORY, BRAM, INES])
    for period, own in shared.items():
        wanted = {job.id: job.people for job in jobs if job.start <= period < job.end}
        assert {job: list(own.values()).count(job) for job in wanted} == wanted
    kinds = {job.id: job.kind for job in jobs}
    by_id = {hand.id: hand for hand in (JORY, BRAM, INES)}
    assert all(by_id[person].does(kinds[job]) for own in shared.values() for person, job in own.items())
    # Whoever began at "a" is still at it at the end, for nobody else needed them.
    assert {person for own in shared.values() for person, job in own.items() if job == "a"} == {
        next(person for person, job in shared[0].items() if job == "a")
    }


def test_the_same_people_go_on_with_the_next_piece_of_their_work() -> None:
    jobs = [
        Job("crate-2", "crate", "crate", 0, 8, 1),
        Job("other", "other", "crate", 0, 8, 1),
        Job("crate-1", "crate", "crate", 8, 16, 1),
    ]
    shared = share_out(jobs, [INES, Hand("9", "Ada", frozenset())])
    assert {job: person for person, job in shared[0].items()}["crate-2"] in shared[8]


def test_more_work_than_people_is_refused() -> None:
    with pytest.raises(EstimatorError, match="More people"):
        share_out([Job("a", "a", "mould", 0, 1, 2)], [JORY])
