"""Where a piece of a mould balances, against the centroids of statics handbooks, and loads that were weighed."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.delivery.balance import balanced, weighed
from jobs.delivery.mould_pieces import MouldMasses, even_patch, piece_parts
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term
from materials.estimator.shapes.curved import Cap, Sphere
from materials.estimator.shapes.straight import Cylinder
from tests.jobs.delivery.lifting_samples import part

MASSES = MouldMasses(
    Term("skin", 40, "kg", "given"), Term("returns", 6, "kg", "given"), Term("frame of a piece", 3, "kg", "given")
)


def out_of_the_axis_m(patch: object, width_m: float) -> float:
    """How far from the upright axis the skin balances: the outermost point faces front, half the width away."""
    return width_m / 2 - (patch.extents_m[1] / 2 + patch.skin_m[1])  # type: ignore[attr-defined]


def test_half_a_ball_balances_half_its_radius_from_the_parting_plane() -> None:
    # Centroid of a hemispherical shell, r/2: handbooks of statics, from memory (Meriam and Kraige, table D/3).
    patch = even_patch(Sphere(1.2).form(), 2)
    assert out_of_the_axis_m(patch, 1.2) == pytest.approx(0.3, rel=2e-3)
    assert patch.skin_m[2] == pytest.approx(0.6, rel=1e-3)
    assert patch.extents_m == pytest.approx((1.2, 0.6, 1.2))
    # Its returns stand in the parting plane, the far face of its extents.
    assert patch.seams_m[1] == pytest.approx(0.3)
    assert not patch.is_measured


def test_half_a_closed_drum_balances_as_its_arc_and_its_two_half_discs() -> None:
    # Arc 2r/pi, half disc 4r/(3 pi): handbooks of statics, from memory; summed by area.
    radius, height = 0.5, 1.4
    arc_m2, ends_m2 = math.pi * radius * height, math.pi * radius**2
    expected = (arc_m2 * 2 * radius / math.pi + ends_m2 * 4 * radius / (3 * math.pi)) / (arc_m2 + ends_m2)
    patch = even_patch(Cylinder(2 * radius, height).form(), 2)
    assert out_of_the_axis_m(patch, 2 * radius) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("pieces", [3, 4, 6])
def test_a_wedge_of_a_ball_balances_further_out_the_narrower_it_is(pieces: int) -> None:
    # Half the angle a = pi/n: pi r/4 × sin a ÷ a, by integration of a sphere's wedge.
    half = math.pi / pieces
    patch = even_patch(Sphere(2.0).form(), pieces)
    assert out_of_the_axis_m(patch, 2.0) == pytest.approx(math.pi / 4 * math.sin(half) / half, rel=2e-3)


@given(st.integers(1, 12), st.sampled_from([Sphere(1.2), Cylinder(0.8, 2.0), Cap(1.6, 0.4)]))
def test_even_pieces_sum_to_their_mould_and_balance_within_themselves(pieces: int, shape: object) -> None:
    patch = even_patch(shape.form(), pieces)  # type: ignore[attr-defined]
    load = balanced(piece_parts(patch, MASSES))
    assert load.mass.value * pieces == pytest.approx(46 + 3 * pieces)
    length, width, height = patch.extents_m
    assert abs(load.behind.value) <= width / 2
    assert 0 <= load.height.value <= height
    assert abs(load.aside.value) <= length / 2
    # What it may give covers how far a skin in one curve can be off the middle of its extents.
    assert patch.give.value == pytest.approx(max(patch.extents_m) / 4)


def test_two_scales_say_where_a_load_balances_by_the_lever() -> None:
    # 30 kg and 50 kg, 1.2 m apart: 1.2 × 50/80 = 0.75 m from the left scale, 0.15 m right of the middle.
    shown = [Term(name, value, "", "") for name, value in (("left", 30.0), ("right", 50.0), ("apart", 1.2))]
    load = weighed(balanced([part(60, 0.4, behind_m=0.1)]), *shown)
    assert load.mass.value == 80
    assert load.aside.value == pytest.approx(0.15)
    assert (load.height.value, load.behind.value) == (0.4, 0.1)


@pytest.mark.parametrize(
    ("refused", "told"),
    [
        (lambda: even_patch(Sphere(1).form(), 0), "Mould pieces"),
        (lambda: weighed(balanced([part(9)]), *(Term(n, 0.0, "", "") for n in "ab"), Term("c", 1.0, "", "")), "Mass"),
        (lambda: weighed(balanced([part(9)]), *(Term(n, 9.0, "", "") for n in "ab"), Term("c", 0.0, "", "")), "C is"),
    ],
)
def test_it_refuses_pieces_and_scales_that_are_none(refused, told) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(EstimatorError, match=told):
        refused()
