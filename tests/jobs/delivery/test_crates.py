"""Crates: what holds whatever goes in, and what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.delivery.crate import WAYS, bays, laid, solid_wood_rule
from jobs.delivery.crate_parts import Box
from jobs.delivery.passage import Door, Passage, Room, Vehicle, into_vehicle, through_door
from jobs.delivery.reference.roads import ROAD_RULES, VEHICLES
from jobs.delivery.road import on_the_road, restraint, rule_for
from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice
from tests.jobs.delivery.samples import build, crate_of, term

PIECE = Box(1.8, 0.9, 2.2)
ROOM = Room(beside_m=0.1, above_m=0.05, raised_m=0.05)
SIDES = st.floats(0.1, 4)


@settings(deadline=None, max_examples=60)
@given(length=SIDES, width=SIDES, height=SIDES, way=st.sampled_from(list(WAYS)), clearance=st.floats(0.02, 0.3))
def test_a_crate_holds_its_piece_with_the_clearance_all_round(length, width, height, way, clearance):
    piece = Box(length, width, height)
    crate = crate_of(piece, way=way, clearance=clearance)
    stands = laid(piece, way)
    assert sorted((stands.length_m, stands.width_m, stands.height_m)) == sorted((length, width, height))
    assert stands.length_m >= stands.width_m
    for inner, outer, held in zip(_sides(crate.inside), _sides(crate.outside), _sides(stands), strict=True):
        assert inner == pytest.approx(held + 2 * clearance)
        assert outer > inner
    assert crate.gross.value == pytest.approx(crate.mass.value + 60.0)
    longest = max(_sides(crate.outside))
    assert all(0 < member.length_m <= longest for member in (*crate.battens, crate.skids))


def _sides(box: Box) -> tuple[float, float, float]:
    return box.length_m, box.width_m, box.height_m


@settings(deadline=None, max_examples=30)
@given(mass=st.floats(1, 2000))
def test_a_heavier_piece_never_has_fewer_pads(mass):
    light, heavy = (crate_of(PIECE, mass_kg=each) for each in (mass, 2 * mass))
    assert all(more.count >= fewer.count for fewer, more in zip(light.pads, heavy.pads, strict=True))
    below, ends, sides = heavy.pads
    assert ends.area.value == pytest.approx(below.area.value)
    assert sides.area.value == pytest.approx(below.area.value / 2)


def test_every_mass_shows_its_working():
    crate = crate_of(PIECE)
    for each in (*crate.masses, crate.mass, crate.gross, *crate.sizes):
        assert each.formula
        assert all(each_term.origin for each_term in each.terms)
    assert crate.mass.value == pytest.approx(sum(each.value for each in crate.masses))


def test_bays_are_about_as_wide_as_asked():
    assert [bays(span, 0.6) for span in (0.2, 0.8, 1.0, 1.8, 2.0)] == [1, 1, 2, 3, 3]


@pytest.mark.parametrize(
    ("refused", "error", "told"),
    [
        (lambda: crate_of(PIECE, way="upside down"), UnknownChoice, "Way in the crate"),
        (lambda: crate_of(PIECE, opening="floor"), UnknownChoice, "Opening"),
        (lambda: crate_of(PIECE, mass_kg=0), OutOfRange, "Mass of the piece"),
        (lambda: crate_of(PIECE, mass_kg=float("inf")), OutOfRange, "Mass of the piece"),
        (lambda: crate_of(PIECE, clearance=2.0), OutOfRange, "Clearance"),
        (lambda: build(plywood=0.2), OutOfRange, "Plywood"),
        (lambda: build(timber_density=5), OutOfRange, "Timber_density"),
        (lambda: build(pad_pressure=0), OutOfRange, "Pad_pressure"),
        (lambda: Box(0, 1, 1), OutOfRange, "Length"),
        (lambda: solid_wood_rule(0, leaves_the_country=True), OutOfRange, "Thickness of the timber"),
        (lambda: Door("gate", 0, 2), OutOfRange, "gate, clear width"),
        (lambda: Vehicle("van", PIECE, None, 0, 0.5, 2, is_open=False), OutOfRange, "van, payload"),
        (lambda: Room(-1, 0, 0), OutOfRange, "Room wanted beside"),
        (lambda: Room(0, 0, 3), OutOfRange, "pallet truck"),
        (lambda: into_vehicle(PIECE, 0, VEHICLES[0], ROOM), OutOfRange, "Mass of the crate"),
        (lambda: rule_for("depth", 1, ROAD_RULES), UnknownChoice, "Measure on the road"),
        (lambda: rule_for("width", -1, ROAD_RULES), OutOfRange, "Overall width"),
        (
            lambda: restraint(term("load", 0, "kg"), term("f", 1, ""), term("s", 0.5, "")),
            OutOfRange,
            "Mass of the load",
        ),
        (lambda: restraint(term("load", 9, "kg"), term("f", 0, ""), term("s", 0.5, "")), OutOfRange, "F is 0"),
    ],
)
def test_it_refuses_what_no_crate_is(refused, error, told):
    with pytest.raises(error, match=told):
        refused()
    assert issubclass(error, EstimatorError)


def passage(width_m: float, height_m: float) -> Passage:
    return through_door(Box(2.0, 1.0, 1.5), Door("gate", width_m, height_m), ROOM)


def test_a_door_is_passed_with_room_barely_or_not():
    # 1.0 m wide with 0.1 m beside it; 1.5 m high, 0.05 m more on a pallet truck, and 0.05 m above that.
    assert passage(1.1, 1.6).verdict == "passes"
    assert passage(1.05, 1.6).verdict == "tight"
    assert passage(1.1, 1.57).verdict == "tight"
    assert passage(0.99, 1.6).verdict == "no"
    assert passage(1.1, 1.5).verdict == "no"
    assert passage(1.05, 1.6).closest.name == "width of the door"


@settings(deadline=None, max_examples=60)
@given(length=SIDES, width=SIDES, height=SIDES)
def test_a_larger_crate_never_goes_where_a_smaller_does_not(length, width, height):
    order = ["no", "tight", "passes"]
    for vehicle in VEHICLES:
        small = into_vehicle(Box(length, width, height), 100, vehicle, ROOM)
        large = into_vehicle(Box(length + 0.2, width + 0.2, height + 0.2), 100, vehicle, ROOM)
        assert order.index(large.verdict) <= order.index(small.verdict)


def test_a_crate_too_heavy_for_the_payload_is_refused_by_it():
    van = VEHICLES[0]
    small = Box(1.0, 0.8, 0.8)
    assert into_vehicle(small, van.payload_kg, van, ROOM).verdict == "passes"
    assert into_vehicle(small, van.payload_kg + 1, van, ROOM).verdict == "no"


@settings(deadline=None, max_examples=40)
@given(width=st.floats(0.5, 6), more=st.floats(0, 2))
def test_a_wider_load_never_meets_a_lower_limit(width, more):
    def limit(value: float) -> float:
        rule = rule_for("width", value, ROAD_RULES)
        return rule.above_m if rule else 0.0

    assert limit(width + more) >= limit(width)


def test_a_closed_vehicle_is_measured_as_it_is():
    van = next(each for each in VEHICLES if not each.is_open)
    assert {each.measure for each in on_the_road(PIECE, van, ROAD_RULES)} == {"width", "height"}
