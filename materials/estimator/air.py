"""Styrene in the air of the workshop: what the work gives off, and what air it would take.

Emission factors are those of the United States' rule for reinforced plastics
(40 CFR 63, Subpart WWWW, Table 1), from memory; its limits invert to them, and
the separate rule for boats agrees within four per cent. Ventilation is the
usual dilution formula, Q = G K / C (ACGIH, Industrial Ventilation). The peak
while resin is laid is what people breathe; a day's average hides it.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term
from materials.estimator.ranges import one_of, within
from materials.estimator.reckoned import Reckoned, product

STYRENE_G_MOL = 104.152
SHORT_MIN = 15.0
_R, _ZERO_C_K, _ATMOSPHERE_PA = 8.314462618, 273.15, 101_325.0


@dataclass(frozen=True, slots=True)
class Process:
    """A way of putting resin on; kilograms of styrene given off to one applied, over its styrene share h.

    Below a share of 0.33 it is ``thin`` × h, above it ``thick`` × h − ``less`` [kg/kg].
    """

    words: str
    thin: float
    thick: float
    less: float
    source: str


_MEMORY = "40 CFR 63, Subpart WWWW, Table 1, from memory"
PROCESSES: Mapping[str, Process] = {
    "resin_hand": Process("resin by brush and roller", 0.126, 0.286, 0.0529, f"{_MEMORY}; its limits invert to it"),
    "resin_spray": Process("resin sprayed", 0.169, 0.714, 0.18, f"{_MEMORY}; nothing else seen supports it"),
    "gel_hand": Process(
        "gel coat by brush",
        0.185,
        0.4506,
        0.0505,
        f"{_MEMORY}, for gel coat put on without a mist; nothing supports it",
    ),
    "gel_spray": Process("gel coat sprayed", 0.445, 1.03646, 0.195, f"{_MEMORY}; its limits invert to it"),
}
_THIN_UP_TO = 0.33


def emission_factor(process: str, styrene: float, filler: float = 0.0) -> float:
    """Styrene given off to a kilogram applied.

    Parameters
    ----------
    process : str
        A key of ``PROCESSES``.
    styrene : float
        Styrene over neat resin by mass [dimensionless].
    filler : float
        Filler over filled resin by mass [dimensionless].

    Returns
    -------
    float
        [kg/kg]

    Raises
    ------
    UnknownChoice
        For another process.
    OutOfRange
        For a styrene share no resin has, or more filler than can be mixed.

    References
    ----------
    40 CFR 63, Subpart WWWW, Table 1, from memory; filled resin by COMAR 26.11.19.26-1.
    """
    one_of("Process", process, PROCESSES)
    within("Styrene in the resin", styrene, "", 0.05, 0.65, "It is a share of the mass, such as 0.35.")
    within("Filler in the resin", filler, "", 0, 0.7, "It is a share of the mass, such as 0.30.")
    known = PROCESSES[process]
    neat = known.thin * styrene if styrene < _THIN_UP_TO else known.thick * styrene - known.less
    return neat * (1 - filler)


def mg_m3_of_ppm(ppm: float, molar_g_mol: float, temperature_c: float) -> float:
    """A share of a gas in air as a mass.

    Parameters
    ----------
    ppm : float
        Parts in a million by volume [ppm].
    molar_g_mol : float
        Molar mass of the gas [g/mol].
    temperature_c : float
        Of the air [degC].

    Returns
    -------
    float
        [mg/m^3]; by definition, at 101 325 Pa. EH40 rounds 100 ppm of styrene, 433, to 430.

    Raises
    ------
    OutOfRange
        For a share below nothing, a gas that is none, or air of no workshop.
    """
    within("Share in air", ppm, "ppm", 0, 1e6)
    within("Molar mass", molar_g_mol, "g/mol", 1, 2000)
    within("Temperature of the air", temperature_c, "°C", -20, 60)
    litres = 1000 * _R * (temperature_c + _ZERO_C_K) / _ATMOSPHERE_PA
    return ppm * molar_g_mol / litres


def dilution_m3_h(emission_g_h: float, mixing: float, limit_mg_m3: float) -> float:
    """Fresh air that keeps an emission below a limit: Q = G K / C.

    Parameters
    ----------
    emission_g_h : float
        Given off [g/h].
    mixing : float
        Factor for imperfect mixing, 3 to 10 [dimensionless].
    limit_mg_m3 : float
        What is allowed [mg/m^3].

    Returns
    -------
    float
        [m^3/h]; ACGIH, Industrial Ventilation, the dilution formula.

    Raises
    ------
    OutOfRange
        For an emission below nothing, mixing better than perfect, or no limit.
    """
    within("Given off", emission_g_h, "g/h", 0, 1e7)
    within("Factor for imperfect mixing", mixing, "", 1, 20)
    within("Limit", limit_mg_m3, "mg/m³", 1e-6, 1e6)
    return 1000 * emission_g_h * mixing / limit_mg_m3


def build_up_mg_m3(emission_g_h: float, mixing: float, flow_m3_h: float, room_m3: float, hours: float) -> float:
    """What a steady emission comes to in a room after some time, from clean air.

    Parameters
    ----------
    emission_g_h : float
        Given off [g/h].
    mixing : float
        Factor for imperfect mixing [dimensionless].
    flow_m3_h : float
        Fresh air [m^3/h].
    room_m3 : float
        The room [m^3].
    hours : float
        For how long [h].

    Returns
    -------
    float
        (G K / Q)(1 − exp(−Q t / K V)) [mg/m^3]; closed form of the dilution equation.

    Raises
    ------
    OutOfRange
        For a room, flow or time that is none.
    """
    _check_room(mixing, flow_m3_h, room_m3)
    within("Given off", emission_g_h, "g/h", 0, 1e7)
    within("Time", hours, "h", 0, 1000)
    return 1000 * emission_g_h * mixing / flow_m3_h * -math.expm1(-flow_m3_h * hours / (mixing * room_m3))


def purge_h(mixing: float, flow_m3_h: float, room_m3: float, there_mg_m3: float, wanted_mg_m3: float) -> float:
    """How long a room takes to clear after the work has stopped.

    Parameters
    ----------
    mixing : float
        Factor for imperfect mixing [dimensionless].
    flow_m3_h : float
        Fresh air [m^3/h].
    room_m3 : float
        The room [m^3].
    there_mg_m3, wanted_mg_m3 : float
        In the air at the end, and what it is to fall to [mg/m^3].

    Returns
    -------
    float
        (K V / Q) ln(C1 / C2), 0 where it is there already [h]; closed form of the dilution equation.

    Raises
    ------
    OutOfRange
        For a room or flow that is none, or clean air wanted to the last trace.
    """
    _check_room(mixing, flow_m3_h, room_m3)
    within("In the air", there_mg_m3, "mg/m³", 0, 1e7)
    within("Wanted in the air", wanted_mg_m3, "mg/m³", 1e-6, 1e7)
    if there_mg_m3 <= wanted_mg_m3:
        return 0.0
    return mixing * room_m3 / flow_m3_h * math.log(there_mg_m3 / wanted_mg_m3)


def _check_room(mixing: float, flow_m3_h: float, room_m3: float) -> None:
    within("Factor for imperfect mixing", mixing, "", 1, 20)
    within("Fresh air", flow_m3_h, "m³/h", 1e-3, 1e7)
    within("Room", room_m3, "m³", 1, 1e6)


@dataclass(frozen=True, slots=True)
class DaysWork:
    """What is put on in a day: amount [kg], process, styrene and filler by mass, rate while it is laid, shift [h]."""

    amount: Reckoned
    process: str
    styrene: Term
    filler: Term
    rate: Reckoned
    shift: Term


@dataclass(frozen=True, slots=True)
class Room:
    """Where: volume [m^3], air changes it has [1/h], factor for imperfect mixing, temperature [degC]."""

    volume: Term
    changes: Term
    mixing: Term
    temperature: Term


@dataclass(frozen=True, slots=True)
class AirLimits:
    """Against what: the studio's target, the short-time limit [ppm], and the most air changes dilution can claim."""

    target: Term
    short: Term
    believable: Term


