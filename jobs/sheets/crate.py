"""The crate sheet: sizes, boards, battens and pads, what it weighs, where it passes, what the road and a border ask."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django import forms
from django.utils.safestring import SafeString

from jobs.delivery.crate import OPENINGS, STANDING, WAYS, Crate, crate_for, solid_wood_rule
from jobs.delivery.crate_boards import boards_plan, overshoots
from jobs.delivery.crate_parts import Box, Build, Member
from jobs.delivery.cutting import CuttingPlan, Stock
from jobs.delivery.passage import Passage, Room, Vehicle, into_vehicle, through_door
from jobs.delivery.reference.roads import CHECKED_ON
from jobs.delivery.road import OnTheRoad, on_the_road, restraint
from jobs.pictures.crates import crate_svg
from jobs.pictures.cutting import sides_text
from jobs.queries.sending import doors, road_rules, vehicles
from jobs.sheets.kind import About, Answer, Picture, SheetForm, SheetKind
from jobs.sheets.known import Job, Subject
from jobs.specs import shape_spec
from materials.drawing.sizes import spoken_size
from materials.estimator.lines import Term
from materials.estimator.outline import ViewName
from materials.estimator.reckoned import Reckoned
from materials.specfile import read_shape
from materials.units import System
from studio.forms import choose
from studio.quantities import QuantityField

HOME, ABROAD = "home", "abroad"
VIEWS: tuple[ViewName, ...] = ("front", "side", "plan")


class PackedForm(SheetForm):
    """How the piece lies in its crate; the crate and the plan of its boards ask the same."""

    way = forms.ChoiceField(
        label="The piece lies", choices=list(WAYS.items()), error_messages=choose("Choose how the piece lies.")
    )
    clearance = QuantityField(
        kind="length",
        system="metric",
        label="Clearance all round",
        error_messages={"required": "Enter the clearance to each side, such as 100 mm."},
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """Standing, with the studio's usual clearance."""
        return {"way": STANDING, "clearance": subject.job.value("crate_clearance")}


class CrateForm(PackedForm):
    """What is known of a crate only once somebody decides it."""

    opening = forms.ChoiceField(
        label="Opens at", choices=list(OPENINGS.items()), error_messages=choose("Choose where the crate opens.")
    )
    goes = forms.ChoiceField(
        label="Goes",
        choices=[(HOME, "within the country"), (ABROAD, "abroad")],
        error_messages=choose("Choose where the crate goes."),
    )
    vehicle = forms.ChoiceField(label="On the road with", error_messages=choose("Choose one of the vehicles."))

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """A side to open, at home, with the first vehicle that it passes into."""
        names = [vehicle.name for vehicle in vehicles()]
        self.offer("vehicle", [("", "the first that it goes into"), *((name, name) for name in names)])
        self.fields["vehicle"].required = False
        return {**super().begins_with(subject), "opening": "side", "goes": HOME}


@dataclass(frozen=True, slots=True)
class Row:
    """A board, batten or pad as the list has it: name, how many, size in words."""

    name: str
    count: int
    size: str


@dataclass(frozen=True, slots=True)
class PassageRow:
    """A door or a vehicle with its verdict in words."""

    passage: Passage
    verdict: str
    spare: str


@dataclass(frozen=True, slots=True)
class Value:
    """What the sheet prints besides its figures."""

    crate: Crate
    picture: Picture
    caption: str
    panels: tuple[Row, ...]
    timbers: tuple[Row, ...]
    pads: tuple[Row, ...]
    plan: CuttingPlan
    doors: tuple[PassageRow, ...]
    vehicles: tuple[PassageRow, ...]
    vehicle: Vehicle | None
    road: tuple[OnTheRoad, ...]
    restraint: tuple[Reckoned, ...]
    border: str
    lies: str
    query: str


def build_of(job: Job, clearance_m: float) -> Build:
    """The studio's way of building crates, with this crate's clearance."""
    usual = job.term("crate_clearance")
    entered = Term(usual.label, clearance_m, "m", "entered on this sheet")
    return Build(
        clearance=usual if clearance_m == usual.value else entered,
        plywood=job.term("crate_plywood"),
        plywood_density=job.term("crate_plywood_density"),
        batten=job.term("crate_batten_side"),
        batten_spacing=job.term("crate_batten_spacing"),
        timber_density=job.term("crate_timber_density"),
        skid=job.term("crate_skid_side"),
        skid_spacing=job.term("crate_skid_spacing"),
        pad_pressure=job.term("crate_pad_pressure"),
        pad=job.term("crate_pad_side"),
        pad_density=job.term("crate_pad_density"),
        fixings=job.term("crate_fixings"),
    )


