"""What a commissioner is told of a section: the facts that may leave the workshop, in plain sentences."""

from dataclasses import replace

import pytest

from jobs.documents import scope_lines
from jobs.figures.scope import GlassLayers, PaintLayers, SectionScope, scope_of
from materials.estimator.errors import EstimatorError
from materials.estimator.spec import CastSpec, Coat, Joining, LayUp, Ply
from materials.estimator.takeoff import take_off
from tests.jobs.quote_samples import ACORNS, PEAR, job, long_pear, section, six_acorns

BALL = SectionScope(
    name="Ball",
    width_m=1.6,
    depth_m=1.6,
    height_m=1.6,
    casts=1,
    moulds=1,
    mould_pieces=4,
    mirrored=False,
    pattern="carved",
    gel_coat=True,
    glass=(GlassLayers("csm", 3),),
    thickness_mm=3.65234375,
    grade="B",
    paint_system="",
    paint=(PaintLayers("topcoat", 2, 50.0),),
    metal_kg=0.0,
    mass_kg=45.5405271064,
    crated=True,
)


def said(scope: SectionScope, units: str = "metric") -> dict[str, str]:
    return {line.topic: line.sentence.replace("\u00a0", " ") for line in scope_lines(scope, units=units)}


def test_a_section_is_told_from_its_size_to_its_crate() -> None:
    assert said(BALL) == {
        "Size": "1.6 m wide, 1.6 m deep, 1.6 m high.",
        "How many": "One cast.",
        "Pattern": "Carved by hand in foam, faired and sealed.",
        "Mould": "One mould of glass fibre, in four pieces.",
        "Cast": "Three layers of glass mat behind a gel coat, about 3.7 mm thick.",
        "Finish": "Grade B, painted public art: faired and painted to look even from where people stand.",
        "Paint": "Two coats of topcoat, 50 µm each; about 100 µm of dry film in all.",
        "Mass": "About 46 kg, estimated.",
        "Crate": "One crate.",
    }


@pytest.mark.parametrize(
    ("changes", "topic", "sentence"),
    [
        ({"casts": 6}, "How many", "Six casts, all from one mould."),
        ({"casts": 30, "moulds": 2}, "How many", "30 casts, from two moulds."),
        (
            {"casts": 2, "moulds": 2, "mirrored": True},
            "How many",
            "One pair of casts, left and right, one the mirror image of the other.",
        ),
        ({"casts": 6}, "Mass", "About 46 kg each, estimated."),
        ({"casts": 6}, "Crate", "One crate for each cast."),
        ({"crated": False}, "Crate", "None: it travels open."),
        ({"moulds": 2}, "Mould", "Two moulds of glass fibre, each in four pieces."),
        ({"mould_pieces": 1}, "Mould", "One mould of glass fibre, in one piece."),
        ({"pattern": "milled"}, "Pattern", "Milled in foam by machine, then faired and sealed by hand."),
        ({"gel_coat": False}, "Cast", "Three layers of glass mat, about 3.7 mm thick."),
        (
            {"glass": (GlassLayers("tissue", 1), GlassLayers("csm", 2), GlassLayers("woven", 1))},
            "Cast",
            "One layer of fine surface glass, two layers of glass mat and one layer of woven glass behind a gel coat, "
            "about 3.7 mm thick.",
        ),
        ({"paint": ()}, "Paint", "None: the surface stays as it leaves the mould."),
        (
            {
                "paint_system": "Two-pack gloss",
                "paint": (PaintLayers("primer", 1, 75), PaintLayers("clearcoat", 2, 50)),
            },
            "Paint",
            "Two-pack gloss: one coat of primer, 75 µm; two coats of clear coat, 50 µm each; "
            "about 180 µm of dry film in all.",
        ),
        ({"metal_kg": 35.0}, "Steel inside", "About 35 kg."),
        ({"metal_kg": 35.0, "casts": 2}, "Steel inside", "About 35 kg in each."),
        ({"metal_kg": 35.0}, "Mass", "About 46 kg, steel included, estimated."),
        ({"width_m": 0.425, "depth_m": 0.3, "height_m": 0.5}, "Size", "425 mm wide, 300 mm deep, 500 mm high."),
        ({"width_m": 0.425}, "Size", "0.425 m wide, 1.6 m deep, 1.6 m high."),
    ],
)
def test_each_fact_has_its_sentence(changes: dict[str, object], topic: str, sentence: str) -> None:
    assert said(replace(BALL, **changes))[topic] == sentence