@dataclass(frozen=True, slots=True)
class AirCheck:
    """The day's air.

    Attributes
    ----------
    given_off : Reckoned
        Styrene in the day [g].
    average, peak : Reckoned
        Over the shift, and while resin is laid [g/h].
    laying : Reckoned
        How long it is laid, a quarter of an hour at least [min].
    air_average, air_peak : Reckoned
        Fresh air that keeps the average under the target, and the peak under the short-time limit [m^3/h].
    needed : Reckoned
        The larger of them in changes of the room's air [1/h].
    reached : Reckoned
        At the end of laying with the air the room has [ppm].
    purge : Reckoned
        From there to the target, after the work has stopped [min].
    believable : bool
        Whether so many air changes can be believed of dilution.
    over : bool
        Whether the room as it is goes over the short-time limit.
    """

    given_off: Reckoned
    average: Reckoned
    peak: Reckoned
    laying: Reckoned
    air_average: Reckoned
    air_peak: Reckoned
    needed: Reckoned
    reached: Reckoned
    purge: Reckoned
    believable: bool
    over: bool


def check_air(work: DaysWork, room: Room, limits: AirLimits) -> AirCheck:
    """Work out the day's air.

    Parameters
    ----------
    work : DaysWork
    room : Room
    limits : AirLimits

    Returns
    -------
    AirCheck
        Sources as at the head of this file.

    Raises
    ------
    OutOfRange
        For work, a room or a limit that cannot be worked with.
    EstimatorError
        For a room without any fresh air.
    """
    within("Length of the shift", work.shift.value, "h", 0.25, 24)
    within("Resin laid in an hour", work.rate.value, "kg/h", 1e-3, 1e5)
    if room.changes.value <= 0:
        raise EstimatorError("air changes", room.changes.value, "A room without fresh air is no place to lay up resin.")
    known = PROCESSES[work.process]
    factor = Term(
        f"styrene to a kilogram of {known.words}",
        1000 * emission_factor(work.process, work.styrene.value, work.filler.value),
        "g/kg",
        f"{known.thick:g} × styrene − {known.less:g} (below {_THIN_UP_TO:g}: {known.thin:g} × styrene), less the "
        f"filler: {known.source}",
    )
    given_off = product("styrene in the day", "g", [work.amount.term, factor])
    average = product("on average over the shift", "g/h", [given_off.term], [work.shift])
    hour = Term("minutes to an hour", 60.0, "min/h", "by definition")
    quarter = Term("a quarter of an hour", SHORT_MIN, "min", "what the short-time limit is reckoned over")
    laying = Reckoned(
        "time it is given off in",
        max(60 * work.amount.value / work.rate.value, SHORT_MIN),
        "min",
        f"the longer of {quarter.label} and {work.amount.name} × {hour.label} ÷ {work.rate.name}",
        (quarter, work.amount.term, hour, work.rate.term),
    )
    peak = product("at the peak", "g/h", [given_off.term, hour], [laying.term])
    target, short = _limit(limits.target, room.temperature), _limit(limits.short, room.temperature)
    air_average = _air("fresh air for the average", average, room.mixing, target)
    air_peak = _air("fresh air for the peak", peak, room.mixing, short)
    most = max(air_average, air_peak, key=lambda air: air.value)
    needed = product("air changes that would take", "1/h", [most.term], [room.volume])
    flow = product("fresh air the room has", "m3/h", [room.volume, room.changes])
    reached = _reached(peak, laying, flow, room)
    there = mg_m3_of_ppm(reached.value, STYRENE_G_MOL, room.temperature.value)
    cleared = purge_h(room.mixing.value, flow.value, room.volume.value, there, target.value)
    purge = Reckoned(
        "clearing after the work",
        60 * cleared,
        "min",
        "60 × mixing × room ÷ fresh air × ln(reached ÷ target)",
        (room.mixing, room.volume, flow.term, reached.term, limits.target),
    )
    return AirCheck(
        given_off=given_off,
        average=average,
        peak=peak,
        laying=laying,
        air_average=air_average,
        air_peak=air_peak,
        needed=needed,
        reached=reached,
        purge=purge,
        believable=needed.value <= limits.believable.value,
        over=reached.value > limits.short.value,
    )


