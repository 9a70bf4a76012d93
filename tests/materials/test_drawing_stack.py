"""Where sections stand upon one another."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.drawing import Footing, Placement, stack
from materials.estimator.errors import OutOfRange
from materials.estimator.shapes import Box, Shape, form_of
from tests.materials.estimator import strategies


def footing(height_m: float, *, length_m: float = 1.0, **given_place: object) -> Footing:
    return Footing(form_of(Box(length_m, 1.0, height_m)), **given_place)  # type: ignore[arg-type]


def test_each_section_stands_on_the_one_before() -> None:
    assert stack([footing(0.5), footing(1.0), footing(0.25)]) == (
        (Placement(0.0, 0.0),),
        (Placement(0.0, 0.5),),
        (Placement(0.0, 1.5),),
    )


def test_a_section_with_a_height_of_its_own_leaves_the_stack_as_it_is() -> None:
    base, arm, head = stack([footing(1.0), footing(0.5, stand_m=0.7, offset_m=0.8), footing(0.4)])
    assert arm == (Placement(0.8, 0.7),)
    assert head == (Placement(0.0, 1.0),)
    assert base == (Placement(0.0, 0.0),)


def test_a_section_may_stand_on_the_floor_beside_the_stack() -> None:
    _, beside = stack([footing(1.0), footing(0.5, stand_m=0.0, offset_m=-2.0)])
    assert beside == (Placement(-2.0, 0.0),)


def test_a_pair_stands_to_either_side_and_carries_what_follows() -> None:
    legs, body = stack([footing(0.9, offset_m=0.3, mirrored=True), footing(1.1)])
    assert legs == (Placement(0.3, 0.0), Placement(-0.3, 0.0, mirrored=True))
    assert body == (Placement(0.0, 0.9),)


def test_a_pair_without_an_offset_touches_in_the_middle() -> None:
    ((right, left),) = stack([footing(0.9, length_m=0.5, mirrored=True)])
    assert (right.x_m, left.x_m) == (0.25, -0.25)


def test_nothing_stands_nowhere() -> None:
    assert stack([]) == ()


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.lists(st.tuples(strategies.shapes, st.none() | st.floats(0, 5), st.booleans()), max_size=6))
def test_the_stack_is_as_high_as_what_stands_in_it(sections: list[tuple[Shape, float | None, bool]]) -> None:
    footings = [Footing(form_of(shape), stand, 0.0, mirrored) for shape, stand, mirrored in sections]
    places = stack(footings)
    stacked = [(each, places[at][0]) for at, each in enumerate(footings) if each.stand_m is None]
    tops = [place.z_m + each.form.height_m for each, place in stacked]
    assert max(tops, default=0.0) == pytest.approx(sum(each.form.height_m for each, _ in stacked))
    assert [len(place) for place in places] == [2 if each.mirrored else 1 for each in footings]


@pytest.mark.parametrize(
    ("given_place", "sentence"),
    [
        ({"stand_m": float("nan")}, "stand is nan m; it must be between -1000 and 1000 m."),
        ({"offset_m": float("inf")}, "offset is inf m; it must be between -1000 and 1000 m."),
    ],
)
def test_it_refuses_a_place_off_the_earth(given_place: dict[str, float], sentence: str) -> None:
    with pytest.raises(OutOfRange) as refusal:
        footing(1.0, **given_place)
    assert str(refusal.value) == sentence
