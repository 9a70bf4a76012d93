"""The air sheet: styrene that the day's work gives off, and whether the room's air can take it."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from jobs.sheets.kind import About, Answer, SheetForm, SheetKind
from jobs.sheets.known import Subject
from jobs.sheets.layers import GEL, laid_layers, laid_up, resin_of
from materials.estimator.air import AirCheck, AirLimits, DaysWork, Room, check_air
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned, product
from materials.queries.figures import oldest_check
from studio.forms import NumberField, PercentField, choose
from studio.quantities import QuantityField

LIMITS = (
    *("styrene_8h", "styrene_15min", "acetone_8h", "acetone_15min", "mekp_15min"),
    *("inhalable_dust_8h", "respirable_dust_8h", "isocyanate_8h", "isocyanate_15min"),
)


@dataclass(frozen=True, slots=True)
class Value:
    """The day's air, what is put on and how, and the limits of the studio with the day of their last check."""

    check: AirCheck
    what: str
    limits: tuple[Term, ...]
    checked_on: datetime.date | None


class AirForm(SheetForm):
    """The day's work, and the room it is done in."""

    layer = forms.ChoiceField(label="What is put on", error_messages=choose("Choose what is put on."))
    method = forms.ChoiceField(
        label="How",
        choices=[("hand", "by brush and roller"), ("spray", "sprayed")],
        error_messages=choose("Choose how it is put on."),
    )
    area = QuantityField(
        kind="area",
        system="metric",
        label="Area in the day",
        error_messages={"required": "Enter the area, such as 4 m2."},
    )
    filler = PercentField(
        label="Filler in the resin, %", wanted="the filler by mass in per cent, or 0", high="70", decimals=1
    )
    people = NumberField(label="People laying", wanted="how many lay, from 1 to 20", low="1", high="20", decimals=0)
    temperature = NumberField(label="Shop, °C", wanted="how warm it is, in °C, such as 18", high="45", decimals=1)
    room = QuantityField(
        kind="volume", system="metric", label="Room", error_messages={"required": "Enter the room, such as 400 m3."}
    )
    changes = NumberField(
        label="Its air changes an hour", wanted="the air changes an hour, such as 6", low="0", high="200", decimals=1
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The first layer on all of one, in the studio's room."""
        job = subject.job
        if subject.section is None:
            return {}
        layers = laid_layers(subject)
        self.offer("layer", layers)
        return {
            "layer": layers[0][0],
            "method": "hand",
            "area": laid_up(subject)[1].value,
            "filler": 0,
            "people": job.house.bench_crew,
            "temperature": job.value("workshop_temperature"),
            "room": job.value("room_volume"),
            "changes": job.value("room_air_changes"),
        }


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The air of one day's work."""
    job, layer, method = subject.job, asked["layer"], asked["method"]
    area = Term("area", asked["area"], "m^2", "the take-off, or as entered")
    kind = "gel" if layer == GEL else "resin"
    people = Term("people laying", float(asked["people"]), "", "chosen")
    minutes = Term("minutes to an hour", 60.0, "min/h", "by definition")
    work = DaysWork(
        amount=resin_of(subject, layer, area),
        process=f"{kind}_{method}",
        styrene=job.term("gel_coat_styrene" if layer == GEL else "resin_styrene"),
        filler=Term("filler by mass", float(asked["filler"]), "", "as entered"),
        rate=product("laid in an hour", "kg/h", [job.term("laid_rate"), people, minutes]),
        shift=Term("shift", float(job.house.hours_per_day), "h", "the studio's day"),
    )
    room = Room(
        Term("room", asked["room"], "m^3", "studio figure, or as entered"),
        Term("air changes", float(asked["changes"]), "1/h", "studio figure, or as entered"),
        job.term("vent_mixing"),
        Term("temperature", float(asked["temperature"]), "°C", "as entered"),
    )
    limits = AirLimits(job.term("styrene_target"), job.term("styrene_15min"), job.term("believable_air_changes"))
    check = check_air(work, room, limits)
    what = dict(laid_layers(subject))[layer]
    return Answer(
        Value(check, what, tuple(job.term(key) for key in LIMITS), oldest_check(LIMITS)),
        big=(check.reached, check.needed, check.purge),
        workings=_workings(check),
        cautions=tuple(_found(check, limits)),
        headline=_headline(check),
        stop=check.over or not check.believable,
    )


def _workings(check: AirCheck) -> tuple[Reckoned, ...]:
    return (check.given_off, check.average, check.peak, check.laying, check.air_average, check.air_peak)


def _headline(check: AirCheck) -> str:
    if not check.believable:
        return (
            "Dilution is not believable here: extract at the work, and wear breathing protection while it is laid and "
            "until it has gelled."
        )
    if check.over:
        return "The room's air is not enough for the peak: extract at the work, and wear breathing protection."
    return "The room's air can carry this work by the reckoning; extract at the work all the same, and measure."


def _found(check: AirCheck, limits: AirLimits) -> list[str]:
    found = ["The peak while it is laid and rolled is what people breathe; the average of the day is no comfort."]
    if check.reached.value > limits.target.value:
        found.append(
            f"The peak lies over the {limits.target.value:g} ppm the studio keeps below: keep others out of the room "
            "until it has cleared."
        )
    return found


KIND = SheetKind(
    key="air",
    title="Air sheet",
    says="Styrene given off, the air it would take, and how long the room needs to clear.",
    about=About.STAGE,
    stages=("mould", "cast"),
    form=AirForm,
    build=build,
    has_more=True,
    cautions=(
        "A door that stands open is no ventilation; heavy vapour gathers low, in moulds, pits and large hollow casts. "
        "Never work inside one alone.",
        "A mask against styrene takes A2 filters, changed by their date and hours; with a beard it takes an air-fed "
        "hood. Dust takes P3, isocyanates air-fed breathing apparatus.",
        "Vapour burns: no flame, heater or spark; earth the drums.",
    ),
    judgement="A reckoning, not a measurement: your own assessment, exposure monitoring and the rules where you work "
    "decide.",
)
