"""Styrene and ventilation against EH40, the United States' rules and the dilution formula."""

import pytest

from materials.estimator.air import STYRENE_G_MOL, dilution_m3_h, emission_factor, mg_m3_of_ppm
from materials.estimator.reference import COEFFICIENTS

LB_TO_A_TON = 2000


@pytest.mark.parametrize(
    ("ppm", "temperature", "expected", "rel"),
    [(100, 20, 432.969753809, 1e-4), (250, 20, 1082.42438452, 1e-4), (100, 25, 425.711412852, 2e-4)],
)
def test_styrene_as_a_mass(ppm: float, temperature: float, expected: float, rel: float) -> None:
    # EH40 prints 430 and 1080 for 100 and 250 ppm at 20 °C, IARC volume 82 prints 426 for 100 ppm at 25 °C.
    assert mg_m3_of_ppm(ppm, STYRENE_G_MOL, temperature) == pytest.approx(expected, rel=rel)


def test_the_united_kingdoms_limits() -> None:
    # EH40/2005, fourth edition of 2020, Table 1, from memory; styrene over 8 hours also seen on a trade body's page.
    expected = {
        "styrene_8h": 100, "styrene_15min": 250, "acetone_8h": 500, "acetone_15min": 1500, "mekp_15min": 0.2,
        "inhalable_dust_8h": 10, "respirable_dust_8h": 4, "isocyanate_8h": 0.02, "isocyanate_15min": 0.07,
    }  # fmt: skip
    assert {key: COEFFICIENTS[key].value for key in expected} == expected


@pytest.mark.parametrize(
    ("styrene", "expected"), [(0.30, 0.0378), (0.35, 0.0472), (0.40, 0.0615), (0.50, 0.0901), (0.60, 0.1187)]
)
def test_resin_laid_by_hand(styrene: float, expected: float) -> None:
    # 40 CFR 63, Subpart WWWW, Table 1, from memory.
    assert emission_factor("resin_hand", styrene) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(
    ("styrene", "expected"),
    [
        (0.30, 0.1335), (0.35, 0.167761), (0.37, 0.18849), (0.40, 0.219584), (0.44, 0.261042), (0.48, 0.302501),
        (0.60, 0.426876),
    ],
)  # fmt: skip
def test_gel_coat_sprayed(styrene: float, expected: float) -> None:
    # The same table, from memory.
    assert emission_factor("gel_spray", styrene) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(
    ("process", "styrene", "limit"),
    [
        ("resin_hand", 0.40, 123), ("resin_hand", 0.50, 180), ("resin_hand", 0.60, 238), ("gel_spray", 0.30, 267),
        ("gel_spray", 0.37, 377), ("gel_spray", 0.40, 440), ("gel_spray", 0.44, 522), ("gel_spray", 0.48, 605),
        ("gel_spray", 0.60, 854),
    ],
)  # fmt: skip
def test_the_published_limits_invert_to_round_styrene_contents(process: str, styrene: float, limit: float) -> None:
    # 40 CFR 63, Subpart WWWW, Table 3, pounds to a ton, as printed.
    assert LB_TO_A_TON * emission_factor(process, styrene) == pytest.approx(limit, abs=1.0)


def test_the_rule_for_boats_agrees() -> None:
    # 40 CFR 63, Subpart VVVV, Table 3, text seen: kilograms to a megagram, styrene in per cent. Its own values, and
    # 3.5 % between the two rules at 35 % of styrene.
    assert pytest.approx(45.5913903473, rel=1e-3) == 0.014 * 35**2.275
    assert pytest.approx(77.7128870208, rel=1e-3) == 0.014 * 35**2.425
    assert pytest.approx(155.550302591, rel=1e-3) == 0.445 * 33**1.675
    assert pytest.approx(61.7752506135, rel=1e-3) == 0.014 * 40**2.275
    ours = 1000 * emission_factor("resin_hand", 0.35)
    assert ours == pytest.approx(47.2, rel=1e-4)
    assert ours / (0.014 * 35**2.275) - 1 == pytest.approx(0.035283189225, abs=0.001)
    assert 1000 * emission_factor("resin_hand", 0.40) == pytest.approx(0.014 * 40**2.275, rel=0.005)
    assert 1000 * emission_factor("gel_spray", 0.35) == pytest.approx(0.445 * 35**1.675, rel=0.03)


def test_filled_resin_gives_off_by_its_neat_part() -> None:
    # COMAR 26.11.19.26-1: 45.6 kg/Mg with 30 % of filler is 31.92.
    assert emission_factor("resin_hand", 0.35, 0.30) / emission_factor("resin_hand", 0.35) * 45.6 == pytest.approx(
        31.92
    )


def test_twenty_kilograms_an_hour_want_thirteen_thousand_cubic_metres() -> None:
    # Q = G K / C (University of Toledo's formula page; ACGIH, Industrial Ventilation): 20 kg/h at 35 %, K 3, 50 ppm.
    emission = 20 * 1000 * emission_factor("resin_hand", 0.35)
    assert emission == pytest.approx(944.0, rel=1e-4)
    assert dilution_m3_h(emission, 3, mg_m3_of_ppm(50, STYRENE_G_MOL, 20)) == pytest.approx(13081.7452032, rel=1e-4)
