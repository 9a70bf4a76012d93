"""Wind against a published calculation sheet of EN 1991-1-4, and standing computed apart."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.delivery.reference.sending import ROWS
from jobs.delivery.shadow import shadow
from jobs.delivery.wind import Face, Factors, Push, stance
from jobs.delivery.wind_blocks import block_coefficient
from jobs.delivery.wind_pressure import (
    TERRAINS,
    Terrain,
    basic_speed,
    dynamic_pressure_pa,
    peak_pressure,
    terrain_factor,
)
from jobs.delivery.wind_strips import pushes_on, strip_tops_m
from materials.estimator.errors import OutOfRange
from materials.estimator.lines import Term

FACTORS = Factors(Term("wind", 1.5, "", ""), Term("weight", 0.9, "", ""), Term("friction", 0.3, "", ""))
AIR = Term("air", 1.25, "kg/m^3", "")


def metres(value: float) -> Term:
    return Term("length", value, "m", "")


def push(area_m2: float, middle_m: float, pressure_pa: float) -> Push:
    return Push(Term("shadow", area_m2, "m^2", ""), metres(middle_m), Term("pressure", pressure_pa, "Pa", ""))


def face(*pushes: Push, arm_m: float = 0.6) -> Face:
    return Face("front", pushes, Term("cf", 1.3, "", ""), metres(arm_m), metres(1.2))


def stands(speed_m_s: float = 25.0, mass_kg: float = 260.0, area_m2: float = 2.5, factors: Factors = FACTORS):
    on = face(push(area_m2, 1.6, dynamic_pressure_pa(speed_m_s, 1.226)))
    return stance(on, Term("mass", mass_kg, "kg", ""), factors)


@pytest.mark.parametrize(("speed", "expected"), [(20, 245.2), (25, 383.125), (40, 980.8)])
def test_dynamic_pressure(speed, expected):
    # BS 6399-2, from memory: q = 0.613 v².
    assert dynamic_pressure_pa(speed, 1.226) == pytest.approx(expected, rel=1e-5)


def test_peak_pressure_over_the_sea():
    # Published calculation sheet citing EN 1991-1-4 (4.3) to (4.8): vb 25 m/s, z 77.36 m, terrain 0.
    found = peak_pressure(Term("vb", 25, "m/s", ""), TERRAINS["0"], metres(77.36), AIR)
    assert terrain_factor(0.003) == pytest.approx(0.156, abs=0.0006)
    assert found.roughness.value == pytest.approx(1.585, abs=0.003)
    assert found.mean_speed.value == pytest.approx(39.624, abs=0.03)
    assert found.turbulence.value == pytest.approx(0.098, abs=0.001)
    assert found.peak.value / 1000 == pytest.approx(1.658, abs=0.004)


def test_peak_pressure_in_open_country():
    # Computed apart by EN 1991-1-4: vb 22 m/s, z 4 m, terrain II; ce is the pressure over that of vb alone.
    peak = peak_pressure(Term("vb", 22, "m/s", ""), TERRAINS["II"], metres(4.0), AIR).peak.value
    assert peak / 1000 == pytest.approx(0.544662144143, rel=1e-4)
    assert peak / dynamic_pressure_pa(22, 1.25) == pytest.approx(1.8005360137, rel=1e-4)


def test_below_the_least_height_the_wind_is_taken_at_it():
    # EN 1991-1-4 Table 4.1, from memory: in town 10 m.
    low, least = (peak_pressure(Term("vb", 23, "m/s", ""), TERRAINS["IV"], metres(z), AIR) for z in (2.0, 10.0))
    assert low.peak.value == least.peak.value


def test_altitude_adds_a_thousandth_to_a_metre():
    # UK National Annex to EN 1991-1-4, from memory: 1 + 0.001 A.
    found = basic_speed(Term("map", 23, "m/s", ""), Term("per metre", 0.001, "1/m", ""), metres(120))
    assert found.value == pytest.approx(23 * 1.12)


def test_overturning_and_ballast():
    # Computed apart: 25 m/s, cf 1.3, 2.5 m² at 1.6 m, 260 kg, half the base 0.6 m; EN 1990 equilibrium, from memory.
    found = stands()
    assert found.force.value == pytest.approx(1245.15625, rel=1e-4)
    assert found.overturning.value == pytest.approx(1992.25, rel=1e-4)
    assert found.righting.value == pytest.approx(1530.36, rel=1e-4)
    assert found.turning.value == pytest.approx(0.768156606852, rel=1e-4)
    # Friction so high that it cannot slide leaves the ballast against turning.
    rough = Factors(FACTORS.wind, FACTORS.weight, Term("friction", 1.0, "", ""))
    assert stands(factors=rough).ballast.value == pytest.approx(304.121078265, rel=1e-4)
    assert not found.stands_alone


def test_sliding():
    # Computed apart: friction 0.3 of 260 kg against 1245 N; 1.5 times the force wants 635 kg in all.
    found = stands()
    assert found.sliding.value == pytest.approx(0.614525285481, rel=1e-4)
    assert found.sliding.value * found.force.value == pytest.approx(765.18, rel=1e-4)
    assert "sliding" in found.ballast.name
    assert found.ballast.value == pytest.approx(1.5 * 1245.15625 / (0.3 * 9.81) - 260, rel=1e-6)


@pytest.mark.parametrize(
    ("key", "expected"),
    [("force_board", 1.8), ("force_round", 1.2), ("force_round_rough", 0.7), ("force_ball", 0.6)],
)
def test_force_coefficients_as_delivered(key, expected):
    # EN 1991-1-4 7.4.3 (1.8, from memory); IS 875-3:2015 Table 24 (1.2 smooth, 0.7 rough); ball 0.6 from memory.
    (value,) = [row[4] for row in ROWS["wind"] if row[0] == key]
    assert value == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("tall", "expected"), [(1, 1.0), (2, 1.15), (4, 1.3), (0.5, 0.9), (3, 1.225)])
def test_force_coefficient_of_an_upright_block(tall, expected):
    # IS 875-3:2015 Table 23, as a summary of the clause prints it: depth over width 1; between rows linear.
    assert block_coefficient(1.0, 1.0, tall) == pytest.approx(expected, rel=1e-9)


SPEEDS, FACES = st.floats(5, 60), st.floats(0.2, 20)


@settings(deadline=None, max_examples=60)
@given(speed=SPEEDS, area=FACES)
def test_twice_the_wind_is_four_times_the_force(speed, area):
    once, twice = (stands(speed * times, area_m2=area) for times in (1, 2))
    assert twice.force.value == pytest.approx(4 * once.force.value)
    assert twice.turning.value == pytest.approx(once.turning.value / 4)


@settings(deadline=None, max_examples=60)
@given(speed=SPEEDS, mass=st.floats(20, 5000))
def test_with_the_ballast_it_neither_turns_nor_slides(speed, mass):
    found = stands(speed, mass)
    held = stands(speed, mass + found.ballast.value)
    assert held.ballast.value == pytest.approx(0, abs=1e-6)
    assert 0.9 * held.righting.value >= 1.5 * held.overturning.value * (1 - 1e-9)
    assert held.sliding.value >= 1.5 * (1 - 1e-9)


@settings(deadline=None, max_examples=60)
@given(height=st.floats(1, 190), terrain=st.sampled_from(list(TERRAINS.values())))
def test_higher_up_the_wind_never_presses_less(height: float, terrain: Terrain):
    low, high = (
        peak_pressure(Term("vb", 23, "m/s", ""), terrain, metres(z), AIR).peak.value for z in (height, height + 5)
    )
    assert high >= low


@pytest.mark.parametrize(
    ("refused", "told"),
    [
        (lambda: stands(mass_kg=0), "Mass of the piece"),
        (lambda: stands(mass_kg=float("nan")), "Mass of the piece"),
        (lambda: stands(0), "Without wind"),
        (lambda: dynamic_pressure_pa(-3, 1.25), "Wind speed"),
        (lambda: dynamic_pressure_pa(20, 12), "Density of air"),
        (lambda: face(push(1, 1, 400), arm_m=0), "falls over by itself"),
        (lambda: push(0, 1, 400), "Shadow in the wind"),
        (lambda: push(1, 1, -5), "Pressure of the wind"),
        (lambda: strip_tops_m(0, 1), "Height of its top"),
        (lambda: strip_tops_m(250, 1), "Height of its top"),
        (lambda: basic_speed(Term("map", 120, "m/s", ""), Term("per", 0.001, "1/m", ""), metres(0)), "not a gust"),
        (lambda: basic_speed(Term("map", 23, "m/s", ""), Term("per", 0.001, "1/m", ""), metres(9000)), "Altitude"),
        (lambda: peak_pressure(Term("vb", 23, "m/s", ""), TERRAINS["II"], metres(250), AIR), "Height above the ground"),
        (lambda: Factors(Term("w", 0.5, "", ""), FACTORS.weight, FACTORS.friction), "Partial factor on the wind"),
        (lambda: Factors(FACTORS.wind, Term("g", 1.2, "", ""), FACTORS.friction), "Partial factor on the weight"),
        (lambda: Factors(FACTORS.wind, FACTORS.weight, Term("f", 0, "", "")), "Friction of the foot"),
    ],
)
def test_it_refuses_what_cannot_be_screened(refused, told):
    with pytest.raises(OutOfRange, match=told):
        refused()


@pytest.mark.parametrize(
    ("height", "breadth", "tops"),
    [
        (2.0, 2.0, (2.0,)),
        (2.0, 3.0, (2.0,)),
        (3.0, 2.0, (2.0, 3.0)),
        (4.0, 2.0, (2.0, 4.0)),
        (5.0, 2.0, (2.0, 3.0, 5.0)),
        (9.0, 2.0, (2.0, 2 + 5 / 3, 2 + 10 / 3, 7.0, 9.0)),
    ],
)
def test_a_tall_face_is_pressed_in_strips(height, breadth, tops):
    # EN 1991-1-4 7.2.2 and Figure 7.4, from memory: h <= b one part, h <= 2b two, beyond that strips between.
    assert strip_tops_m(height, breadth) == pytest.approx(tops)


def test_what_is_very_thin_is_parted_as_if_it_were_a_tenth_of_its_height_wide():
    # On the safe side: fewer strips, each pressed at its top. No published source.
    assert strip_tops_m(4.0, 0.04) == pytest.approx(strip_tops_m(4.0, 0.4))
    assert len(strip_tops_m(200, 1e-3)) == 10


def test_force_and_moment_are_summed_over_the_strips():
    # Computed apart by the formula: cf 1.3; 500 Pa on 2 m² at 1 m, and 620 Pa on 1 m² at 2.5 m.
    found = stance(face(push(2, 1, 500), push(1, 2.5, 620)), Term("mass", 260.0, "kg", ""), FACTORS)
    assert [each.value for each in found.forces] == pytest.approx([1300, 806])
    assert found.force.value == pytest.approx(2106)
    assert found.overturning.value == pytest.approx(1300 + 2015)
    assert found.height_m == pytest.approx(3315 / 2106)


def pressed(at_m: float) -> Term:
    return peak_pressure(Term("vb", 23, "m/s", ""), TERRAINS["II"], metres(at_m), AIR).peak.term


@settings(deadline=None, max_examples=40)
@given(st.floats(0.3, 3), st.floats(2.0, 30), st.floats(0, 3))
def test_strips_never_push_more_than_the_pressure_at_the_top_or_less_than_at_their_middles(wide, high, plinth):
    # The wind grows with height, so that a strip at the pressure of its top stays between the two.
    board = shadow([[((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))]])
    strips = pushes_on(board, "front", plinth, pressed)
    moment = sum(each.area.value * each.middle.value * each.pressure.value for each in strips)
    assert sum(each.area.value for each in strips) == pytest.approx(wide * high, rel=1e-6)
    assert sum(each.area.value * each.middle.value for each in strips) == pytest.approx(wide * high**2 / 2, rel=1e-6)
    assert moment <= pressed(high + plinth).value * wide * high**2 / 2 * (1 + 1e-9)
    middles = sum(each.area.value * each.middle.value * pressed(each.middle.value + plinth).value for each in strips)
    assert moment >= middles * (1 - 1e-9)


def test_a_block_is_taken_on_the_safe_side():
    # IS 875-3:2015 Table 23: a longer plan and a greater height never lower the coefficient.
    assert block_coefficient(1, 4, 2) == block_coefficient(4, 1, 2) == pytest.approx(1.25)
    assert block_coefficient(1, 1, 0.1) == 0.9
    with pytest.raises(OutOfRange, match="ask an engineer"):
        block_coefficient(1, 1, 21)