def test_us_customary_units_are_rounded_as_they_are_printed() -> None:
    found = said(BALL, "us")

    assert found["Size"] == "5 ft 3 in wide, 5 ft 3 in deep, 5 ft 3 in high."
    # 3.652 mm is 0.1438 in, 45.54 kg is 100.4 lb, 100 um is 3.94 mil: from the definitions of inch and pound.
    assert found["Cast"].endswith("about 0.14 in thick.")
    assert found["Mass"] == "About 100 lb, estimated."
    assert found["Paint"] == "Two coats of topcoat, 1.97 mil each; about 3.9 mil of dry film in all."


def test_a_scope_picks_the_facts_out_of_spec_and_figures() -> None:
    spec = long_pear()
    base, figures = spec.sections[0], take_off(spec).sections[0]

    scope = scope_of(base, figures, paint_system="Two-pack gloss")

    assert (scope.name, scope.mould_pieces, scope.casts, scope.moulds) == ("Base", 4, 1, 1)
    assert (scope.width_m, scope.depth_m, scope.height_m) == (figures.length_m, figures.width_m, figures.height_m)
    assert scope.thickness_mm == figures.cast.thickness_mm
    assert scope.mass_kg == pytest.approx(figures.cast.mass_kg + 35.0 + figures.cast.finish_kg, rel=1e-12)
    assert scope.paint_system == "Two-pack gloss"
    assert [paint.kind for paint in scope.paint] == [coat.kind for coat in base.coats]


def test_layers_of_one_glass_are_counted_together() -> None:
    mat, woven = Ply("csm", 0.45, 0.3, layers=2), Ply("woven", 0.6, 0.5)
    lay_up = LayUp("Heavy skin", 0.0, (mat, woven, Ply("csm", 0.3, 0.3)))
    spec = job("Slab", section("Slab", PEAR["Base"], cast=CastSpec(1, lay_up, Joining(0.15, 2, mat))))

    scope = scope_of(spec.sections[0], take_off(spec).sections[0])

    assert scope.glass == (GlassLayers("csm", 3), GlassLayers("woven", 1))
    assert scope.gel_coat is False


def test_pulls_and_pairs_are_counted_as_the_take_off_counts_them() -> None:
    spec = six_acorns()
    acorn, leaf = (scope_of(one, figures) for one, figures in zip(spec.sections, take_off(spec).sections, strict=True))

    assert (acorn.casts, acorn.moulds) == (6, 1)
    assert (leaf.casts, leaf.moulds, leaf.mirrored, leaf.paint) == (2, 2, True, ())


def test_figures_of_another_section_are_refused() -> None:
    spec = long_pear()

    with pytest.raises(EstimatorError) as refused:
        scope_of(spec.sections[0], take_off(spec).sections[1])

    assert str(refused.value) == "The figures are those of Belly; give those of Base."


def test_nothing_of_the_inside_has_a_place_in_a_scope() -> None:
    spec = job("Acorn", section("Acorn", ACORNS["Acorn"], coats=(Coat("topcoat", 0.5, 50.0, 2, 0.123456),)))
    figures = take_off(spec).sections[0]
    planted = replace(
        figures,
        area_m2=987654.32,
        pattern=replace(figures.pattern, bought_m3=987654.32, mass_kg=987654.32),
        mould=replace(figures.mould, mass_kg=987654.32, piece_mass_kg=987654.32),
    )

    scope = scope_of(spec.sections[0], planted)

    assert "987654" not in repr(scope)
    assert "123456" not in repr(scope)
