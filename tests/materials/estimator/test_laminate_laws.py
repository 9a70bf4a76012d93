"""Laminates: identities, and what is refused."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.laminate import (
    gel_coat_mm,
    laminate_density_kg_m3,
    laminate_kg_m2,
    resin_kg_m2,
    stack_of,
    thickness_mm,
    void_share,
)
from materials.estimator.spec import LayUp, Ply

PLIES = st.builds(
    Ply,
    st.sampled_from(["csm", "woven", "stitched"]),
    st.floats(min_value=0.1, max_value=1.5),
    st.floats(min_value=0.2, max_value=0.6),
    st.integers(min_value=1, max_value=10),
)


@settings(max_examples=100, derandomize=True, deadline=None, database=None)
@given(plies=st.lists(PLIES, min_size=1, max_size=6))
def test_a_stack_is_as_thick_as_its_whole_glass_at_its_whole_fraction(plies: list[Ply]) -> None:
    stack = stack_of(tuple(plies), 2560.0, 1200.0)
    whole_mm = thickness_mm(stack.glass_kg_m2, stack.glass_fraction, 2560.0, 1200.0)
    assert stack.thickness_mm == pytest.approx(whole_mm, rel=1e-12)
    assert stack.laminate_kg_m2 == pytest.approx(stack.glass_kg_m2 + stack.resin_kg_m2, rel=1e-12)


def test_a_laminate_is_its_thickness_times_its_density():
    density = laminate_density_kg_m3(0.30, 2560.0, 1200.0)
    assert thickness_mm(0.45, 0.30, 2560.0, 1200.0) / 1000 * density == pytest.approx(laminate_kg_m2(0.45, 0.30))


def test_more_glass_in_the_laminate_takes_less_resin():
    assert resin_kg_m2(0.45, 0.33) < resin_kg_m2(0.45, 0.30) < resin_kg_m2(0.45, 0.25)


def test_no_glass_takes_no_resin():
    assert resin_kg_m2(0.0, 0.30) == 0.0


def test_it_refuses_a_glass_fraction_in_per_cent():
    with pytest.raises(OutOfRange) as refused:
        resin_kg_m2(0.45, 30)
    assert str(refused.value) == (
        "Glass fraction is 30; it must be between 0.05 and 0.9. It is a share of the mass, such as 0.30."
    )


@pytest.mark.parametrize("nonsense", [math.nan, math.inf, -math.inf, -0.45])
def test_it_refuses_a_weight_that_is_no_weight(nonsense):
    with pytest.raises(OutOfRange, match=r"^Glass is -?(nan|inf|0\.45) kg/m2; it must be at least 0 kg/m2\.$"):
        thickness_mm(nonsense, 0.30, 2560.0, 1200.0)


def test_it_refuses_a_laminate_denser_than_its_parts():
    with pytest.raises(OutOfRange, match="A laminate cannot be denser than its glass and resin"):
        void_share(1427.5, 1500.0)


def test_it_refuses_a_density_given_in_grams_to_the_cubic_centimetre():
    with pytest.raises(OutOfRange, match=r"Density of the gel coat is 1\.2 kg/m3"):
        gel_coat_mm(0.6, 1.2)


def test_a_lay_up_needs_glass():
    with pytest.raises(Missing, match="Plies of the lay-up is missing; give at least one layer of glass"):
        LayUp("Bare", 0.6, ())


def test_a_glass_is_priced_by_kind_and_weight():
    assert Ply("csm", 0.45, 0.30).material == "glass_csm_450"
    assert Ply("woven", 0.6, 0.48).material == "glass_woven_600"
