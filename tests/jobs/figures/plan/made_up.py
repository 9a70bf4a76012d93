"""Problems made up by chance: small, with everything in them that a workshop has."""

from random import Random

from jobs.figures.plan.calendar import Calendar
from jobs.figures.plan.problem import Activity, After, Away, Commission, Problem, Resource, Stay

DAY = 24 * 60


def weekly(days: int, minutes: int = 120, periods_a_day: int = 4) -> Calendar:
    """A calendar of so many days from a Monday on, weekends off."""
    working = [day for day in range(days) if day % 7 < 5]
    return Calendar(tuple(day * DAY + period * minutes for day in working for period in range(periods_a_day)), minutes)


def problem(seed: int, most: int = 8) -> Problem:
    """The problem of a seed."""
    chance = Random(seed)  # noqa: S311 - the same problems in every run
    resources = tuple(
        Resource(name, chance.randint(1, 3), tuple(_away(chance) for _ in range(chance.choice((0, 0, 1)))))
        for name in ("laminators", "painters", "booth")
    )
    activities: list[Activity] = []
    for number in range(chance.randint(1, most)):
        earlier = [each.id for each in activities]
        after = tuple(
            After(name, chance.choice((0, 0, 90, 960, DAY, 3 * DAY)))
            for name in chance.sample(earlier, min(len(earlier), chance.choice((0, 1, 1, 2))))
        )
        activities.append(
            Activity(
                id=f"a{number}",
                duration=chance.choice((0, 1, 2, 3, 5)),
                needs={each.id: chance.randint(1, each.capacity) for each in resources if chance.random() < 0.4},
                after=after,
                commission=chance.choice(("north", "south")),
                release=chance.choice((0, 0, 0, 3)),
                ended=-chance.choice((30, DAY)) if not after and chance.random() < 0.15 else None,
            )
        )
    moulds, stays = _stays(chance, activities)
    return Problem(
        weekly(140),
        (*resources, *moulds),
        tuple(activities),
        stays,
        (Commission("north", chance.choice((None, 4, 12)), 3), Commission("south", chance.choice((None, 9)))),
        {each.id: chance.randint(0, 20) for each in activities if not each.done and chance.random() < 0.2},
    )


def _away(chance: Random) -> Away:
    start = chance.randint(0, 10)
    return Away(start, start + chance.randint(1, 6), 1)


def _stays(chance: Random, activities: list[Activity]) -> tuple[tuple[Resource, ...], tuple[Stay, ...]]:
    """Things in moulds: from one activity to one that waits for it, or through one and a hold."""
    stays = []
    for activity in activities:
        if chance.random() < 0.3:
            first = chance.choice([activity.id, *(link.activity for link in activity.after)])
            # An event alone takes no time in a place.
            holds = (0, 0, 960) if activity.duration else (960,)
            stays.append(Stay(chance.choice(("mould 1", "mould 2")), first, activity.id, chance.choice(holds)))
    return (Resource("mould 1", 1), Resource("mould 2", 2)), tuple(stays)


def workshop(commissions: int, sections: int, *, apart: int = 0, seed: int = 1) -> Problem:
    """Commissions as a workshop has them: six stages a section, pulls that share moulds, joining, paint and crate.

    One begins ``apart`` periods after the other.
    """
    chance = Random(seed)  # noqa: S311 - the same workshop in every run
    activities: list[Activity] = []
    moulds: list[Resource] = []
    stays: list[Stay] = []
    for number in range(commissions):
        for section in range(sections):
            part = f"{number}.{section}"
            mould = part if section % 2 == 0 else f"{number}.{section - 1}"
            if mould == part:
                moulds.append(Resource(f"mould {part}", 1))
            activities += _section(chance, f"{number}", part, mould, number * apart)
            stays.append(Stay(f"mould {mould}", f"{part} cast", f"{part} out"))
        activities += _whole(f"{number}", sections)
        stays.append(Stay("booth", f"{number} paint", f"{number} paint", 16 * 60))
    people = (Resource("pattern makers", 2), Resource("laminators", 4), Resource("finishers", 2), Resource("booth", 1))
    return Problem(weekly(3 * 364), (*people, *moulds), tuple(activities), tuple(stays))


def _section(chance: Random, commission: str, part: str, mould: str, release: int) -> list[Activity]:
    """Pattern, fairing, mould, cast, taking out and trimming; every second section is cast in its neighbour's mould."""
    makes = mould == part
    stages = (
        ("pattern", chance.randint(3, 8), "pattern makers", 1, ()),
        ("fair", chance.randint(1, 3), "finishers", 1, (After(f"{part} pattern", DAY),)),
        ("mould", chance.randint(2, 5) if makes else 1, "laminators", 2, (After(f"{part} fair", 16 * 60),)),
        ("cast", chance.randint(2, 4), "laminators", 2, (After(f"{part} mould"), After(f"{mould} mould", 3 * DAY))),
        ("out", 1, "laminators", 2, (After(f"{part} cast", DAY, "cure"),)),
        ("trim", chance.randint(3, 8), "finishers", 1, (After(f"{part} out"),)),
    )
    return [
        Activity(f"{part} {stage}", duration, {who: crew}, after, commission, release)
        for stage, duration, who, crew, after in stages
    ]


def _whole(commission: str, sections: int) -> list[Activity]:
    """Joining all sections, paint and crate."""
    trimmed = tuple(After(f"{commission}.{section} trim") for section in range(sections))
    return [
        Activity(f"{commission} join", 6, {"laminators": 2}, trimmed, commission),
        Activity(f"{commission} paint", 4, {"finishers": 1}, (After(f"{commission} join", DAY),), commission),
        Activity(f"{commission} crate", 2, {"pattern makers": 1}, (After(f"{commission} paint", 5 * DAY),), commission),
    ]