def _limit(ppm: Term, temperature: Term) -> Term:
    value = mg_m3_of_ppm(ppm.value, STYRENE_G_MOL, temperature.value)
    return Term(ppm.label, value, "mg/m^3", f"{ppm.value:g} ppm of styrene at {temperature.value:g} °C; {ppm.origin}")


def _air(name: str, emission: Reckoned, mixing: Term, limit: Term) -> Reckoned:
    value = dilution_m3_h(emission.value, mixing.value, limit.value)
    words = f"1 000 × {emission.name} × {mixing.label} ÷ {limit.label}"
    return Reckoned(name, value, "m3/h", words, (emission.term, mixing, limit))


def _reached(peak: Reckoned, laying: Reckoned, flow: Reckoned, room: Room) -> Reckoned:
    mass = build_up_mg_m3(peak.value, room.mixing.value, flow.value, room.volume.value, laying.value / 60)
    to_a_ppm = Term(
        "milligrams to a ppm", mg_m3_of_ppm(1, STYRENE_G_MOL, room.temperature.value), "mg/m^3", "molar mass"
    )
    return Reckoned(
        "in the air when it is laid",
        mass / to_a_ppm.value,
        "ppm",
        "1 000 × peak × mixing ÷ fresh air × (1 − exp(−fresh air × time ÷ (mixing × room))) ÷ milligrams to a ppm",
        (
            peak.term,
            room.mixing,
            flow.term,
            laying.term,
            room.volume,
            to_a_ppm,
        ),
    )
