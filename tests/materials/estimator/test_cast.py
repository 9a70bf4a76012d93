"""The casts: pulls, release, joining, and what a cast weighs."""

from dataclasses import replace

import pytest

from materials.estimator.cast import wax_coats_of_run
from materials.estimator.counts import Run, counts_of
from materials.estimator.errors import OutOfRange
from materials.estimator.spec import CastSpec, Joining, LayUp, Ply
from materials.estimator.takeoff import take_off
from tests.materials.estimator.specs import codes, figures, has_line, job, line, section, with_figure, worked

MAT = Ply("csm", 0.45, 0.30)


def test_each_cast_takes_as_much_as_the_first():
    one, six = worked(), worked(pulls=6)
    for material in ("gel_coat", "glass_csm_450", "laminating_resin", "catalyst", "release_film", "acetone"):
        assert line(six, "cast", material).buy == pytest.approx(6 * line(one, "cast", material).buy)
    assert line(six, "mould", "tooling_gel_coat").buy == line(one, "mould", "tooling_gel_coat").buy


@pytest.mark.parametrize(("pulls", "coats"), [(1, 5), (2, 7), (3, 8), (6, 11)])
def test_a_mould_is_waxed_less_from_cast_to_cast(pulls, coats):
    # Source: a mould polish supplier, 2 coats before the second cast and 1 before later ones; 5 at first by practice.
    assert wax_coats_of_run(pulls, 5, 2, 1) == coats
    taken = worked(pulls=pulls)
    assert line(taken, "cast", "wax").buy == pytest.approx(figures(taken).area_m2 * coats * 0.02)


def test_a_cast_weighs_its_net_quantities():
    taken = worked()
    kept = [line(taken, "cast", material).net for material in ("gel_coat", "glass_csm_450", "laminating_resin")]
    assert figures(taken).cast.mass_kg == pytest.approx(sum(kept))


def test_catalyst_is_for_what_is_bought_and_its_net_for_what_stays():
    taken = worked()
    resin, gel = line(taken, "cast", "laminating_resin"), line(taken, "cast", "gel_coat")
    catalyst = line(taken, "cast", "catalyst")
    assert catalyst.buy == pytest.approx(10 * 2.0 * (resin.buy + gel.buy))
    assert catalyst.net == pytest.approx(10 * 2.0 * (resin.net + gel.net))


def test_overlap_is_bought_and_not_weighed():
    spec = job()
    lapped = take_off(replace(spec, allowances=replace(spec.allowances, glass=0.10, overlap=0.05)))
    whole = take_off(spec)
    assert line(lapped, "cast", "glass_csm_450").buy == pytest.approx(line(whole, "cast", "glass_csm_450").buy)
    assert {"cutting waste", "overlap"} <= {term.label for term in line(lapped, "cast", "glass_csm_450").terms}
    assert figures(lapped).cast == figures(whole).cast


def test_strips_of_another_glass_have_a_line_of_their_own():
    taken = worked(joining=Joining(0.10, 3, Ply("woven", 0.3, 0.48)))
    assert line(taken, "cast", "glass_woven_300").net == pytest.approx(figures(taken).seam_m * 0.10 * 3 * 0.3)


def test_bolts_join_a_cast_where_a_pitch_is_given():
    assert not has_line(worked(), "cast", "joining_bolt")
    taken = worked(seam_m=2.4, joining=Joining(0.15, 2, MAT, bolt_pitch_m=0.15), pulls=2)
    assert line(taken, "cast", "joining_bolt").buy == 2 * 17


def test_a_skin_without_gel_coat_asks_for_none():
    taken = worked(cast_layup=LayUp("Raw", 0.0, (replace(MAT, layers=3),)))
    assert not has_line(taken, "cast", "gel_coat")
    assert figures(taken).cast.thickness_mm == pytest.approx(3.15234375, rel=1e-6)
    resin = line(taken, "cast", "laminating_resin")
    assert line(taken, "cast", "catalyst").buy == pytest.approx(20 * resin.buy)


def test_casts_beyond_the_life_of_a_mould_take_another_with_its_own_pattern():
    counts = counts_of(section(pulls=35), 15)
    assert (counts.patterns, counts.moulds, counts.casts) == (3, 3, 35)
    assert counts.runs == (Run(15, 2), Run(5, 1))
    taken = worked(pulls=35)
    assert (figures(taken).patterns, figures(taken).moulds, figures(taken).casts) == (3, 3, 35)
    assert "mould_life" in codes(taken)
    assert line(taken, "pattern", "foam_block").buy == 3 * line(worked(), "pattern", "foam_block").buy
    assert "mould_life" not in codes(worked(pulls=15))


def test_a_pair_and_a_count_each_have_their_own_moulds():
    counts = counts_of(section(pulls=2, count=3, mirrored=True), 15)
    assert (counts.patterns, counts.moulds, counts.casts) == (6, 6, 12)
    assert counts.made == "3 made left and right, 2 casts of each, 15 at most to a mould"


def test_it_refuses_a_mould_that_gives_no_cast():
    with pytest.raises(OutOfRange, match=r"^Casts from one mould is 0;"):
        take_off(with_figure(job(), "pulls_per_mould", 0.0))


def test_it_refuses_no_cast_at_all():
    with pytest.raises(OutOfRange, match=r"^Casts is 0; it must be between 1 and 1000\.$"):
        CastSpec(0, LayUp("Skin", 0.6, (MAT,)), Joining(0.15, 2, MAT))
