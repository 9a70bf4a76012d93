"""The rows a new studio begins with."""

import datetime

import pytest
from django.apps import apps

from materials.estimator import reference
from materials.estimator.catalogue import MATERIALS, STEPS
from materials.estimator.norms import NORMS
from materials.estimator.reference import CHECKED_ON
from materials.estimator.spec import COAT_KINDS, GLASS_KINDS, GRADES
from materials.estimator.takeoff import take_off
from materials.models import Figure, Item, LayUp, Pack, PaintSystem, Price, WorkNorm
from materials.queries.figures import studio_figures
from materials.queries.prices import price_book_on
from materials.seeding import GLASS, KNOWN, seed
from materials.specfile import read_spec

pytestmark = pytest.mark.django_db

SHAPES = {
    "sphere": {"diameter": "1.6 m"},
    "box": {"length": "2 m", "width": "1 m", "height": "0.7 m"},
    "frustum": {"bottom_diameter": "0.9 m", "top_diameter": "1.5 m", "height": "0.9 m"},
    "measured": {"area": "4 m2", "length": "0.8 m", "width": "0.6 m", "height": "2.5 m"},
}
COAT = {"volume_solids": 0.5, "dry_film": "50 um", "coats": 1, "loss": 0.5, "hardener_per_base": 0.25, "thinner": 0.1}
ALL_COATS = [{"kind": kind, **COAT} for kind in COAT_KINDS]
ALL_GLASS = [{"kind": key.split("_")[1], "weight": f"{key.split('_')[2]} g/m2", "glass_fraction": 0.3} for key in GLASS]


def varied_sections() -> list[dict[str, object]]:
    """Every shape, grade, method and joining, with all paints and all glasses that are on the list."""
    sections: list[dict[str, object]] = []
    for shape, dimensions in SHAPES.items():
        for grade in GRADES:
            for method in ("carved", "milled"):
                sections.append(
                    {
                        "name": f"{shape} {grade} {method}",
                        "shape": shape,
                        "dimensions": dimensions,
                        "grade": grade,
                        "pattern": {"method": method},
                        "mould": {"pieces": 1 if grade == "C" else 4},
                        "cast": {
                            "pulls": 3,
                            "layup": {"gel_coat": "0.6 kg/m2", "plies": ALL_GLASS},
                            "joining": {"strip_width": "150 mm", "layers": 2, "bolt_pitch": "0.2 m"},
                        },
                        "finish": {"coats": ALL_COATS} if grade == "A" else {},
                        "metal": "35 kg",
                    }
                )
    return sections


def test_every_key_that_a_take_off_asks_for_is_in_the_catalogue_with_its_unit() -> None:
    lines = take_off(read_spec({"name": "All of it", "sections": varied_sections()}, defaults=studio_figures())).lines
    asked = {(line.material, line.unit) for line in lines}
    assert {key for key, _ in asked} == {*MATERIALS, *GLASS}
    assert asked <= set(Item.objects.values_list("key", "unit"))


def test_every_lay_up_as_delivered_asks_for_glass_that_is_in_the_catalogue() -> None:
    asked = {ply.material for value in studio_figures().layups.values() for ply in value.plies}
    assert asked
    assert asked <= set(Item.objects.values_list("key", flat=True))


def test_particulars_are_given_for_every_material_and_for_nothing_else() -> None:
    assert set(KNOWN) == set(MATERIALS)


def test_a_studio_begins_with_the_figures_of_the_reference() -> None:
    delivered, studio = reference.studio_figures(), studio_figures()
    rows = {row.key: row for row in Figure.objects.filter(key__in=reference.COEFFICIENTS)}
    for key, known in delivered.coefficients.items():
        row = rows[key]
        assert (row.topic, row.label, row.unit, row.evidence, row.source) == (
            known.topic, known.label, known.unit, known.evidence, known.source,
        )  # fmt: skip
        assert (row.value, row.begun_with, row.low, row.high) == (known.value, known.value, known.low, known.high)
        assert row.checked_on == CHECKED_ON
    assert set(studio.norms) == set(delivered.norms)
    assert (studio.layups, studio.paint_systems) == (delivered.layups, delivered.paint_systems)
    assert (studio.mould_layup, studio.cast_layup) == (delivered.mould_layup, delivered.cast_layup)
    assert studio.system_by_grade == delivered.system_by_grade


