"""Sheets as a workshop would send them; every person, firm and place is invented."""

import datetime
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from math import cos, pi

from jobs.figures.scope import SectionScope, scope_of
from jobs.figures.sheet import (
    Commissioner,
    Payment,
    Price,
    PricePart,
    QuoteSheet,
    SheetHead,
    TaxLine,
    Workshop,
    points,
)
from materials.drawing import Placed, drawing_svg
from materials.estimator.lines import TakeOff
from materials.estimator.reference import studio_figures
from materials.estimator.shapes import Cylinder, Ellipsoid, Shape, Turned, form_of, outline_of
from materials.estimator.spec import CastSpec, JobSpec, Joining, MouldSpec, PatternSpec, SectionSpec
from materials.estimator.takeoff import take_off
from studio.money import split
from studio.office import defaults

WORKSHOP = Workshop(
    name="Saltgate Yard",
    address="Unit 4, Old Salt Works\nLowgate\nHarrowmouth HM4 7QX",
    email="office@saltgate.example",
    phone="01632 960 118",
    registration="Saltgate Yard Ltd, registered in England 00000000, VAT GB 000 0000 00",
)
HEAD = SheetHead(
    workshop=WORKSHOP,
    number="26-014",
    revision="2",
    title="The Long Pear",
    date=datetime.date(2026, 3, 12),
    drawn_by="M. Ellery",
)
COMMISSIONER = Commissioner(
    name="Fallow Lane Market Garden",
    contact="Ruth Osei, head gardener",
    address="Fallow Lane\nUpper Tarrow TW9 0ZZ",
    email="ruth@fallowlane.example",
)
FIGURES = studio_figures()


def pear_radius(z_m: float) -> float:
    """A pear's side: a round belly that draws in to a neck."""
    belly = 0.62 * max(0.0, 1 - ((z_m - 0.75) / 0.78) ** 2) ** 0.5
    neck = 0.42 * (0.5 + 0.5 * cos(pi * min(1.0, max(0.0, (z_m - 0.9) / 1.45)))) + 0.08
    return max(belly, neck if z_m > 0.9 else 0.0, 0.3 if z_m < 0.3 else 0.0)


def turned(low_m: float, high_m: float) -> Turned:
    """The pear between two heights."""
    steps = 24
    heights = [low_m + (high_m - low_m) * step / steps for step in range(steps + 1)]
    return Turned(tuple((pear_radius(height), height - low_m) for height in heights))


PEAR: Mapping[str, Shape] = {
    "Base": turned(0.0, 0.55),
    "Belly": turned(0.55, 1.15),
    "Shoulder": turned(1.15, 1.8),
    "Neck": turned(1.8, 2.3),
    "Stalk": Cylinder(0.11, 0.3),
}
ACORNS: Mapping[str, Shape] = {"Acorn": Ellipsoid(0.3, 0.3, 0.4), "Leaf": Ellipsoid(0.5, 0.08, 0.25)}


def section(
    name: str, shape: Shape, *, grade: str = "B", pieces: int = 2, pulls: int = 1, **rest: object
) -> SectionSpec:
    """One section by the studio's own figures."""
    cast = FIGURES.layups[FIGURES.cast_layup]
    values = {
        "name": name,
        "form": form_of(shape),
        "grade": grade,
        "pattern": PatternSpec("carved", FIGURES.block, filler_mm=5.0, barrier_coats=2, wax_coats=4),
        "mould": MouldSpec(pieces, None, 0.075, FIGURES.layups[FIGURES.mould_layup], 6.0),
        "cast": CastSpec(pulls, cast, Joining(0.15, 2, cast.plies[0])),
        "coats": FIGURES.paint_systems[FIGURES.system_by_grade[grade]],
        **rest,
    }
    return SectionSpec(**values)


def job(name: str, *sections: SectionSpec) -> JobSpec:
    """A job by the studio's own figures."""
    return JobSpec(
        name=name,
        sections=sections,
        allowances=FIGURES.allowances,
        catalyst_percent=2.0,
        coefficients=FIGURES.coefficients,
        norms=FIGURES.norms,
    )


