"""The pattern: blocks stepped to the form, and what is carved and what is milled."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.form import Station
from materials.estimator.pattern import blocks_for
from materials.estimator.shapes import Box, Cylinder, Frustum, Measured, Sphere, form_of
from materials.estimator.spec import Block, PatternSpec
from tests.materials.estimator.specs import codes, figures, form, has_line, hours, line, worked
from tests.materials.estimator.strategies import solids

BLOCK = Block(2.4, 1.2, 0.6)
CUBE = Block(0.5, 0.5, 0.5)


def test_layers_follow_a_form_that_tapers():
    # A cone 2 m high on 2 m: half-metre layers whose largest cuts are 2.0, 1.5, 1.0 and 0.5 m, square by square.
    assert blocks_for(form_of(Frustum(2.0, 0.0, 2.0)).stations, CUBE).blocks == 16 + 9 + 4 + 1


def test_layers_of_a_box_are_all_alike():
    assert blocks_for(form_of(Box(1.0, 1.0, 2.0)).stations, CUBE).blocks == 4 * 4


def test_a_hair_of_floating_point_buys_no_block():
    assert blocks_for(form_of(Box(0.1 + 0.2, 0.3, 0.3)).stations, Block(0.3, 0.3, 0.3)).blocks == 1


def test_the_block_is_turned_where_that_saves():
    # 2.4 m long and 1.2 m wide either way round.
    assert blocks_for(form_of(Box(1.2, 2.4, 0.6)).stations, BLOCK).blocks == 1


def test_a_block_stands_on_its_end_where_that_saves():
    stack = blocks_for(form_of(Cylinder(0.6, 2.4)).stations, BLOCK)
    assert (stack.blocks, stack.layers, stack.upright_m) == (1, 1, 2.4)


def test_a_block_lies_flat_where_it_makes_no_difference():
    assert blocks_for(form_of(Sphere(1.6)).stations, BLOCK).upright_m == 0.6


@settings(max_examples=100, derandomize=True, deadline=None, database=None)
@given(shape=solids)
def test_the_blocks_hold_the_form(shape):
    formed = form_of(shape)
    bought = blocks_for(formed.stations, BLOCK).blocks * 2.4 * 1.2 * 0.6
    assert bought >= formed.volume_m3 * (1 - 1e-9)


@settings(max_examples=100, derandomize=True, deadline=None, database=None)
@given(sides=st.tuples(*[st.floats(min_value=0.1, max_value=6.0)] * 3))
def test_the_blocks_of_a_box_are_the_fewest_of_all_ways(sides):
    def upward(x: float) -> int:
        return max(1, -int(-(x - 1e-9) // 1))

    length, width, height = sides
    ways = []
    for upright, one, other in ((0.6, 1.2, 2.4), (1.2, 0.6, 2.4), (2.4, 0.6, 1.2)):
        layer = min(
            upward(length / one) * upward(width / other),
            upward(length / other) * upward(width / one),
        )
        ways.append(upward(height / upright) * layer)
    assert blocks_for(form_of(Box(*sides)).stations, BLOCK).blocks == min(ways)


def test_it_refuses_a_form_without_cuts():
    with pytest.raises(Missing, match="Cuts through the form is missing; give at least its foot and its top"):
        blocks_for([Station(0.0, 1.0, 1.0)], BLOCK)


def test_nothing_is_laid_up_on_bare_foam():
    with pytest.raises(OutOfRange) as refused:
        PatternSpec("carved", BLOCK, 5.0, 0, 5)
    assert str(refused.value) == (
        "Barrier coats is 0 coats; it must be between 1 and 20 coats. Styrene from the resin dissolves polystyrene "
        "foam, so nothing may be laid up on bare foam."
    )


def test_a_milled_pattern_is_sent_out_and_finished_by_hand():
    carved, milled = worked(), worked(method="milled")
    assert not has_line(carved, "pattern", "cnc_milling")
    assert line(milled, "pattern", "cnc_milling").buy == line(milled, "pattern", "foam_block").buy
    done = {each.step for each in milled.hours if each.stage == "pattern"}
    assert done == {"hand_finish", "hard_coat", "fair", "seal_and_wax"}
    by_hand = hours(carved, "pattern", "block_up").likely + hours(carved, "pattern", "carve").likely
    assert hours(milled, "pattern", "hand_finish").likely < by_hand


def test_foam_stays_as_solid_and_is_bought_as_blocks():
    foam = line(worked(), "pattern", "foam_block")
    assert foam.net == pytest.approx(form_of(Sphere(1.6)).volume_m3)
    assert foam.buy == pytest.approx(6 * 2.4 * 1.2 * 0.6)
    assert "offcuts not used again" in foam.terms[0].origin


def test_a_pattern_weighs_its_foam_and_its_filler():
    # Common practice, no source: 20 kg/m3 of foam, 1.4 kg/m2 to a millimetre of filler.
    found = figures(worked()).pattern
    assert found.mass_kg == pytest.approx(20 * found.solid_m3 + 1.4 * 5.0 * form_of(Sphere(1.6)).area_m2)


def test_where_the_volume_is_not_known_the_usual_waste_stands_in():
    taken = worked(form(Measured(8.0, None, 1.6, 1.6, 1.6)))
    assert figures(taken).volume_m3 is None
    assert figures(taken).pattern.yield_fraction == pytest.approx(0.45)
    assert "volume_unknown" in codes(taken)


def test_a_pattern_without_filler_or_wax_asks_for_none():
    taken = worked(filler_mm=0.0, wax_coats=0)
    assert not has_line(taken, "pattern", "plaster_filler")
    assert not has_line(taken, "pattern", "wax")
