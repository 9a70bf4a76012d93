"""The mix card: what is poured, in which batches, with how much catalyst or hardener, and for how long it lasts."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django import forms

from jobs.sheets.kind import About, Answer, SheetForm, SheetKind
from jobs.sheets.known import Subject
from jobs.sheets.layers import ALL, BESIDES, GEL, laid_besides, laid_layers, laid_up, resin_of
from jobs.sheets.pastes import ASKED, PREFIX, begins, filler_name, parts_field, paste_layers, paste_of
from jobs.sheets.pastes import CAUTIONS as PASTE
from materials.estimator.batches import Batches, CoatMix, Cold, Pace, batches, check_warmth, coat_mix
from materials.estimator.catalogue import paint_words
from materials.estimator.errors import Missing
from materials.estimator.gel import GelReading, doubts, gel_row
from materials.estimator.layup_card import Besides
from materials.estimator.lines import Term
from materials.estimator.paste import Paste
from materials.estimator.reckoned import Reckoned
from materials.models import Item
from materials.queries.gel import gel_table
from studio.forms import NumberField, choose
from studio.quantities import QuantityField

FILLER, FILLER_KEY = "filler", "fairing_filler"
GEL_COATS = {"mould": "tooling_gel_coat", "cast": "gel_coat"}


@dataclass(frozen=True, slots=True)
class Value:
    """What is mixed: a catalysed product in batches with the times of its table, or a coat of paint by its ratio.

    ``more`` is what of all the resin goes into ``besides``; of a ``paste`` the batches are those of its resin;
    the gel times were last ``checked_on`` that day.
    """

    product: str
    batches: Batches | None
    times: tuple[GelReading, ...]
    paint: CoatMix | None
    temperature_c: float
    besides: Besides | None = None
    more: Reckoned | None = None
    paste: Paste | None = None
    checked_on: datetime.date | None = None

    @property
    def share(self) -> float:
        """What goes into ``besides``, of all of it [dimensionless]."""
        return self.more.value / self.batches.amount.value if self.more and self.batches else 0.0


class MixForm(SheetForm):
    """Which layer, how warm, how much catalyst, how many hands."""

    layer = forms.ChoiceField(label="What is mixed", error_messages=choose("Choose what is mixed."))
    area = QuantityField(
        kind="area",
        system="metric",
        label="Area",
        help_text="All of one, or the piece you lay now.",
        error_messages={"required": "Enter the area, such as 2.4 m2."},
    )
    filled = QuantityField(
        kind="area",
        system="metric",
        label="Area that is filled",
        error_messages={"required": "Enter the area, such as 0.6 m2."},
    )
    depth = QuantityField(
        kind="length",
        system="metric",
        label="How deep, on average",
        error_messages={"required": "Enter the depth, such as 2 mm."},
    )
    parts = NumberField(
        label="Filler to 100 of resin, by mass", wanted="the parts of filler, such as 60", low="0.1", high="500"
    )
    temperature = NumberField(
        label="Shop and product, °C", wanted="how warm it is, in °C, such as 18", high="45", decimals=1
    )
    percent = NumberField(
        label="Catalyst or hardener, %", wanted="the percentage, such as 2", high="10", decimals=2, low="0.1"
    )
    people = NumberField(label="People laying", wanted="how many lay, from 1 to 20", low="1", high="20", decimals=0)

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The first layer, all of one mould or cast, the shop as it usually is."""
        job = subject.job
        if subject.section is None:
            return {}
        layers = layers_of(subject)
        self.offer("layer", layers)
        layer = self.asked.get("layer", "")
        layer = layer if layer in dict(layers) else layers[0][0]
        is_paste = layer.startswith(PREFIX)
        for name in ("area",) if is_paste else ASKED:
            del self.fields[name]
        if is_paste:
            self.fields[parts_field(layer)] = self.fields.pop("parts")
            amounts = begins(subject, layer)
        else:
            amounts = {"area": subject.measures.area_m2 if subject.stage == "finish" else laid_up(subject)[1].value}
        return {
            "layer": layer,
            **amounts,
            "temperature": job.value("workshop_temperature"),
            "percent": job.value("filler_hardener" if layer == FILLER else "catalyst_percent"),
            "people": 1 if is_paste or layer == FILLER else job.house.bench_crew,
        }


