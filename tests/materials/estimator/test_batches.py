"""What goes into one batch, and how many there are."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.estimator.batches import Cold, Pace, batches, check_warmth, coat_mix
from materials.estimator.errors import OutOfRange
from materials.estimator.gel import GelReading, GelTable
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned
from materials.estimator.spec import Coat

TABLE = GelTable("Laminating resin", tuple(GelReading(c, p, 40 / p) for c in (15.0, 20.0) for p in (1.0, 2.0, 4.0)))
DENSITY = Term("density of catalyst", 1.18, "kg/l", "data sheet")
COLD = Cold(Term("stop", 10, "°C", "figure"), Term("slow", 15, "°C", "figure"))


def pace(laid: float = 0.35, people: float = 1, usable: float = 0.65, bucket: float = 50) -> Pace:
    return Pace(
        Term("laid", laid, "kg/min", ""),
        Term("people", people, "", ""),
        Term("usable", usable, "", ""),
        Term("bucket", bucket, "kg", ""),
    )


def mixed(kg: float, percent: float = 2, at: Pace | None = None, density: Term | None = DENSITY):
    amount = Reckoned("all of it", kg, "kg", "", ())
    return batches(
        TABLE,
        amount,
        temperature=Term("temperature", 20, "°C", ""),
        percent=Term("percentage", percent, "percent", ""),
        pace=at or pace(),
        density=density,
    )


def test_catalyst_by_volume_on_weight_and_weighed() -> None:
    # A published mixing table of the trade: 10 kg at 2 % takes 200 ml; 1.18 kg/l from memory.
    found = mixed(10, at=pace(laid=50))
    assert found.count == 1
    assert found.catalyst_ml is not None
    assert found.catalyst_ml.value == pytest.approx(200, rel=1e-9)
    assert found.catalyst_g.value == pytest.approx(236, rel=1e-9)
    assert "volume on weight" in found.basis


def test_a_batch_is_what_can_be_laid_before_the_gel() -> None:
    # 20 min of gel, 0.65 usable, 0.35 kg/min: 4.55 kg, common practice; 9.2 kg are three equal batches.
    found = mixed(9.2)
    assert found.gel.value == pytest.approx(20)
    assert found.count == 3
    assert found.batch.value == pytest.approx(9.2 / 3)
    assert found.workable.value == pytest.approx(13)
    assert mixed(4.55).count == 1


def test_the_bucket_bounds_a_batch_however_many_lay() -> None:
    assert mixed(9, at=pace(people=20, bucket=3)).batch.value == pytest.approx(3)


def test_paste_hardener_is_weighed() -> None:
    found = mixed(1, density=None)
    assert found.catalyst_ml is None
    assert found.catalyst_g.value == pytest.approx(20)
    assert "weight on weight" in found.basis


@given(st.floats(0.01, 500), st.floats(1, 4), st.floats(0.05, 2), st.integers(1, 20), st.floats(0.5, 20))
def test_batches_make_up_the_whole_and_none_is_too_large(
    kg: float, percent: float, laid: float, people: int, bucket: float
) -> None:
    at = pace(laid=laid, people=people, bucket=bucket)
    found = mixed(kg, percent, at)
    assert found.batch.value * found.count == pytest.approx(kg)
    assert found.batch.value <= bucket * (1 + 1e-9)
    assert found.batch.value <= found.workable.value * laid * people * (1 + 1e-9)


def test_every_figure_shows_the_numbers_it_came_from() -> None:
    found = mixed(9.2)
    for figure in (found.batch, found.gel, found.workable, found.catalyst_ml, found.catalyst_g):
        assert figure is not None
        assert figure.terms
        assert figure.formula


def test_what_cannot_be_mixed_is_refused() -> None:
    with pytest.raises(OutOfRange, match="Amount to mix"):
        mixed(0)
    with pytest.raises(OutOfRange, match="People laying"):
        mixed(1, at=pace(people=0))
    with pytest.raises(OutOfRange, match="Largest bucket"):
        mixed(1, at=pace(bucket=0))
    loose = GelTable("Resin", (GelReading(20, 0.5, 60), GelReading(20, 6, 5)))
    for percent in (0.7, 5):
        with pytest.raises(OutOfRange, match="between 1 and 4 %"):
            batches(
                loose,
                Reckoned("all of it", 1, "kg", "", ()),
                temperature=Term("temperature", 20, "°C", ""),
                percent=Term("percentage", percent, "percent", ""),
                pace=pace(),
                density=DENSITY,
            )


def test_cold_is_refused_and_cool_is_cautioned() -> None:
    with pytest.raises(OutOfRange, match=r"9\.9 °C; it must be at least 10 °C\. It would not cure through"):
        check_warmth(9.9, COLD)
    assert "Below 15 °C" in check_warmth(10, COLD)
    assert "Below 15 °C" in check_warmth(14.9, COLD)
    assert check_warmth(15, COLD) == ""


def test_a_coat_by_its_ratio() -> None:
    # 65 % solids at 125 um cover 5.2 m2/l (paint makers' general information sheets); half is lost, so 10.4 m2 take
    # 4 l: at 4 to 1 that is 3.2 l of base and 0.8 l of hardener; 10 % of thinner is 0.4 l.
    coat = Coat("primer", 0.65, 125, 2, 0.5, hardener_per_base=0.25, thinner=0.10)
    found = coat_mix(coat, Term("area", 10.4, "m^2", ""), "primer")
    assert (found.base.value, found.hardener.value, found.thinner.value) == pytest.approx((3200, 800, 400))
    alone = coat_mix(replace(coat, hardener_per_base=0), Term("area", 10.4, "m^2", ""), "primer")
    assert alone.base.value == pytest.approx(4000)
    assert alone.hardener.value == 0
