"""The handling sheet: how heavy, where it balances, how many people, or a hoist."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django import forms
from django.utils.safestring import SafeString

from jobs.delivery.balance import Balance
from jobs.delivery.handling import REACHES, ZONES, Filter, Movement, Team, team_for
from jobs.delivery.lifting_equation import RULED_OUT, OnePersonLift, lifting_index, reach_cm
from jobs.loads import Load
from jobs.sheets.carried import CarriedForm, balance_of, load_of
from jobs.sheets.kind import About, Answer, Picture, SheetKind
from jobs.sheets.known import Job, Subject
from materials.drawing.hanging import hanging_svg
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned
from materials.units import format_quantity
from studio.forms import NumberField, choose
from studio.quantities import QuantityField

ZONE_WORDS = {
    "floor": "below mid lower leg",
    "leg": "between mid lower leg and knuckles",
    "knuckle": "between knuckles and elbow",
    "elbow": "between elbow and shoulder",
    "shoulder": "above the shoulder",
}
NUMBERS = {1: "One person", 2: "Two people", 3: "Three people"}


class HandlingForm(CarriedForm):
    """How it is taken."""

    who = forms.ChoiceField(
        label="Who lifts",
        choices=[("lower", "anybody (lower figures)"), ("higher", "the stronger (higher figures)")],
        error_messages=choose("Choose who lifts."),
    )
    pick = QuantityField(
        kind="length",
        system="metric",
        allow_zero=True,
        label="Hands at pick-up, above the floor",
        error_messages={"required": "Enter the height of the hands, such as 0.8 m."},
    )
    put = QuantityField(
        kind="length",
        system="metric",
        allow_zero=True,
        label="Hands at set-down, above the floor",
        error_messages={"required": "Enter the height of the hands, such as 0.9 m."},
    )
    reach = forms.ChoiceField(
        label="Held",
        choices=[("close", "against the body"), ("arm", "at arm's length")],
        error_messages=choose("Choose how it is held."),
    )
    depth = QuantityField(
        kind="length",
        system="metric",
        label="Depth, front to back",
        help_text="Towards whoever lifts it.",
        error_messages={"required": "Enter the depth, such as 0.5 m."},
    )
    rate = NumberField(label="Lifts a minute", wanted="the lifts a minute, such as 0.2", high="15")
    hours = forms.ChoiceField(
        label="Lifting goes on for",
        choices=[("1", "an hour at most"), ("2", "two hours at most"), ("8", "the day")],
        error_messages=choose("Choose how long."),
    )
    twist = forms.ChoiceField(
        label="Trunk twisted",
        choices=[("none", "no"), ("45", "beyond 45°"), ("90", "beyond 90°")],
        error_messages=choose("Choose how far the trunk is twisted."),
    )
    hold = forms.ChoiceField(
        label="Hold for the hands",
        choices=[("good", "good: handles"), ("fair", "fair: fingers under an edge"), ("poor", "poor: smooth, sagging")],
        error_messages=choose("Choose what the hands hold."),
    )
    way = forms.ChoiceField(
        label="How",
        choices=[("both", "standing, both hands, room to move"), *((key, words) for key, words in RULED_OUT.items())],
        error_messages=choose("Choose how it is lifted."),
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """From trestle to trestle by anybody, as deep as the take-off knows it."""
        if subject.section is None:
            return {}
        begun = super().begins_with(subject)
        load = load_of(subject, self.begun_piece)
        depth_m = round(min(load.length_m, load.width_m), 3)
        deep = depth_m > subject.job.value("arms_length")
        return {
            **begun,
            "who": "lower",
            "pick": 0.75,
            "put": 0.9,
            "reach": "arm" if deep else "close",
            "depth": depth_m,
            "rate": "0.2",
            "hours": "1",
            "twist": "none",
            "hold": "fair",
            "way": "both",
        }


@dataclass(frozen=True, slots=True)
class Value:
    """What is lifted, by whom, where it balances, and the lifting equation or why it is silent."""

    what: str
    count: int
    team: Team
    zone_words: str
    balance: Balance
    plan: Picture
    caption: str
    index: tuple[Reckoned, ...]
    silent: str
    rows: tuple[Reckoned, ...]


def filter_of(job: Job, who: str) -> Filter:
    """The guideline filter with the studio's figures."""
    return Filter(
        limits={(zone, reach): job.term(f"filter_{who}_{zone}_{reach}") for zone in ZONES for reach in REACHES},
        borders=tuple(job.value(f"height_{zone}") for zone in ZONES[1:]),
        often={
            2.0: job.term("filter_often_1"),
            8.0: job.term("filter_often_5"),
            float("inf"): job.term("filter_often_12"),
        },
        twist={degrees: job.term(f"filter_twist_{degrees}") for degrees in ("45", "90")},
        teams={2: job.term("team_of_two"), 3: job.term("team_of_three")},
    )


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The sheet of one mould piece or one cast."""
    job, figures = subject.job, subject.measures
    load = load_of(subject, asked.get("piece", ""))
    balance = balance_of(load, asked)
    mass = replace(balance.mass, name="mass")
    movement = Movement(asked["pick"], asked["put"], asked["reach"], float(asked["rate"]), asked["twist"])
    team = team_for(mass.term, movement, filter_of(job, asked["who"]))
    hoist = team.people == 0 or mass.value >= job.value("hoist_from")
    people = 0 if hoist else team.people
    index, silent = _equation(mass.term, people, asked, job)
    count = figures.moulds * figures.mould.pieces if load.patch else figures.casts
    value = Value(
        _what(load, figures.mould.pieces, asked),
        figures.moulds if asked.get("piece") else count,
        team,
        ZONE_WORDS[team.zone],
        balance,
        _plan(load, balance, job),
        _caption(load),
        index,
        silent,
        (team.alone, *team.together),
    )
    return Answer(
        value,
        big=(mass, balance.height),
        workings=(
            *(balance.aside, balance.behind),
            *((load.patch.give,) if load.patch else ()),
            *(team.alone, *team.together, *index),
        ),
        cautions=tuple(_cautions(load, asked, index, job)),
        headline=_headline(people, mass, team, job),
        stop=hoist,
    )


def _what(load: Load, pieces: int, asked: Mapping[str, Any]) -> str:
    if load.patch is None:
        return "one cast, filled and painted, with its metalwork"
    if asked.get("piece"):
        return f"piece {asked['piece']} of {pieces} of the mould, as the model was parted"
    return f"a piece of the mould, on average of {pieces}"


def _plan(load: Load, balance: Balance, job: Job) -> Picture:
    height = format_quantity(balance.height.value, "length", job.units)
    title = f"Front of {load.name}: it balances {height} above its foot"
    svg = hanging_svg(load.rings, (balance.aside.value, balance.height.value), balance_words=height, title=title)
    return Picture(SafeString(svg), title)


def _caption(load: Load) -> str:
    if load.patch is None:
        return "Seen from the front. The mark is where it balances."
    drawn = "The box round the piece" if load.patch.is_measured else "The piece that faces front"
    return f"{drawn}, as it stands in the mould. The mark is where it balances."


def _equation(mass: Term, people: int, asked: Mapping[str, Any], job: Job) -> tuple[tuple[Reckoned, ...], str]:
    """The lifting equation, or the sentence that says why it is silent."""
    if people != 1:
        return (), "The lifting equation is for one person who lifts alone; for a team or a hoist it says nothing."
    pick_cm, set_cm = asked["pick"] * 100, asked["put"] * 100
    depth_cm = asked["depth"] * 100
    lift = OnePersonLift(
        pick_cm=pick_cm,
        set_cm=set_cm,
        pick_reach_cm=reach_cm(depth_cm, pick_cm),
        set_reach_cm=reach_cm(depth_cm, set_cm),
        turned_deg={"none": 0.0, "45": 90.0, "90": 135.0}[asked["twist"]],
        lifts_per_min=float(asked["rate"]),
        duration=asked["hours"],
        coupling=asked["hold"],
    )
    ruled_out = "" if asked["way"] == "both" else asked["way"]
    try:
        return lifting_index(mass, lift, job.term("lifting_constant"), ruled_out), ""
    except EstimatorError as refused:
        return (), str(refused)


def _headline(people: int, mass: Reckoned, team: Team, job: Job) -> str:
    if people:
        return f"{NUMBERS[people]} lift{'s' if people == 1 else ''} it, by the guideline filter."
    most = format_quantity(max(each.value for each in (team.alone, *team.together)), "mass", job.units)
    if team.people == 0:
        return f"Not by hand: use a hoist and a lifting plan. Three people lift {most} like this."
    return "Not by hand: at this mass the studio uses a hoist, with a lifting plan."


def _cautions(load: Load, asked: Mapping[str, Any], index: tuple[Reckoned, ...], job: Job) -> list[str]:
    found = []
    if asked["way"] != "both":
        found.append(f"The filter does not hold for {RULED_OUT[asked['way']]} either: have the lift assessed.")
    if index and index[0].value > 1:
        found.append(
            "The lifting equation asks for less than this load: bring it nearer, higher or closer to its place, "
            "or take two people."
        )
    if load.patch and not load.patch.is_measured and asked.get("scales_apart") is None:
        give = format_quantity(load.patch.give.value, "length", job.units)
        found.append(
            "Pieces differ: weigh the heaviest before anybody lifts it alone. Where it balances is an estimate, "
            f"{give} either way, until it is weighed on two scales."
        )
    return found


KIND = SheetKind(
    key="handling",
    title="Handling sheet",
    says="Mass, balance point, how many people, or a hoist.",
    about=About.STAGE,
    stages=("mould", "cast"),
    build=build,
    form=HandlingForm,
    cautions=(
        "The mass is an estimate from the take-off: weigh what is near a limit. Wet mat, water in a mould and tools "
        "left in it weigh as well.",
        "One person speaks, everybody lifts on the word. Clear the way and the place to set down first.",
        "Gloves against glass splinters, boots with caps; nobody puts a hand under an edge.",
    ),
    judgement="The filter is no limit: a load that passes it can still hurt. A manual-handling assessment by a "
    "competent person comes first, and whoever is unwell, pregnant or young lifts less.",
)
