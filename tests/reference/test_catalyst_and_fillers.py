"""Catalyst, gel time and fillers against tables of the trade and definitions."""

import pytest

from materials.estimator.errors import OutOfRange
from materials.estimator.mix import (
    adiabatic_rise_k,
    batch_kg,
    catalyst_ml,
    check_catalyst_percent,
    filled_resin,
    gel_time_by_arrhenius_min,
    gel_time_by_q10_min,
    q10_of_chart,
)


@pytest.mark.parametrize(
    ("resin_kg", "percent", "expected_ml"),
    [(10, 2, 200), (1, 1, 10), (1, 2, 20), (1, 3, 30), (1, 4, 40), (0.5, 1.5, 7.5), (5, 2.5, 125)],
)
def test_catalyst_by_volume_on_weight(resin_kg, percent, expected_ml):
    # A published mixing table of the trade: 1 kg at 1, 2, 3, 4 % takes 10, 20, 30, 40 ml; 10 kg at 2 % takes 200 ml.
    assert catalyst_ml(resin_kg, percent) == pytest.approx(expected_ml, rel=1e-9)


@pytest.mark.parametrize(("percent", "taken"), [(0.5, False), (1, True), (2, True), (3, True), (4.5, False)])
def test_a_percentage_that_will_not_cure_or_will_burn_is_refused(percent, taken):
    # Suppliers' guidance: 1 to 3 % is usual, 1 to 4 % the hard limits; common practice.
    if taken:
        check_catalyst_percent(percent)
        assert catalyst_ml(1.0, percent) == 10 * percent
    else:
        with pytest.raises(OutOfRange, match=r"it must be between 1 and 4 %"):
            check_catalyst_percent(percent)


def test_gel_time_doubles_for_ten_degrees_by_the_rule_of_thumb():
    # Common practice, no source.
    assert gel_time_by_q10_min(20, 20, 15, 2) == pytest.approx(28.2842712475, rel=1e-6)


def test_gel_time_by_arrhenius():
    # Computed apart; 50 to 70 kJ/mol is usual for redox-cured polyester, from memory.
    assert gel_time_by_arrhenius_min(20, 20, 10, 60) == pytest.approx(47.7087198301, rel=1e-4)


def test_published_charts_change_eightfold_in_ten_degrees():
    # Two published workshop charts: 30 min at 25 C and 240 at 15 C; 5 min at 20 C and 120 at 5 C.
    assert q10_of_chart(30, 25, 240, 15) == pytest.approx(8.0, rel=1e-6)
    assert q10_of_chart(5, 20, 120, 5) == pytest.approx(8.32033529221, rel=1e-4)


def test_the_largest_batch_that_can_be_laid():
    # Common practice, no source.
    assert batch_kg(20, 0.65, 0.35) == pytest.approx(4.55, rel=1e-6)


def test_resin_filled_with_chalk():
    # By definition, rho = sum m / sum (m/rho); calcite 2710 kg/m3 from memory.
    mix = filled_resin(100.0, 1120.0, 50.0, 2710.0)
    assert mix.density_kg_m3 == pytest.approx(1392.29357798, rel=1e-4)
    assert mix.volume_l == pytest.approx(107.735898788, rel=1e-4)
    assert mix.filler_share == pytest.approx(50 / 2.71 / 107.735898788, rel=1e-9)


def test_the_adiabatic_rise_is_an_upper_bound():
    # Computed apart from handbook magnitudes, from memory; a resin data sheet gives 145 to 165 C in the mass test.
    assert adiabatic_rise_k(350, 1.7, 0.8, 0.0) == pytest.approx(205.882352941, rel=1e-4)
    assert adiabatic_rise_k(350, 1.7, 0.8, 0.30) == pytest.approx(171.328671329, rel=1e-4)
