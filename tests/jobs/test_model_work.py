"""What the worker finds out about a model, against what the egg is known to be."""

import math

import pytest

from jobs.models import CommissionModel
from jobs.services import models as services
from jobs.services.model_sections import sections_of, use_sections
from jobs.services.sections import NameTaken, SectionInUse
from jobs.takeoffs import commission_figures
from materials.estimator.shapes import ellipsoid_area_m2
from materials.mesh.planes import plane_at, plane_of
from materials.queries.figures import item_names, studio_figures
from studio.accounts.models import AuditEntry, User
from studio.tasks.models import Work
from tests.factories import make_commission, make_person, make_section, make_stage
from tests.jobs.models_sent import make_model, open_egg, worked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]


@pytest.fixture
def tam() -> User:
    return make_person("office")


def parted(model: CommissionModel, by: User, *heights_m: float, section: str = "") -> CommissionModel:
    planes = [("axis", f"z at {height:g} m", plane_at("z", height)) for height in heights_m]
    services.add_planes(by=by, model=model, section=section, planes=planes)
    return worked(model)


def test_a_height_is_enough_to_measure_by(tam: User) -> None:
    model = worked(make_model(make_commission(), tam), mirrored=True)
    assert model.figures["extents_m"] == pytest.approx([2.0, 1.6, 3.2], rel=1e-3)
    # A mesh of flats lies inside the ellipsoid it stands for, by about a hundredth at this fineness.
    assert model.figures["area_m2"] == pytest.approx(ellipsoid_area_m2(1.0, 0.8, 1.6), rel=0.01)
    assert model.figures["volume_m3"] == pytest.approx(4 / 3 * math.pi * 1.0 * 0.8 * 1.6, rel=0.015)
    assert model.figures["mirror"]["area_share"] < 0.001
    assert model.work.state == "done"
    assert model.preview_path.stat().st_size == 36 * sum(model.preview_parts)


def test_a_file_without_a_unit_waits_for_its_size(tam: User) -> None:
    model = worked(make_model(make_commission(), tam, height=""))
    assert model.figures == {}
    assert model.raw["extents"] == pytest.approx([1000, 800, 1600])
    services.stand_model(by=tam, model=model, version=0, standing={"unit": "mm", "height": "", "up": "x", "holes": ""})
    assert worked(model).figures["extents_m"] == pytest.approx([1.6, 0.8, 1.0], rel=1e-6)


def test_the_sections_add_up_to_the_whole(tam: User) -> None:
    model = parted(worked(make_model(make_commission(), tam)), tam, 1.1, 2.1)
    parts = model.cut["sections"]
    assert [part["name"] for part in parts] == ["1", "2", "3"]
    assert sum(part["area_m2"] for part in parts) == pytest.approx(model.figures["area_m2"], rel=1e-6)
    assert sum(part["volume_m3"] for part in parts) == pytest.approx(model.figures["volume_m3"], rel=1e-6)
    assert parts[1]["rim_m"] == pytest.approx(parts[0]["rim_m"] + parts[2]["rim_m"])
    assert sum(part["rim_m"] for part in parts) == pytest.approx(2 * model.cut["seam_m"])
    assert [part["place_m"][2] for part in parts] == pytest.approx([0.0, 1.1, 2.1], abs=1e-6)


def test_a_section_is_parted_again_into_the_pieces_of_its_mould(tam: User) -> None:
    model = parted(worked(make_model(make_commission(), tam)), tam, 1.6)
    across = [("normal", "normal (1 0 0) at 0 m", plane_of((1.0, 0.0, 0.0), 0.0))]
    services.add_planes(by=tam, model=model, section="2", planes=across)
    lower, upper = worked(model).cut["sections"]
    assert (len(lower["pieces"]), len(upper["pieces"])) == (0, 2)
    assert sum(piece["area_m2"] for piece in upper["pieces"]) == pytest.approx(upper["area_m2"], rel=1e-6)
    assert upper["form"]["seam_m"] == pytest.approx(upper["rim_m"] + upper["piece_seam_m"])


def test_other_planes_through_the_whole_forget_those_of_its_sections(tam: User) -> None:
    model = parted(worked(make_model(make_commission(), tam)), tam, 1.6)
    parted(model, tam, 2.2, section="2")
    parted(model, tam, 0.6)
    assert list(model.planes.values_list("section", flat=True)) == ["", ""]


def test_a_plane_that_misses_leaves_the_figures_and_says_so(tam: User) -> None:
    model = parted(worked(make_model(make_commission(), tam)), tam, 9.0)
    assert model.cut == {}
    assert "misses the model" in model.cut_problem
    assert model.figures["area_m2"] > 10
    assert model.work.state == "done"


