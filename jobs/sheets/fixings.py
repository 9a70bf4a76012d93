"""The fixings template: the holes and legs of the base, on pages in true size."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.safestring import SafeString

from jobs.delivery.fixings import (
    CHECK_BAR_MM,
    MARGIN_MM,
    OVERLAP_MM,
    Base,
    Tiling,
    Trouble,
    spans_mm,
    tiled,
    troubles,
)
from jobs.delivery.papers import PAPERS, paper_of
from jobs.models import CommissionBase
from jobs.queries.bases import base_of
from jobs.sheets.kind import About, Answer, Picture, SheetForm, SheetKind, TrueSize
from jobs.sheets.known import Job, Subject
from materials.drawing.true_size import Page, Plate, Round, Window, map_svg, page_svg
from materials.estimator.errors import Missing
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned
from studio.forms import choose


class FixingsForm(SheetForm):
    """On which paper."""

    paper = forms.ChoiceField(
        choices=[(paper.key, paper.name) for paper in PAPERS.values()], error_messages=choose("Choose the paper.")
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The paper that the studio prints on."""
        return {"paper": "letter" if subject.job.units == "us" else "a4"}


@dataclass(frozen=True, slots=True)
class Value:
    """The base, its map, what to measure, and what is in the way."""

    base: Base
    tiling: Tiling
    plan: Picture
    spans: tuple[tuple[int, int, float], ...]
    troubles: tuple[Trouble, ...]


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The template of a commission's base."""
    job = subject.job
    read = base_of(job.commission)
    if read is None:
        raise Missing("Base", "its plate, holes and legs are entered on the page of the base.")
    base, driver, edge = read.plate, job.term("driver_clearance"), job.term("bolt_edge")
    tiling = tiled(base, paper_of(asked["paper"]))
    found = troubles(base, driver, edge)
    plan, pages = _drawn(job, base, tiling, driver)
    longest = Reckoned(
        "longest distance between bolts",
        max((span for _, _, span in spans_mm(base.bolts)), default=0.0),
        "mm",
        "the longest of the distances between two middles",
        (Term("bolts", len(base.bolts), "", "entered for the base"),),
    )
    return Answer(
        Value(base, tiling, plan, spans_mm(base.bolts), found),
        true_size=TrueSize(tiling.paper.key, pages),
        workings=(longest,),
        cautions=tuple(each.text for each in found),
        headline=f"{len(base.bolts)} bolts on {len(tiling.tiles)} page{'' if len(tiling.tiles) == 1 else 's'} of "
        f"{tiling.paper.name} in true size.",
    )


def _drawn(job: Job, base: Base, tiling: Tiling, driver: Term) -> tuple[Picture, tuple[Picture, ...]]:
    plate = Plate(
        base.length_mm,
        base.width_mm,
        tuple(
            Round(bolt.x_mm, bolt.y_mm, bolt.size_mm, driver.value * bolt.size_mm, f"{number}: M{bolt.size_mm:g}")
            for number, bolt in enumerate(base.bolts, start=1)
        ),
        tuple(
            Round(
                leg.x_mm,
                leg.y_mm,
                leg.size_mm,
                0.0,
                f"leg {number}: {leg.lean_deg:g}°" if leg.lean_deg else f"leg {number}",
                leg.towards_deg if leg.lean_deg else None,
            )
            for number, leg in enumerate(base.legs, start=1)
        ),
    )
    windows = [Window(tile.name, tile.left_mm, tile.top_mm, tiling.wide_mm, tiling.high_mm) for tile in tiling.tiles]
    title = (
        f"Plate of {base.length_mm:g} by {base.width_mm:g} mm with {len(base.bolts)} bolts and {len(base.legs)} legs, "
        f"over pages {', '.join(window.name for window in windows)}"
    )
    paper = tiling.paper
    page = Page(paper.width_mm, paper.height_mm, MARGIN_MM, OVERLAP_MM, CHECK_BAR_MM)
    commission = job.commission
    pages = []
    for window in windows:
        foot = (
            f"{commission.number}, {commission.title[:48]}",
            f"Page {window.name} of {tiling.columns} across, {tiling.rows} down",
            "Print at 100 %. Lay cross upon cross.",
        )
        words = f"Page {window.name} of the fixings template in true size"
        pages.append(Picture(SafeString(page_svg(plate, window, page, title=words, foot=foot)), words))
    return Picture(SafeString(map_svg(plate, windows, title=title)), title), tuple(pages)


def _has_base(subject: Subject) -> bool:
    return CommissionBase.objects.filter(commission=subject.job.commission).exists()


KIND = SheetKind(
    key="fixings",
    title="Fixings template",
    says="Holes and legs of the base in true size, over pages to stick together.",
    about=About.COMMISSION,
    stages=("metalwork", "install"),
    build=build,
    form=FixingsForm,
    cautions=(
        "Measure the bar on every page, and the distances in the table with a tape, before you drill: printers shrink "
        "and paper stretches.",
        "Look for reinforcement, pipes and cables in the ground before anybody drills it.",
    ),
    judgement="It shows where holes go, and nothing of what they hold: an engineer designs base, anchors and ground.",
    offered=_has_base,
)
