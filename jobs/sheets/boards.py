"""The cutting plan of crate plywood: every sheet drawn, with its cuts in order."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.safestring import SafeString

from jobs.delivery.crate_boards import boards_plan
from jobs.delivery.cutting import CuttingPlan
from jobs.pictures.cutting import PartShown, cut_text, letters, parts_of, sheet_svg, sides_text
from jobs.sheets.crate import PackedForm, crated, stock_of
from jobs.sheets.kind import About, Answer, Picture, SheetKind
from jobs.sheets.known import Subject
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned, product
from materials.units import System
from studio.forms import NumberField, choose

TURNED, GRAINED = "turned", "grained"
HUNDRED = Term("in a hundred", 100.0, "", "by definition")


class BoardsForm(PackedForm):
    """How many crates are cut at once, and whether the grain matters."""

    crates = NumberField(
        label="Crates cut at once", wanted="how many crates, such as 2", low="1", high="12", decimals=0
    )
    grain = forms.ChoiceField(
        label="Boards may be turned",
        choices=[(TURNED, "yes, either way"), (GRAINED, "no, long side along the grain")],
        error_messages=choose("Choose whether boards may be turned."),
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """One crate for each cast, as far as one plan goes."""
        casts = subject.measures.casts if subject.section else 1
        return {**super().begins_with(subject), "crates": min(casts, 12), "grain": TURNED}


@dataclass(frozen=True, slots=True)
class SheetShown:
    """One sheet: its heading, its drawing, its parts and its cuts in words."""

    heading: str
    picture: Picture
    parts: tuple[PartShown, ...]
    cuts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Value:
    """The plan and its sheets."""

    plan: CuttingPlan
    stock: str
    sheets: tuple[SheetShown, ...]


def shown(plan: CuttingPlan, called: str, units: System) -> tuple[SheetShown, ...]:
    """Every sheet or block that is cut differently."""
    lettered = letters(plan)
    found, number = [], 1
    for sheet in plan.sheets:
        last = number + sheet.alike - 1
        name = f"{called} {number}" if sheet.alike == 1 else f"{called}s {number} to {last}, alike"
        svg, words = sheet_svg(sheet, plan.stock, lettered, units, name=name)
        cuts = tuple(cut_text(cut, units) for cut in sheet.cuts)
        found.append(SheetShown(name, Picture(SafeString(svg), words), parts_of(sheet, lettered, units), cuts))
        number = last + 1
    return tuple(found)


def figures(plan: CuttingPlan, called: str) -> tuple[Reckoned, Reckoned, Reckoned]:
    """How many are cut, the fewest that the area allows, and the yield."""
    stock = plan.stock
    parts = Term("parts in all", plan.parts_m2, "m^2", "the list of parts")
    one = Term(f"one {called}", stock.area_m2, "m^2", f"{stock.length_m:g} × {stock.width_m:g} m, studio figures")
    count = Reckoned(f"{called}s", plan.count, "each", "the best plan found", (parts, one))
    floor = Reckoned(f"fewest {called}s by area", plan.floor, "each", "parts in all ÷ one, rounded up", (parts, one))
    share = product("yield", "%", [parts, HUNDRED], [count.term, one])
    return count, floor, share


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The plan for the crates of one section."""
    job = subject.job
    crate, _ = crated(subject, asked)
    crates = int(asked["crates"])
    plan = boards_plan(crate.panels, stock_of(job, turning=asked["grain"] == TURNED), crates=crates)
    count, floor, share = figures(plan, "sheet")
    each = "one crate" if crates == 1 else f"{crates} crates"
    stock = sides_text(plan.stock.length_m, plan.stock.width_m, job.units)
    cautions = []
    if crates < subject.measures.casts:
        cautions.append(
            f"This plan is for {each}; the section has {subject.measures.casts} casts. Cut the rest likewise."
        )
    return Answer(
        Value(plan, stock, shown(plan, "Sheet", job.units)),
        big=(count, share),
        workings=(floor,),
        cautions=tuple(cautions),
        headline=f"{count.value:.0f} sheet{'' if count.value == 1 else 's'} of {stock} for {each}.",
    )


KIND = SheetKind(
    key="boards",
    title="Crate plywood, cutting plan",
    says="Every sheet drawn with its parts, its cuts in order, what is left over.",
    about=About.SECTION,
    stages=("crate",),
    build=build,
    has_more=True,
    keeps="crate",
    form=BoardsForm,
    offered=lambda subject: subject.spec.crated,
    cautions=(
        "Check one part against the piece before the rest is cut.",
        "Saw with the guard on and the sheet held along its whole length; extraction, goggles, hearing protection.",
        "Two people carry and turn a full sheet.",
    ),
    judgement="The plan is the best of the layouts tried, not proven to be the best there is; whoever saws may know a "
    "better use of an offcut.",
)
