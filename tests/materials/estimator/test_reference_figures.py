"""The figures as delivered: each has a unit, a range, a source, and something that uses it."""

from collections import Counter
from pathlib import Path

import pytest

from materials.estimator import reference
from materials.estimator.catalogue import MATERIALS, STEPS, entry_of, paint_words
from materials.estimator.errors import Missing, OutOfRange, UnknownChoice
from materials.estimator.norms import NORMS
from materials.estimator.reference import COEFFICIENTS, LAYUPS, PAINT_SYSTEMS, studio_figures
from materials.estimator.spec import GLASS_KINDS, GRADES, Coefficient
from materials.estimator.studio import StudioFigures
from tests.materials.estimator.workings import registry

SOURCES = {
    path: path.read_text(encoding="utf-8")
    for folder in ("materials/estimator", "materials/specfile", "jobs/sheets")
    for path in (Path(reference.__file__).parents[3] / folder).glob("*.py")
}


@pytest.mark.parametrize("figure", COEFFICIENTS.values(), ids=COEFFICIENTS)
def test_a_figure_has_a_unit_a_range_and_a_source(figure: Coefficient) -> None:
    registry().parse_units(figure.unit)
    assert figure.low <= figure.value <= figure.high
    assert figure.low < figure.high
    assert figure.evidence in ("found", "found-secondary", "memory", "practice", "derived")
    assert figure.source
    assert figure.topic
    assert (figure.evidence == "practice") == figure.source.startswith("common practice, no source")


NAMED_BY_KIND = ("glass_fraction_", "filler_density_", "filler_parts_", "discs_", "fairing_share_")


@pytest.mark.parametrize("key", COEFFICIENTS)
def test_a_figure_is_used(key: str) -> None:
    # Some are asked for by kind of glass, by filler or by grade, with the end of the key put on.
    stem = key.rpartition("_")[0] if key.startswith(NAMED_BY_KIND) else key
    assert any(f'"{key}"' in text or f'"{stem}_{{' in text for text in SOURCES.values())


def test_labels_tell_the_figures_apart() -> None:
    assert max(Counter(figure.label for figure in COEFFICIENTS.values()).values()) == 1


def test_glass_waste_and_overlap_are_together_the_trades_fifteen_per_cent() -> None:
    # Common practice, no source.
    usual = studio_figures().allowances
    assert usual.glass + usual.overlap == pytest.approx(0.15)


def test_every_step_has_a_norm_in_every_grade_and_no_norm_is_without_a_step() -> None:
    steps = {(stage, step, grade) for stage, named in STEPS.items() for step in named for grade in GRADES}
    assert steps == {(norm.stage, norm.step, norm.grade) for norm in NORMS}
    assert len(NORMS) == len(steps)


def test_a_better_grade_never_takes_less() -> None:
    by_key = {(norm.stage, norm.step, norm.grade): norm for norm in NORMS}
    for stage, step, _ in by_key:
        a, b, c = (by_key[stage, step, grade] for grade in "ABC")
        assert a.likely >= b.likely >= c.likely


def test_what_a_studio_uses_by_default_is_there() -> None:
    studio = studio_figures()
    assert {studio.mould_layup, studio.cast_layup} <= set(LAYUPS)
    assert set(studio.system_by_grade) == set(GRADES)
    assert set(studio.system_by_grade.values()) <= set(PAINT_SYSTEMS)
    assert {f"glass_fraction_{kind}" for kind in GLASS_KINDS} <= set(COEFFICIENTS)


def test_a_mould_carries_more_layers_on_its_returns() -> None:
    studio = studio_figures()
    assert studio.layups[studio.mould_layup].return_extra_layers == 2
    assert studio.layups[studio.cast_layup].return_extra_layers == 0


def test_every_material_that_is_painted_on_has_a_name_and_its_hardener_too() -> None:
    for coats in PAINT_SYSTEMS.values():
        for coat in coats:
            assert paint_words(coat.kind) == MATERIALS[coat.kind].name.lower()
            assert MATERIALS[f"hardener_{coat.kind}"].unit == "l"


def test_glass_of_any_weight_has_a_name() -> None:
    assert entry_of("glass_csm_450").name == "Chopped strand mat 450 g/m²"
    assert entry_of("glass_tissue_30").unit == "kg"


def test_services_are_told_from_materials() -> None:
    assert {key for key, entry in MATERIALS.items() if entry.sent_out} == {"cnc_milling", "galvanising"}


def test_it_refuses_a_material_that_no_line_carries() -> None:
    with pytest.raises(UnknownChoice, match=r"^Material 'glass_cotton_1' is not known; use one of foam_block, "):
        entry_of("glass_cotton_1")
    with pytest.raises(UnknownChoice, match=r"^Kind of paint 'varnish' is not known; use one of primer, "):
        paint_words("varnish")


def test_a_figure_below_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^wax to a coat is -1 kg/m\^2; it must be at least 0 kg/m\^2\.$"):
        Coefficient("wax", "wax to a coat", "kg/m^2", -1.0, 0.0, 1.0, "practice", "common practice, no source")


def test_a_studio_without_a_figure_is_told_which() -> None:
    empty = StudioFigures({}, (), {}, {}, "", "", {})
    with pytest.raises(Missing, match="Studio figure catalyst_percent is missing"):
        empty.value("catalyst_percent")
