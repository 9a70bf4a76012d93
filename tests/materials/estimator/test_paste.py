"""Paste: resin with filler, by definition of density, and what no hand can stir."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.estimator.errors import OutOfRange
from materials.estimator.lines import Term
from materials.estimator.paste import FILLERS, Paste, paste
from materials.estimator.reference import COEFFICIENTS


def of(litres: float, filler: float, parts: float, waste: float = 0.0) -> Paste:
    """Paste of so many litres, as one square metre."""
    return paste(
        area=Term("area", 1.0, "m^2", "given"),
        depth=Term("depth", litres / 1000, "m", "given"),
        resin_density=Term("resin", 1120.0, "kg/m^3", "given"),
        filler_density=Term("filler", filler, "kg/m^3", "given"),
        parts=Term("parts", parts, "", "given"),
        waste=Term("waste", waste, "", "given"),
    )


def test_chalk_paste_weighs_what_its_masses_and_volumes_add_up_to() -> None:
    # By definition, rho = sum m / sum (m/rho); calcite 2710 kg/m3 from memory: 100 of resin at 1.12 and 50 of chalk
    # are 1.3923 g/cm3, and 10 kg of resin with 5 kg of chalk fill 10.7736 l.
    mixed = of(10.7735898788, 2710.0, 50.0)
    assert mixed.density.value == pytest.approx(1392.29357798, rel=1e-6)
    assert mixed.amount.value == pytest.approx(15.0, rel=1e-6)
    assert mixed.resin.value == pytest.approx(10.0, rel=1e-6)


@given(litres=st.floats(0.2, 40), parts=st.floats(1, 60), waste=st.floats(0, 0.5))
def test_resin_and_filler_are_the_paste(litres: float, parts: float, waste: float) -> None:
    mixed = of(litres, 2750.0, parts, waste)
    assert mixed.resin.value * (1 + parts / 100) == pytest.approx(mixed.amount.value, rel=1e-9)
    assert mixed.amount.value == pytest.approx(mixed.volume.value * mixed.density.value / 1000 * (1 + waste), rel=1e-9)
    # A mineral heavier than the resin makes a heavier paste, and never one as heavy as itself.
    assert 1120.0 < mixed.density.value < 2750.0


def test_more_filler_than_a_hand_can_stir_in_is_refused() -> None:
    # 0.60 of the volume: common practice, no source.
    assert of(1.0, 150.0, 15.0).filler_share < 0.60
    with pytest.raises(OutOfRange, match="Put in less filler, or a heavier one"):
        of(1.0, 150.0, 25.0)
    with pytest.raises(OutOfRange, match="Fill deeper places in layers"):
        of(51.0, 2750.0, 60.0)


@pytest.mark.parametrize("filler", FILLERS)
def test_each_filler_has_its_figures_and_they_make_a_paste(filler: str) -> None:
    density, parts = (COEFFICIENTS[f"filler_{name}_{filler}"] for name in ("density", "parts"))
    assert 0 < of(1.0, density.value, parts.value).filler_share < 0.60
