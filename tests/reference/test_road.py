"""The road in Great Britain, vehicles in general, and what a load has to be held against."""

import pytest

from jobs.delivery.crate_parts import Box
from jobs.delivery.passage import Room, into_vehicle
from jobs.delivery.reference.roads import ROAD_RULES, VEHICLES
from jobs.delivery.road import on_the_road, restraint, rule_for
from materials.estimator.lines import Term

ROOM = Room(beside_m=0.1, above_m=0.05, raised_m=0.05)
BY_NAME = {vehicle.name: vehicle for vehicle in VEHICLES}
TALL = Box(2.124, 1.224, 2.574)


@pytest.mark.parametrize(
    ("width_m", "said"),
    [
        (2.5, None),
        (2.8, None),
        (3.2, "police"),
        (3.8, "attendant"),
        (4.5, "not permitted"),
    ],
)
def test_what_a_width_asks_for(width_m, said):
    # Construction and Use Regulations 1986, reg. 82, as Ask the Police and gov.uk summarise it: above 2.9 m notice to
    # the police, above 3.5 m an attendant as well, above 4.3 m not under these rules.
    rule = rule_for("width", width_m, ROAD_RULES)
    assert (rule is None) if said is None else (rule is not None and said in rule.action.lower())
    if said == "police":
        assert "attendant" not in rule.action


@pytest.mark.parametrize(
    ("rear_m", "said"),
    [(0.8, []), (1.5, ["clearly visible"]), (2.5, ["marker boards"]), (3.2, ["police", "attendant", "marker boards"])],
)
def test_what_standing_out_behind_asks_for(rear_m, said):
    # gov.uk, "Overhanging loads on vehicles", after reg. 82(7).
    rule = rule_for("rear", rear_m, ROAD_RULES)
    assert (rule is None) is (not said)
    assert all(word in rule.action for word in said)
    if said == ["marker boards"]:
        assert "attendant" not in rule.action


def test_standing_out_in_front_beyond_two_metres():
    # gov.uk: from 2 to 3.05 m an attendant and marker boards.
    assert rule_for("front", 1.9, ROAD_RULES) is None
    assert {"attendant", "marker boards"} <= set(_words(rule_for("front", 2.5, ROAD_RULES).action))


def _words(sentence: str) -> list[str]:
    return [word for word in ("attendant", "marker boards", "police") if word in sentence]


def test_standing_out_at_one_side():
    # Reg. 82: more than 305 mm at either side needs notice, however narrow the whole.
    assert rule_for("side", 0.305, ROAD_RULES) is None
    assert "olice" in rule_for("side", 0.31, ROAD_RULES).action


def test_what_straps_have_to_hold():
    # DfT and DVSA, Safety of Loads on Vehicles, from memory: 600 kg is 5.886 kN forwards and half of it otherwise.
    mass, whole, half = Term("load", 600.0, "kg", ""), Term("forwards", 1.0, "", ""), Term("sideways", 0.5, "", "")
    forward, sideways = restraint(mass, whole, half)
    assert forward.value == pytest.approx(5.886, rel=0.001)
    assert sideways.value == pytest.approx(2.943, rel=0.001)


def test_a_tall_crate_does_not_pass_low_doors():
    # Common practice, no source: a cast of 2.2 m in a crate with 100 mm clearance goes neither into a Luton van nor
    # upright into a plain container; a high one it passes by so little that the room wanted is not there.
    assert into_vehicle(TALL, 300.0, BY_NAME["Luton van with tail lift"], ROOM).verdict == "no"
    assert into_vehicle(TALL, 300.0, BY_NAME["20 ft container"], ROOM).verdict == "no"
    assert into_vehicle(TALL, 300.0, BY_NAME["40 ft high container"], ROOM).verdict == "no"
    lying = Box(2.424, 1.124, 1.374)
    assert into_vehicle(lying, 300.0, BY_NAME["Luton van with tail lift"], ROOM).verdict == "passes"


def test_a_crate_of_2_95_m_is_no_van_job():
    # Common practice, no source, after reg. 82: 2.95 m wide is a movement that the police are told of.
    wide = Box(3.2, 2.95, 1.5)
    assert all(into_vehicle(wide, 300.0, each, ROOM).verdict == "no" for each in VEHICLES if not each.is_open)
    (width,) = [
        each for each in on_the_road(wide, BY_NAME["Flatbed, articulated"], ROAD_RULES) if each.measure == "width"
    ]
    assert width.value_m == 2.95
    assert "olice" in width.rule.action


def test_a_load_on_a_flatbed_is_measured_from_the_road():
    # 5.03 m is the least clearance under a bridge without a sign, from memory; a deck of 1.35 m leaves 3.68 m.
    flatbed = BY_NAME["Flatbed, articulated"]
    (low,) = [each for each in on_the_road(Box(2, 2, 3.6), flatbed, ROAD_RULES) if each.measure == "height"]
    (high,) = [each for each in on_the_road(Box(2, 2, 3.8), flatbed, ROAD_RULES) if each.measure == "height"]
    assert low.value_m == pytest.approx(4.95)
    assert "bridge" not in low.rule.action
    assert "bridge" in high.rule.action