def cast_mass(subject: Subject) -> Term:
    """One cast with the metal in it, filled and painted."""
    cast = subject.measures.cast
    metal = f", metal {cast.metal_kg:g} kg" if cast.metal_kg else ""
    origin = f"take-off: laminate {cast.mass_kg:.1f} kg{metal}, filler and paint {cast.finish_kg:.1f} kg"
    return Term("one cast", cast.whole_kg, "kg", origin)


def crated(subject: Subject, asked: Mapping[str, Any], opening: str = "side") -> tuple[Crate, Build]:
    """The crate of one cast, as it was asked for."""
    job, form = subject.job, subject.spec.form
    build = build_of(job, asked["clearance"])
    held = {"forward": job.term("restraint_forward"), "sideways": job.term("restraint_sideways")}
    piece = Box(form.length_m, form.width_m, form.height_m)
    return crate_for(piece, cast_mass(subject), build, way=asked["way"], opening=opening, restraint=held), build


def stock_of(job: Job, *, turning: bool = True) -> Stock:
    """The studio's sheet of plywood."""
    return Stock(job.value("sheet_length"), job.value("sheet_width"), job.value("saw_cut"), turning)


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The crate of one cast."""
    job = subject.job
    crate, how = crated(subject, asked, asked["opening"])
    room = Room(job.value("passage_beside"), job.value("passage_above"), job.value("passage_raised"))
    gross = crate.gross
    known = vehicles()
    loaded = [(vehicle, into_vehicle(crate.outside, gross.value, vehicle, room)) for vehicle in known]
    chosen = _vehicle(asked["vehicle"], loaded)
    held = restraint(gross.term, job.term("restraint_forward"), job.term("restraint_sideways"))
    road = on_the_road(crate.outside, chosen, road_rules()) if chosen else ()
    value = Value(
        crate=crate,
        picture=_picture(subject, crate, how),
        caption=f"Long side and end, the piece dashed. It opens at {OPENINGS[crate.opening]}.",
        panels=tuple(
            Row(each.name, each.count, sides_text(each.length_m, each.width_m, job.units)) for each in crate.panels
        ),
        timbers=tuple(_timber(each, side, job.units) for each, side in _timbers(crate, how)),
        pads=tuple(
            Row(each.where, each.count, f"{spoken_size(how.pad.value, job.units)} square") for each in crate.pads
        ),
        plan=boards_plan(crate.panels, stock_of(job)),
        doors=tuple(_row(through_door(crate.outside, door, room), job.units) for door in doors()),
        vehicles=tuple(_row(passage, job.units) for _, passage in loaded),
        vehicle=chosen,
        road=road,
        restraint=held,
        border=solid_wood_rule(min(how.batten.value, how.skid.value), leaves_the_country=asked["goes"] == ABROAD),
        lies=WAYS[crate.way],
        query=urlencode({"section": subject.section.pk if subject.section else "", "way": crate.way}),
    )
    return Answer(
        value,
        big=(*(each for each in crate.sizes if each.name.endswith("outside")), gross),
        workings=(
            *(each for each in crate.sizes if each.name.endswith("inside")),
            *(*crate.masses, crate.mass),
            *(each.area for each in crate.pads),
            *held,
        ),
        cautions=tuple(_cautions(subject, value, job.units)),
        headline=_headline(value, known),
        stop=bool(known) and all(passage.verdict == "no" for _, passage in loaded),
    )


def _vehicle(name: str, loaded: list[tuple[Vehicle, Passage]]) -> Vehicle | None:
    """The vehicle asked for; else the first that it goes into, else the first open one."""
    order = [vehicle for vehicle, passage in loaded if passage.verdict == "passes"]
    order += [vehicle for vehicle, passage in loaded if passage.verdict == "tight"]
    order += [vehicle for vehicle, _ in loaded if vehicle.is_open]
    named = [vehicle for vehicle, _ in loaded if vehicle.name == name]
    return next(iter(named + order), None)


def _picture(subject: Subject, crate: Crate, how: Build) -> Picture:
    assert subject.section is not None
    shape = read_shape(shape_spec(subject.section), subject.section.name)
    outlines = {view: shape.outline(view) for view in VIEWS}
    svg, words = crate_svg(crate, how, outlines, subject.job.units)
    return Picture(SafeString(svg), words)


def _timbers(crate: Crate, how: Build) -> list[tuple[Member, float]]:
    return [*((each, how.batten.value) for each in crate.battens), (crate.skids, how.skid.value)]


def _timber(member: Member, side_m: float, units: System) -> Row:
    size = f"{spoken_size(member.length_m, units)} of {spoken_size(side_m, units)} square"
    return Row(member.name, member.count, size)


VERDICTS = {"passes": "passes", "tight": "tight", "no": "does not pass"}


def _row(passage: Passage, units: System) -> PassageRow:
    gap = passage.closest
    if passage.spare_kg is not None and passage.spare_kg < 0:
        return PassageRow(passage, VERDICTS["no"], f"{-passage.spare_kg:.0f} kg more than its payload")
    if gap.left_m < 0:
        return PassageRow(passage, VERDICTS["no"], f"{gap.name}: {spoken_size(-gap.left_m, units)} too little")
    wanted = "" if gap.is_enough else f", {spoken_size(gap.wanted_m, units)} wanted"
    return PassageRow(
        passage, VERDICTS[passage.verdict], f"{gap.name}: {spoken_size(gap.left_m, units)} to spare{wanted}"
    )


def _headline(value: Value, known: list[Vehicle]) -> str:
    if not known:
        return "No vehicle is known: enter the studio's under Doors and lorries in the office."
    goes = [row.passage.name for row in value.vehicles if row.passage.verdict == "passes"]
    if goes:
        return f"It goes with room to spare into {len(goes)} of {len(known)} vehicles, the smallest {goes[0]}."
    tight = [row.passage.name for row in value.vehicles if row.passage.verdict == "tight"]
    if tight:
        return f"It goes only tightly, into {', '.join(tight)}. Measure before you build it."
    return "It goes into no vehicle that is known. Lay the piece down, part it, or ask a haulier, before it is built."


def _cautions(subject: Subject, value: Value, units: System) -> list[str]:
    found = []
    for over in overshoots(value.crate.panels, stock_of(subject.job)):
        found.append(
            f"{over.panel.name.capitalize()}: each is only {spoken_size(over.by_m, units)} larger than whole sheets; "
            "a little less clearance, or wider sheets, saves a joint."
        )
    doors_shut = [row.passage.name for row in value.doors if row.passage.verdict == "no"]
    if doors_shut:
        found.append(f"It does not pass {', '.join(doors_shut)}: know every door on its way before it is closed.")
    if not 8 <= value.crate.kg_per_m2 <= 15:
        found.append(
            f"It weighs {value.crate.kg_per_m2:.1f} kg to a square metre of its inside; 8 to 15 is usual. "
            "Check thickness and spacing among the figures."
        )
    if value.crate.outside.height_m > 2 * value.crate.outside.width_m:
        found.append("It is more than twice as high as wide: it turns over easily. Strap it upright, or lay it down.")
    return found


KIND = SheetKind(
    key="crate",
    title="Crate sheet",
    says="Inside and outside, boards, battens, pads, mass, where it passes, what the road asks.",
    about=About.SECTION,
    stages=("crate",),
    build=build,
    has_more=True,
    keeps="crate",
    form=CrateForm,
    offered=lambda subject: subject.spec.crated,
    cautions=(
        "Mark which way is up, where the balance lies, the gross mass and where it opens, on two sides at least.",
        "Pads stand on what is stiff: seams, returns, the base; never on a free flat or a fine edge.",
        "A crate is lifted from below, by its skids; lift it by slings only after the lifting sheet.",
        "Sawing plywood makes fine dust: extraction and a mask; two people carry a full sheet.",
        f"Limits of the road and sizes of vehicles as delivered were last checked in {CHECKED_ON:%B %Y} and are "
        "general: check the rules in force, and measure the vehicle that comes.",
    ),
    judgement="The driver and the haulier answer for the load on the road; whoever plans the move judges doors, ground "
    "and route. The sheet replaces neither.",
)
