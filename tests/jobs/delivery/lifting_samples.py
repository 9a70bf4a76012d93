"""Loads and rigs for tests."""

from jobs.delivery.balance import LoadPart, balanced
from jobs.delivery.lifting import Lift, Rig, planned
from materials.estimator.lines import Term


def part(
    mass_kg: float, height_m: float = 0.5, aside_m: float = 0.0, name: str = "shell", behind_m: float = 0.0
) -> LoadPart:
    return LoadPart(
        Term(name, mass_kg, "kg", "given"),
        Term(f"height of {name}", height_m, "m", "given"),
        Term(f"{name} aside", aside_m, "m", "given"),
        Term(f"{name} behind", behind_m, "m", "given"),
    )


def rig(**changed: object) -> Rig:
    given: dict[str, object] = {"legs": 2, "is_stiff": True, "hitch": "straight"}
    lengths = {"out": 0.5, "hook": 1.0, "points": 1.2, "dynamic": 1.25, "design": 5.0}
    for name in lengths:
        given[name] = Term(name, float(changed.pop(name, lengths[name])), "", "given")  # type: ignore[arg-type]
    return Rig(**(given | changed))  # type: ignore[arg-type]


def even(mass_kg: float, with_rig: Rig, aside_m: float = 0.0, height_m: float = 0.5) -> Lift:
    return planned(balanced([part(mass_kg, height_m, aside_m)]), with_rig)
