"""Laws of ventilation, the day's air as a whole, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.estimator.air import (
    AirCheck,
    AirLimits,
    DaysWork,
    Room,
    build_up_mg_m3,
    check_air,
    dilution_m3_h,
    emission_factor,
    mg_m3_of_ppm,
    purge_h,
)
from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned

LIMITS = AirLimits(Term("target", 50, "ppm", ""), Term("short", 250, "ppm", ""), Term("believable", 20, "1/h", ""))


def checked(kg: float = 15, rate: float = 20, volume: float = 400, changes: float = 6, shift: float = 8) -> AirCheck:
    work = DaysWork(
        Reckoned("all of it", kg, "kg", "", ()),
        "resin_hand",
        Term("styrene", 0.35, "", ""),
        Term("filler", 0, "", ""),
        Reckoned("laid in an hour", rate, "kg/h", "", ()),
        Term("shift", shift, "h", ""),
    )
    room = Room(
        Term("room", volume, "m^3", ""), Term("changes", changes, "1/h", ""), Term("mixing", 3, "", ""),
        Term("temperature", 20, "°C", ""),
    )  # fmt: skip
    return check_air(work, room, LIMITS)


def test_the_day_is_worked_by_its_average_and_its_peak() -> None:
    found = checked()
    # 15 kg at 47.2 g/kg; over 8 h, and at 20 kg/h for 45 min. Dilution as in the published example: 944 g/h, K 3.
    assert found.given_off.value == pytest.approx(708)
    assert found.average.value == pytest.approx(88.5)
    assert found.peak.value == pytest.approx(944)
    assert found.laying.value == pytest.approx(45)
    # The example's molar volume is rounded to seven figures.
    assert found.air_peak.value == pytest.approx(13081.7452 / 5, rel=1e-5)
    assert found.air_average.value == pytest.approx(13081.7452 * 88.5 / 944, rel=1e-5)
    assert found.needed.value == pytest.approx(found.air_peak.value / 400)
    assert found.believable


def test_a_small_room_is_told_that_dilution_is_not_believable() -> None:
    found = checked(volume=60)
    assert not found.believable
    assert found.over


def test_what_is_reached_is_the_build_up_and_clears_in_the_purge_time() -> None:
    found = checked()
    peak = build_up_mg_m3(944, 3, 2400, 400, 0.75)
    assert found.reached.value == pytest.approx(peak / mg_m3_of_ppm(1, 104.152, 20))
    wanted = mg_m3_of_ppm(50, 104.152, 20)
    assert peak * math.exp(-2400 * found.purge.value / 60 / (3 * 400)) == pytest.approx(wanted)


@given(st.floats(1, 5000), st.floats(1, 10), st.floats(50, 50_000), st.floats(20, 5000), st.floats(0.01, 24))
def test_the_air_never_holds_more_than_the_steady_state(
    emission: float, mixing: float, flow: float, room: float, hours: float
) -> None:
    there = build_up_mg_m3(emission, mixing, flow, room, hours)
    steady = 1000 * emission * mixing / flow
    assert 0 <= there <= steady * (1 + 1e-9)
    assert there <= build_up_mg_m3(emission, mixing, flow, room, hours * 2) * (1 + 1e-9)
    assert dilution_m3_h(emission, mixing, steady) == pytest.approx(flow)


@given(st.floats(0.1, 0.65), st.floats(0.1, 0.65), st.sampled_from(["resin_hand", "gel_spray"]))
def test_more_styrene_never_gives_off_less(one: float, other: float, process: str) -> None:
    low, high = sorted((one, other))
    assert emission_factor(process, low) <= emission_factor(process, high) + 0.003


def test_clean_air_needs_no_purge() -> None:
    assert purge_h(3, 1000, 400, 100, 200) == 0


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(UnknownChoice, match="resin_hand"):
        emission_factor("poured", 0.35)
    with pytest.raises(OutOfRange, match="Styrene in the resin"):
        emission_factor("resin_hand", 35)
    with pytest.raises(OutOfRange, match="Filler in the resin"):
        emission_factor("resin_hand", 0.35, 0.9)
    with pytest.raises(OutOfRange, match="Limit"):
        dilution_m3_h(10, 3, 0)
    with pytest.raises(OutOfRange, match="imperfect mixing"):
        dilution_m3_h(10, 0.5, 100)
    with pytest.raises(OutOfRange, match="Room"):
        build_up_mg_m3(10, 3, 100, 0, 1)
    with pytest.raises(OutOfRange, match="Wanted in the air"):
        purge_h(3, 100, 100, 10, 0)
    with pytest.raises(OutOfRange, match="Share in air"):
        mg_m3_of_ppm(-1, 104, 20)
    with pytest.raises(EstimatorError, match="without fresh air"):
        checked(changes=0)
    with pytest.raises(OutOfRange, match="shift"):
        checked(shift=0)
    with pytest.raises(OutOfRange, match="Resin laid in an hour"):
        checked(rate=0)