def test_an_open_model_has_no_volume_until_its_hole_is_closed(tam: User) -> None:
    model = worked(make_model(make_commission(), tam, open_egg()))
    assert model.figures["volume_m3"] is None
    assert model.figures["close_mm"] > 0
    standing = {"unit": "", "height": "3.2 m", "up": "", "holes": f"{model.figures['close_mm']} mm"}
    services.stand_model(by=tam, model=model, version=model.version, standing=standing)
    assert worked(model).figures["volume_m3"] > 5
    assert any("1 hole was closed" in note for note in model.figures["notes"])


def test_a_file_that_is_no_model_is_refused_in_a_sentence(tam: User) -> None:
    commission = make_commission()
    model = services.add_model(
        by=tam,
        commission=commission,
        name="Noise",
        file_name="noise.stl",
        chunks=[b"no model at all" * 40],
        standing={"unit": "mm", "height": "", "up": "", "holes": ""},
    )
    worked(model)
    assert model.work.state == "failed"
    assert model.work.problem.endswith(".")
    assert "program has a fault" not in model.work.problem


def test_planes_are_found_that_make_every_section_fit(tam: User) -> None:
    model = worked(make_model(make_commission(), tam))
    wanted = {"box_m": [2.4, 2.0, 1.2], "mass_kg": None, "skin_kg_m2": None}
    services.ask_for_planes(by=tam, model=model, wanted=wanted, words="2.4 m × 2 m × 1.2 m")
    planes = worked(model).suggested["planes"]
    assert planes
    given = [("normal", plane["words"], plane_of(tuple(plane["normal"]), plane["offset_m"])) for plane in planes]
    services.add_planes(by=tam, model=model, section="", planes=given)
    for part in worked(model).cut["sections"]:
        assert sorted(part["extents_m"]) <= [1.2001, 2.0001, 2.4001]


def test_a_change_stops_the_work_that_it_makes_stale(tam: User) -> None:
    model = make_model(make_commission(), tam)
    services.stand_model(
        by=tam, model=model, version=0, standing={"unit": "", "height": "1.6 m", "up": "", "holes": ""}
    )
    worked(model)
    assert list(Work.objects.order_by("pk").values_list("state", flat=True)) == ["cancelled", "done"]
    assert model.figures["extents_m"][2] == pytest.approx(1.6)


def test_sections_feed_the_take_off_and_follow_the_model(tam: User) -> None:
    commission = make_commission()
    model = parted(worked(make_model(commission, tam)), tam, 1.6)
    use_sections(by=tam, model=model, names={"1": "Lower", "2": "Upper"})
    figures = commission_figures(commission, list(commission.sections.all()), studio_figures(), item_names())
    assert figures.problem == ""
    assert figures.area_m2 == pytest.approx(model.figures["area_m2"], rel=1e-6)
    assert figures.sections[0].seam_m == pytest.approx(model.cut["seam_m"])
    parted(model, tam, 0.8)
    use_sections(by=tam, model=model, names={"1": "Upper", "2": "Middle", "3": "Lower"})
    assert {part: row.name for part, row in sections_of(model).items()} == {"1": "Upper", "2": "Middle", "3": "Lower"}
    entry = AuditEntry.objects.about(commission.subject).filter(act="Sections taken from Egg").first()
    assert entry is not None
    assert len(entry.after["sections"]) == 3


def test_a_name_that_another_section_has_is_refused(tam: User) -> None:
    commission = make_commission()
    make_section(commission, "Base")
    model = worked(make_model(commission, tam))
    with pytest.raises(NameTaken, match="already has a section called Base"):
        use_sections(by=tam, model=model, names={"1": "Base"})
    assert commission.sections.count() == 1


def test_a_section_with_hours_on_the_board_is_not_lost_to_another_cut(tam: User) -> None:
    commission = make_commission()
    model = parted(worked(make_model(commission, tam)), tam, 1.6)
    use_sections(by=tam, model=model, names={"1": "Lower", "2": "Upper"})
    make_stage(commission, commission.sections.get(name="Upper"))
    plane = model.planes.get()
    services.remove_plane(by=tam, plane=plane)
    with pytest.raises(SectionInUse, match="Upper has stages on the board"):
        use_sections(by=tam, model=worked(model), names={"1": "Whole"})
    assert list(commission.sections.values_list("name", flat=True)) == ["Lower", "Upper"]


def test_a_mould_in_more_pieces_than_were_parted_has_its_seam_estimated(tam: User) -> None:
    commission = make_commission()
    model = parted(worked(make_model(commission, tam)), tam, 1.6)
    use_sections(by=tam, model=model, names={"1": "Lower", "2": "Upper"})
    lower = commission.sections.get(name="Lower")
    measured = commission_figures(commission, [lower], studio_figures(), item_names()).sections[0].seam_m
    lower.pieces = 4
    estimated = commission_figures(commission, [lower], studio_figures(), item_names()).sections[0].seam_m
    assert estimated > 1.5 * measured
