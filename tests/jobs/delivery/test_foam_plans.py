"""Foam blocks: blanks that hold the form, blocks that hold the blanks."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.delivery.foam import blanks_of, foam_plan
from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.form import Station
from materials.estimator.pattern import blocks_for
from materials.estimator.shapes import Box, Ellipsoid, Frustum, form_of
from materials.estimator.spec import Block

BLOCK = Block(2.4, 1.2, 0.6)


def test_an_ellipsoid_takes_one_block_a_layer():
    # Computed apart: 2.2 x 1.1 x 3.0 m from blocks of 2.4 x 1.2 x 0.6 m, five layers, 8.64 m³ bought.
    plan = foam_plan(form_of(Ellipsoid(1.1, 0.55, 1.5)).stations, BLOCK, kerf_m=0.0015)
    assert plan.cutting.count == 5
    assert plan.bought_m3 == pytest.approx(8.64)


def test_small_layers_share_a_block():
    # Geometry: layers of 1.1 m square, two on the face of a block of 2.4 × 1.2 m.
    stations = form_of(Box(1.1, 1.1, 2.4)).stations
    plan = foam_plan(stations, BLOCK, kerf_m=0.0015)
    assert len(plan.blanks) == 4
    assert plan.cutting.count == 2 < blocks_for(stations, BLOCK).blocks + 1


def test_a_layer_larger_than_a_block_is_made_of_several():
    plan = foam_plan(form_of(Box(3.0, 1.0, 0.6)).stations, BLOCK, kerf_m=0.0015)
    names = [each.part.name for sheet in plan.cutting.sheets for each in sheet.laid]
    assert sorted(names) == ["layer 1, one of 2", "layer 1, one of 2"]


def test_the_last_layer_is_as_thick_as_what_is_left():
    blanks = blanks_of(form_of(Box(1.0, 1.0, 1.5)).stations, 0.6, 0.02)
    assert [round(blank.thick_m, 6) for blank in blanks] == [0.6, 0.6, 0.3]
    assert [round(blank.length_m, 6) for blank in blanks] == [1.04, 1.04, 1.04]


@settings(deadline=None, max_examples=30)
@given(bottom=st.floats(0.2, 2.2), top=st.floats(0.2, 2.2), height=st.floats(0.3, 3), patterns=st.integers(1, 3))
def test_no_plan_takes_less_foam_than_the_blanks_have(bottom, top, height, patterns):
    stations = form_of(Frustum(bottom, top, height)).stations
    plan = foam_plan(stations, BLOCK, kerf_m=0.0015, patterns=patterns)
    blanks_m3 = patterns * sum(blank.thick_m * blank.length_m * blank.width_m for blank in plan.blanks)
    assert plan.bought_m3 >= blanks_m3 - 1e-9
    assert plan.cutting.count >= plan.cutting.floor
    assert sum(blank.thick_m for blank in plan.blanks) == pytest.approx(height)
    assert all(blank.length_m >= min(bottom, top) - 1e-9 for blank in plan.blanks)


@pytest.mark.parametrize(
    ("refused", "error", "told"),
    [
        (lambda: blanks_of([Station(0, 1, 1)], 0.6, 0.0), Missing, "Cuts through the form"),
        (lambda: blanks_of(form_of(Box(1, 1, 1)).stations, 0.0, 0.0), OutOfRange, "Thickness of a layer"),
        (lambda: blanks_of(form_of(Box(1, 1, 1)).stations, 0.6, -1.0), OutOfRange, "Room to carve"),
        (lambda: foam_plan(form_of(Box(1, 1, 1)).stations, BLOCK, kerf_m=0.001, patterns=0), OutOfRange, "Patterns"),
        (lambda: foam_plan(form_of(Box(1, 1, 1)).stations, BLOCK, kerf_m=0.001, patterns=99), OutOfRange, "in batches"),
    ],
)
def test_it_refuses_what_cannot_be_cut(refused, error, told):
    with pytest.raises(error, match=told):
        refused()