def test_every_norm_has_a_step_with_a_name() -> None:
    assert WorkNorm.objects.count() == len(NORMS)
    assert all(row.step in STEPS[row.stage] for row in WorkNorm.objects.all())


def test_every_row_begins_with_the_day_on_which_the_reference_was_checked() -> None:
    for model in (Figure, WorkNorm, LayUp, PaintSystem):
        assert set(model.objects.values_list("checked_on", flat=True)) == {CHECKED_ON}


def test_each_use_and_each_grade_has_its_usual_scheme() -> None:
    assert set(LayUp.objects.filter(is_default=True).values_list("use", flat=True)) == {"mould", "cast"}
    assert set(PaintSystem.objects.exclude(default_grade="").values_list("default_grade", flat=True)) == set(GRADES)
    assert not PaintSystem.objects.filter(description="").exists()


def test_the_catalogue_comes_without_prices() -> None:
    assert not Price.objects.exists()
    assert price_book_on(datetime.date(2027, 1, 1), "GBP").items["gel_coat"].packs == ()


def test_hours_and_sent_out_work_are_priced_by_the_unit() -> None:
    services = Item.objects.filter(kind__in=("hour", "service"))
    assert {"bench_hour", "overhead_hour", "haulage", "cnc_milling"} <= set(services.values_list("key", flat=True))
    assert [list(item.packs.values_list("quantity", flat=True)) for item in services] == [[1]] * len(services)


def test_the_foam_block_is_sold_in_the_stock_size() -> None:
    pack = Pack.objects.get(item__key="foam_block")
    assert pack.label == "2400 × 1200 × 600 mm"
    assert float(pack.quantity) == pytest.approx(2.4 * 1.2 * 0.6, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "unit", "kind", "density"),
    [
        ("laminating_resin", "kg", "resin", 1120.0),
        ("catalyst", "ml", "catalyst", 1180.0),
        ("glass_csm_450", "kg", "glass", None),
        ("galvanising", "kg", "service", None),
        ("crate_plywood", "m2", "timber", 550.0),
    ],
)
def test_an_item_carries_unit_kind_and_density(key: str, unit: str, kind: str, density: float | None) -> None:
    item = Item.objects.get(key=key)
    assert (item.unit, item.kind, item.density_kg_m3) == (unit, kind, density)


def test_seeding_again_adds_only_what_is_missing() -> None:
    day = datetime.date(2025, 6, 1)
    Figure.objects.filter(key="allowance_resin").update(value=0.3, checked_on=day)
    WorkNorm.objects.update(checked_on=day)
    Figure.objects.filter(key="wax").delete()
    LayUp.objects.filter(name="Light skin").update(name="Our skin")
    Item.objects.filter(key="wax").update(name="Our wax")
    counts = [model.objects.count() for model in (WorkNorm, LayUp, PaintSystem, Item, Pack)]
    seed(apps)
    kept = Figure.objects.get(key="allowance_resin")
    assert (kept.value, kept.checked_on) == (0.3, day)
    assert set(WorkNorm.objects.values_list("checked_on", flat=True)) == {day}
    assert Figure.objects.get(key="wax").checked_on == CHECKED_ON
    assert Item.objects.get(key="wax").name == "Our wax"
    assert counts == [model.objects.count() for model in (WorkNorm, LayUp, PaintSystem, Item, Pack)]


def test_all_kinds_of_glass_can_be_bought() -> None:
    assert {key.split("_")[1] for key in GLASS} == set(GLASS_KINDS)
