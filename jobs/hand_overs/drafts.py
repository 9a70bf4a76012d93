"""What a hand-over record says at first of mass, balance, lifting and fixings: as the sheets of the commission do."""

from collections import Counter
from collections.abc import Iterator

from jobs.delivery.balance import balanced
from jobs.delivery.fixings import Bolt, Leg
from jobs.figures.hand_over_texts import FIXINGS, LIFTING, LIFTING_CHECKED
from jobs.loads import Load
from jobs.queries.bases import base_of
from jobs.sheets import lifting
from jobs.sheets.carried import load_of
from jobs.sheets.kind import SheetKind, show_subject
from jobs.sheets.known import Job, Subject
from materials.estimator.errors import EstimatorError
from materials.estimator.reckoned import Reckoned
from materials.units import System, format_quantity

# Less than this off the middle is no more than the take-off is good for.
LEAST_OFF_M = 0.005


def texts_of(job: Job) -> dict[str, str]:
    """The four points of a new record, by the name of their field; the office may change the words."""
    try:
        loads = _loads(job)
    except EstimatorError:
        # The Form sheet says why; the office enters what was weighed.
        loads = []
    found = {
        "mass": [_mass(load, job.units) for load in loads],
        "balance": [_balance(load, job.units) for load in loads],
        "lifting": list(_lifting(job)),
        "fixings": list(_fixings(job)),
    }
    return {name: "\n".join(lines) for name, lines in found.items()}


def _hung(job: Job) -> list[tuple[SheetKind, Subject]]:
    """Everything that a lifting sheet is printed for."""
    return [(kind, subject) for kind in (lifting.KIND, lifting.WHOLE) for subject in kind.subjects(job)]


def _loads(job: Job) -> list[Load]:
    """What the lifting sheets lift; the whole is left out where it is no more than its one cast."""
    loads = [load_of(subject) for _, subject in _hung(job)]
    return loads[:1] if len(loads) == 2 and len(loads[0].parts) == len(loads[1].parts) else loads


def _named(load: Load) -> str:
    return f"{load.name[:1].upper()}{load.name[1:]}"


def _mass(load: Load, units: System) -> str:
    mass = balanced(load.parts).mass
    said = format_quantity(mass.value, "mass", units)
    return f"{_named(load)}: {said} ({mass.formula}), estimated; filler and paint are in it"


def _balance(load: Load, units: System) -> str:
    found = balanced(load.parts)
    height = format_quantity(found.height.value, "length", units)
    aside = _off(found.aside, "to the right of", "to the left of", units)
    behind = _off(found.behind, "behind", "in front of", units)
    return f"{_named(load)}: balances {height} above its foot{aside}{behind}, estimated"


def _off(found: Reckoned, over: str, under: str, units: System) -> str:
    if abs(found.value) < LEAST_OFF_M:
        return ""
    way = over if found.value > 0 else under
    return f", {format_quantity(abs(found.value), 'length', units)} {way} its middle"


def _lifting(job: Job) -> Iterator[str]:
    """Points and slings of the lifting sheets that were kept."""
    is_kept = False
    for kind, subject in _hung(job):
        section = subject.section
        if (section.pk if section else None, kind.keeps) not in job.kept:
            continue
        sheet = show_subject(kind, subject)
        if sheet.answer is not None:
            asked, value, is_kept = sheet.form.cleaned_data, sheet.answer.value, True
            points, out, hook = (
                format_quantity(asked[name], "length", job.units) for name in ("points", "out", "hook")
            )
            legs = f"{value.legs} leg{'' if value.legs == 1 else 's'}, {lifting.HITCH_WORDS[asked['hitch']]}"
            yield (
                f"{_named(value.load)}: {legs}, points {points} above its foot and {out} from the middle, "
                f"the hook {hook} above them. {sheet.answer.headline}"
            )
    yield LIFTING_CHECKED if is_kept else LIFTING


def _fixings(job: Job) -> Iterator[str]:
    """The base as it was entered, and what always goes with it."""
    try:
        base = base_of(job.commission)
    except EstimatorError:
        # The page of the base says what is wrong.
        base = None
    if base:
        plate = base.plate
        holes = Counter(bolt.size_mm for bolt in plate.bolts)
        counted = ", ".join(f"{count} for M{size:g}" for size, count in holes.items())
        yield (
            f"Plate {plate.length_mm:g} by {plate.width_mm:g} mm, {base.thickness_m * 1000:g} mm thick, "
            f"{base.mass_kg:g} kg with legs and fittings; holes: {counted}"
        )
        yield f"Holes, mm to the right and to the back of its middle: {'; '.join(_bolt(bolt) for bolt in plate.bolts)}"
        if plate.legs:
            yield f"Legs, the same way: {'; '.join(_leg(leg) for leg in plate.legs)}"
    yield FIXINGS


def _bolt(bolt: Bolt) -> str:
    return f"{bolt.x_mm:g} {bolt.y_mm:g} M{bolt.size_mm:g}"


def _leg(leg: Leg) -> str:
    lean = f", leaning {leg.lean_deg:g}° towards {leg.towards_deg:g}°" if leg.lean_deg else ", upright"
    return f"{leg.x_mm:g} {leg.y_mm:g}, {leg.size_mm:g} mm{lean}"