def long_pear() -> JobSpec:
    """A pear of 2.6 m in five sections."""
    return job(
        "The Long Pear",
        section("Base", PEAR["Base"], pieces=4, metal_kg=35.0),
        section("Belly", PEAR["Belly"], pieces=6),
        section("Shoulder", PEAR["Shoulder"], pieces=4),
        section("Neck", PEAR["Neck"]),
        section("Stalk", PEAR["Stalk"], grade="A", crated=False, metal_kg=4.0),
    )


def six_acorns() -> JobSpec:
    """One mould, six pulls, and a mirrored pair of leaves."""
    return job(
        "Six Acorns",
        section("Acorn", ACORNS["Acorn"], grade="C", pulls=6),
        section("Leaf", ACORNS["Leaf"], grade="C", mirrored=True, coats=()),
    )


def drawing(shapes: Mapping[str, Shape], title: str, units: str = "metric") -> str:
    """The shapes upon one another, from the front and from the side."""
    placed, foot_m = [], 0.0
    for name, shape in shapes.items():
        outlines = {"front": outline_of(shape, "front"), "side": outline_of(shape, "side")}
        placed.append(Placed(name, outlines, z_m=foot_m))
        foot_m += form_of(shape).height_m
    return drawing_svg(placed, title=title, uid="work", units=units)


def scopes(spec: JobSpec, worked: TakeOff) -> tuple[SectionScope, ...]:
    """What is told of every section."""
    return tuple(
        scope_of(one, figures, paint_system="Two-pack epoxy primer and polyurethane gloss" if one.coats else "")
        for one, figures in zip(spec.sections, worked.sections, strict=True)
    )


def price(parts: tuple[tuple[str, int], ...], currency: str = "GBP", tax_name: str = "VAT") -> Price:
    """A price of these parts, taxed at a fifth, paid in the studio's stages."""
    net = sum(amount for _, amount in parts)
    tax = net // 5
    rate = Decimal("0.20000")
    shares = [Decimal(stage["share"]) for stage in defaults.PAYMENT_STAGES]
    return Price(
        currency=currency,
        tax_name=tax_name,
        parts=tuple(PricePart(label, amount, "Standard", rate) for label, amount in parts),
        taxes=(TaxLine("Standard", rate, net, tax),),
        payments=tuple(
            Payment(stage["label"], share, amount)
            for stage, share, amount in zip(defaults.PAYMENT_STAGES, shares, split(net + tax, shares), strict=True)
        ),
        net_minor=net,
        tax_minor=tax,
        gross_minor=net + tax,
    )


def quote_sheet(spec: JobSpec | None = None, **changes: object) -> QuoteSheet:
    """The second version of the pear's quote, or of another job in its place."""
    spec = spec or long_pear()
    sheet = QuoteSheet(
        head=HEAD,
        commissioner=COMMISSIONER,
        sections=scopes(spec, take_off(spec)),
        price=price(
            (
                ("Base", 624_150),
                ("Belly", 781_233),
                ("Shoulder", 512_098),
                ("Neck", 248_817),
                ("Stalk", 103_540),
                ("Crates, delivery and fitting on site", 276_001),
            )
        ),
        valid_until=datetime.date(2026, 4, 11),
        mould_owner=WORKSHOP.name,
        place="Beside the east gate, on a base by others",
        description="A pear taller than its visitors, in painted glass fibre, for the gate of the market garden.",
        priced_from="Maquette 1:10 and drawing LP-02, revision C",
        colours="RAL 6011 reseda green, RAL 1012 lemon yellow, blended by hand; gloss",
        drawing_svg=drawing(PEAR, "The Long Pear"),
        programme_weeks=14,
        programme_basis=(
            "Three people on the work, five days a week",
            "Each approval answered within five working days",
            "Resin cured as its makers ask, at 18 °C in the workshop",
        ),
        included=points(defaults.INCLUDED),
        assumed=points(defaults.ASSUMED),
        excluded=points(defaults.EXCLUDED),
        approvals=points(defaults.APPROVALS),
        care=points(defaults.CARE),
        terms=points(defaults.TERMS),
    )
    return replace(sheet, **changes)