def layers_of(subject: Subject) -> list[tuple[str, str]]:
    """What can be mixed at a stage: filler and coats of paint, or gel coat and the resin of each session; and paste."""
    if subject.stage == "finish":
        coats = [
            (f"coat-{number}", f"{paint_words(coat.kind).capitalize()}, one coat") for number, coat in _coats(subject)
        ]
        return [(FILLER, "Fairing filler"), *paste_layers(), *coats]
    return [*laid_layers(subject), *paste_layers()]


def _coats(subject: Subject) -> list[tuple[int, Any]]:
    return list(enumerate(subject.spec.coats, start=1))


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The card of one layer."""
    job, layer = subject.job, asked["layer"]
    temperature = Term("temperature", float(asked["temperature"]), "°C", "measured at the bench")
    cold = Cold(job.term("cold_stop_below"), job.term("cold_slow_below"))
    caution = check_warmth(temperature.value, cold)
    cautions = (caution,) if caution else ()
    if layer.startswith(PREFIX):
        return _paste(subject, asked, temperature, cautions)
    area = Term("area", asked["area"], "m^2", "the take-off, or as entered")
    if layer.startswith("coat-"):
        return _paint(subject, layer, area, temperature, cautions)
    item = _item(FILLER_KEY if layer == FILLER else GEL_COATS[subject.stage] if layer == GEL else "laminating_resin")
    amount = _filler(subject, area) if layer == FILLER else resin_of(subject, layer, area)
    table = gel_table(item)
    density = None if layer == FILLER else _density("catalyst", "kg/l")
    worked = batches(table, amount, **_bench(subject, asked, temperature), density=density)
    poured = worked.catalyst_ml or worked.catalyst_g
    return Answer(
        Value(
            item.name,
            worked,
            gel_row(table, temperature.value),
            None,
            temperature.value,
            *_besides(subject, layer, area),
            checked_on=item.gel_times_checked_on,
        ),
        big=(worked.batch, poured, worked.workable),
        workings=tuple(each for each in (worked.amount, worked.gel, worked.catalyst_g) if each != poured),
        cautions=(*doubts(table), *cautions, *PEROXIDE),
        headline=f"{item.name}: {_many(worked)}, {worked.basis}.",
    )


def _bench(subject: Subject, asked: Mapping[str, Any], temperature: Term) -> dict[str, Any]:
    """How warm, how much catalyst and how fast, as chosen at the bench."""
    job, chosen = subject.job, "chosen at the bench"
    return {
        "temperature": temperature,
        "percent": Term("percentage", float(asked["percent"]), "percent", chosen),
        "pace": Pace(
            job.term("laid_rate"),
            Term("people laying", float(asked["people"]), "", chosen),
            job.term("usable_gel_share"),
            job.term("bucket_most"),
        ),
    }


def _many(worked: Batches) -> str:
    return "one batch" if worked.count == 1 else f"{worked.count} batches, one after the other"


def _paste(subject: Subject, asked: Mapping[str, Any], temperature: Term, cautions: tuple[str, ...]) -> Answer:
    """Resin with filler: batches and catalyst by the resin in it."""
    layer, item = asked["layer"], _item("laminating_resin")
    table, mixed = gel_table(item), paste_of(subject, layer, asked, _density("laminating_resin", "kg/m^3"))
    density = _density("catalyst", "kg/l")
    worked = batches(table, mixed.resin, **_bench(subject, asked, temperature), density=density)
    resin = replace(worked.batch, name="resin to one batch")
    times = gel_row(table, temperature.value)
    return Answer(
        Value(item.name, worked, times, None, temperature.value, paste=mixed, checked_on=item.gel_times_checked_on),
        big=tuple(filter(None, (resin, mixed.filler_to(resin.term), worked.catalyst_ml, worked.workable))),
        workings=(mixed.volume, mixed.density, mixed.amount, mixed.resin, worked.gel, worked.catalyst_g),
        cautions=(*doubts(table), *cautions, *PASTE, *PEROXIDE),
        headline=f"{item.name} with {filler_name(layer)}: {_many(worked)}, {worked.basis}, on the resin alone.",
    )


def _besides(subject: Subject, layer: str, area: Term) -> tuple[Besides | None, Reckoned | None]:
    """What of all the resin is for what is laid besides the lay-up."""
    besides = laid_besides(subject) if layer == ALL else None
    return besides, resin_of(subject, BESIDES, area) if besides else None


def _item(key: str) -> Item:
    found = Item.objects.filter(key=key).first()
    if found is None:
        raise Missing(f"Item {key}", "add it to the catalogue in the Stores.")
    return found


def _density(key: str, unit: str) -> Term:
    """The density of an item by its page in the Stores, to a cubic metre or to a litre."""
    item = _item(key)
    if item.density_kg_m3 is None:
        raise Missing(f"Density of {item.name}", "enter it on its page in the Stores; it stands on the data sheet.")
    value = item.density_kg_m3 / 1000 if unit == "kg/l" else item.density_kg_m3
    return Term(f"density of {item.name}", value, unit, "catalogue")


def _filler(subject: Subject, area: Term) -> Reckoned:
    lines = [line for line in subject.lines if line.material == FILLER_KEY]
    if not lines:
        raise Missing("Fairing filler", "this section's grade takes none.")
    measures = subject.measures
    whole = Term("filler for all casts", lines[0].buy, "kg", "take-off")
    casts = Term("casts", measures.casts, "", "take-off")
    skin = Term("skin area", measures.area_m2, "m^2", "take-off")
    value = whole.value / casts.value * area.value / skin.value
    words = f"{whole.label} ÷ {casts.label} × {area.label} ÷ {skin.label}"
    return Reckoned("all of it", value, "kg", words, (whole, casts, area, skin))


def _paint(subject: Subject, layer: str, area: Term, temperature: Term, cautions: tuple[str, ...]) -> Answer:
    coat = dict(_coats(subject))[int(layer.removeprefix("coat-"))]
    name = paint_words(coat.kind)
    mix = coat_mix(coat, area, name)
    hardener = coat.hardener_per_base
    ratio = f"{1 / hardener:.3g} of base to 1 of hardener by volume" if hardener else "no hardener"
    coats = f"{coat.coats} coat{'' if coat.coats == 1 else 's'}"
    return Answer(
        Value(name.capitalize(), None, (), mix, temperature.value),
        big=tuple(each for each in (mix.base, mix.hardener, mix.thinner) if each.value),
        cautions=(
            *cautions,
            "Mix only what is sprayed within the pot life on the paint's data sheet.",
            *((ISOCYANATE,) if hardener else ()),
        ),
        headline=f"{name.capitalize()}, one of {coats}: {ratio}, thinner {coat.thinner * 100:g} %.",
    )


ISOCYANATE = (
    "Unless its safety sheet says otherwise, two-pack hardener holds isocyanates, which can cause asthma for life: "
    "spray only in an extracted booth with air-fed breathing apparatus; a filtering mask is not enough. Wait the "
    "booth's measured clearance time."
)

PEROXIDE = (
    "Peroxide catalyst: goggles and gloves always, eyewash at the bench; a splash in the eye blinds. Never let it "
    "meet the accelerator undiluted: mixed directly they explode. Stir one into the resin well before the other.",
    "Keep peroxide cool, in its own vented can, away from accelerator, metal, acid and rags; damp a spill with "
    "water and never wipe it with a dry cloth.",
)

KIND = SheetKind(
    key="mix",
    title="Mix card",
    says="Batches, catalyst in millilitres and grams, and how long it stays workable.",
    about=About.STAGE,
    stages=("mould", "cast", "finish"),
    form=MixForm,
    build=build,
    cautions=(
        "Styrene, acetone and thinner: extract at the work, no flame or spark; what is left gelling in a bucket "
        "gets hot enough to smoke, so spread it out or cover it with water outside.",
        "Gloves and goggles; breathing protection as the air sheet and the safety sheet say.",
    ),
    judgement="The product's own data sheet and safety sheet, and your own assessment, come before this card. Time a "
    "small trial when product, batch or weather changes.",
)
