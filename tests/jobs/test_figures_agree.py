"""The same figure is the same on every sheet and document: masses, areas, resin, balance, crates."""

from html import unescape

import pytest

from jobs.delivery.balance import balanced
from jobs.delivery.label_codes import CAST, CRATE, PIECE
from jobs.figures.scope import scope_of
from jobs.hand_overs.drafts import texts_of
from jobs.labels import labels_of
from jobs.loads import whole_load
from jobs.models import Commission
from jobs.mould_pieces import patches_of
from jobs.services.model_sections import use_sections
from jobs.services.models import add_planes
from jobs.sheets import crate, handling, layup, lifting, mix, wind
from jobs.sheets.crate import cast_mass
from jobs.sheets.kind import SheetKind, Shown, show
from jobs.sheets.known import Job, Subject
from jobs.sheets.layers import ALL, laid_besides, laid_up
from jobs.stood import balance_of_all, stood_of
from materials.estimator.gel import GelReading
from materials.mesh.planes import plane_at
from materials.models import Item
from materials.services.gel import change_gel_times
from materials.units import format_quantity
from studio.accounts.models import Role
from tests.factories import make_base, make_commission, make_person, make_section, signed_in
from tests.jobs.models_sent import make_model, worked

pytestmark = pytest.mark.django_db

PROFILE = "0.30 0.00\n0.42 0.10\n0.46 0.30\n0.34 0.72\n0.12 1.15\n0.05 1.30"


@pytest.fixture
def job(settings: pytest.FixtureRequest, tmp_path: object) -> Job:
    """A ball of several pulls and pieces, a box in one piece, a turned form with steel, two parts of a model.

    The mould of the lower part is parted on the model, and unevenly.
    """
    settings.MEDIA_ROOT = tmp_path  # type: ignore[attr-defined]
    tam, commission = make_person(Role.OFFICE), make_commission()
    make_section(commission, "Ball", shape="sphere", dimensions={"diameter": "1.2 m"}, pieces=4, pulls=3)
    box = {"length": "0.9 m", "width": "0.6 m", "height": "1.1 m"}
    make_section(commission, "Box", shape="box", dimensions=box, pieces=1, metal="7 kg")
    turned = {"profile": PROFILE, "unit": "m"}
    make_section(commission, "Buoy", shape="turned", dimensions=turned, pieces=2, metal="14 kg", pulls=2)
    model = make_model(commission, tam)
    add_planes(by=tam, model=model, section="", planes=[("axis", "z at 1.6 m", plane_at("z", 1.6))])
    add_planes(by=tam, model=model, section="1", planes=[("axis", "x at 0.2 m", plane_at("x", 0.2))])
    use_sections(by=tam, model=worked(model), names={"1": "Lower", "2": "Upper"})
    resin = Item.objects.get(key="laminating_resin")
    times = [GelReading(at, percent, 40 / percent) for at in (10.0, 30.0) for percent in (1.0, 3.0)]
    change_gel_times(by=tam, item=resin, version=resin.version, readings=times)
    return Job(Commission.objects.get(pk=commission.pk))


def subjects(job: Job, stage: str) -> list[Subject]:
    return [Subject(job, section, stage) for section in job.sections]


def asked(kind: SheetKind, subject: Subject, **more: str) -> Shown:
    assert subject.section is not None
    found = show(kind, subject.job, {"section": str(subject.section.pk), "stage": subject.stage, **more})
    assert found.answer is not None, found.refused or found.form.errors
    return found


def exactly(area_m2: float) -> str:
    """An area as somebody would type who rounds nothing; a form begins with it rounded to what matters."""
    return f"{area_m2:.9f} m2"


def figure(sheet: Shown, name: str) -> float:
    assert sheet.answer is not None
    return next(each.value for each in sheet.answer.all_workings if each.name == name)


def labelled(job: Job) -> dict[tuple[str, str], set[str]]:
    """The masses that labels say, by section and kind."""
    found: dict[tuple[str, str], set[str]] = {}
    for kind in (CAST, PIECE, CRATE):
        for label in labels_of(job, job.sections, [kind], lambda code: code):
            found.setdefault((label.section, kind), set()).add(label.mass)
    return found


def test_one_cast_weighs_and_balances_the_same_wherever_it_is_said(job: Job) -> None:
    labels, begun = labelled(job), texts_of(job)
    page = signed_in(Role.BENCH).get(f"/commissions/{job.commission.pk}/form/").content.decode()
    form = unescape(page).replace(" kg<", "\N{NO-BREAK SPACE}kg<")
    for subject in subjects(job, "cast"):
        handled, lifted = asked(handling.KIND, subject), asked(lifting.KIND, subject)
        crated = asked(crate.KIND, subject)
        mass_kg = figure(handled, "mass")
        masses = [
            figure(lifted, "mass lifted"),
            cast_mass(subject).value,
            scope_of(subject.spec, subject.measures).mass_kg,
            figure(crated, "crate with the piece") - figure(crated, "empty crate"),
            figure(asked(layup.KIND, subject), "mass of the laminate")
            + subject.spec.metal_kg
            + subject.measures.cast.finish_kg,
        ]
        assert masses == pytest.approx([mass_kg] * len(masses), rel=1e-9), subject.words
        said = format_quantity(mass_kg, "mass", job.units)
        name = subject.section.name  # type: ignore[union-attr]
        assert labels[name, CAST] == {f"about {said}"}
        assert f"One cast of {name}: {said} (" in begun["mass"]
        assert f'data-head="Cast">{said}<' in form
        height = figure(lifted, "balance point above the foot")
        assert figure(handled, "balance point above the foot") == pytest.approx(height)
        assert f"One cast of {name}: balances {format_quantity(height, 'length', job.units)} above" in begun["balance"]


def test_a_part_of_a_model_balances_on_its_lifting_sheet_where_the_model_s_page_says(job: Job) -> None:
    model = job.commission.models.get()
    parts = {section.name: section for section in job.sections}
    for part, name in zip(model.cut["sections"], ("Lower", "Upper"), strict=True):
        lifted = asked(lifting.KIND, Subject(job, parts[name]))
        height_m = part["shell_centre_m"][2] - part["place_m"][2]
        assert figure(lifted, "balance point above the foot") == pytest.approx(height_m, rel=1e-6)


def test_the_pieces_of_a_parted_model_balance_together_where_its_skin_does(job: Job) -> None:
    lower = next(section for section in job.sections if section.name == "Lower")
    subject = Subject(job, lower, "mould")
    left, right = patches_of(subject)
    assert left.is_measured
    assert left.skin_share > right.skin_share
    # The plane stands 0.2 m right of the middle, and from there each piece reaches to its own end.
    length_m = subject.spec.form.length_m
    ends = (left.extents_m[0], right.extents_m[0])
    assert ends == pytest.approx((length_m / 2 + 0.2, length_m / 2 - 0.2))
    middles = (0.2 - ends[0] / 2, 0.2 + ends[1] / 2)
    assert [patch.seams_m[0] + middle for patch, middle in zip((left, right), middles, strict=True)] == pytest.approx(
        [0.2, 0.2], abs=1e-4
    )
    skin_m = sum(
        patch.skin_share * (patch.skin_m[0] + middle) for patch, middle in zip((left, right), middles, strict=True)
    )
    assert skin_m == pytest.approx(0.0, abs=1e-3)


def test_the_mass_in_the_wind_is_that_of_the_casts(job: Job) -> None:
    standing = show(wind.KIND, job, {"base_wide": "0.8 m", "base_deep": "0.8 m"}).answer
    assert standing is not None
    whole_kg = sum(found.cast.whole_kg for found in job.take_off.sections)
    assert standing.value.mass.value == pytest.approx(whole_kg)


def test_the_base_lies_in_the_same_place_in_the_wind_and_on_the_hook() -> None:
    section = make_section(make_commission(), offset="0.3 m")
    make_base(section.commission)
    job = Job(section.commission)
    lifted = balanced(whole_load(job).parts)
    standing = balance_of_all(stood_of(job), base_kg=40)
    assert lifted.aside.value == pytest.approx(0.3)
    assert standing.aside.value == pytest.approx(lifted.aside.value)
    assert standing.behind.value == pytest.approx(lifted.behind.value)


def test_a_piece_and_a_crate_weigh_the_same_on_sheet_label_and_road(job: Job) -> None:
    labels = labelled(job)
    for subject in subjects(job, "mould"):
        name = subject.section.name  # type: ignore[union-attr]
        pieces = subject.spec.mould.pieces
        numbered = [{"piece": str(number)} for number in range(1, pieces + 1)] if name == "Lower" else [{}] * pieces
        handled = [figure(asked(handling.KIND, subject, **piece), "mass") for piece in numbered]
        lifted = [figure(asked(lifting.MOULD, subject, **piece), "mass lifted") for piece in numbered]
        assert lifted == handled
        assert labels[name, PIECE] == {f"about {format_quantity(kg, 'mass', job.units)}" for kg in handled}
        assert max(handled) == pytest.approx(figure(asked(handling.KIND, subject), "mass"))
        frames_kg = pieces * subject.spec.mould.frame_kg_per_piece
        laid_kg = figure(asked(layup.KIND, subject), "mass of the laminate")
        assert sum(handled) == pytest.approx(laid_kg + frames_kg)
        crated = asked(crate.KIND, subject)
        gross_kg = figure(crated, "crate with the piece")
        assert labels[name, CRATE] == {f"gross about {format_quantity(gross_kg, 'mass', job.units)}"}
        assert crated.answer is not None
        assert all(held.terms[0].value == pytest.approx(gross_kg) for held in crated.answer.value.restraint)


@pytest.mark.parametrize("stage", ["mould", "cast"])
def test_resin_to_mix_and_to_lay_up_is_what_the_take_off_buys(job: Job, stage: str) -> None:
    for subject in subjects(job, stage):
        figures = subject.measures
        count = figures.moulds if stage == "mould" else figures.casts
        (bought,) = [line for line in subject.lines if line.material == "laminating_resin"]
        poured = {"temperature": "20", "percent": "2", "area": exactly(laid_up(subject)[1].value)}
        mixed = asked(mix.KIND, subject, layer=ALL, **poured) if laid_besides(subject) else None
        card = asked(layup.KIND, subject)
        assert figure(card, "resin to have ready") * count == pytest.approx(bought.buy), subject.words
        if mixed is not None:
            assert mixed.answer is not None
            assert mixed.answer.value.batches.amount.value * count == pytest.approx(bought.buy), subject.words
            shares = [
                asked(mix.KIND, subject, layer=layer, **poured).answer
                for layer, _ in mixed.form.fields["layer"].choices  # type: ignore[attr-defined]
                if layer.startswith("session") or layer == "besides"
            ]
            summed = sum(each.value.batches.amount.value for each in shares if each is not None)
            assert summed == pytest.approx(mixed.answer.value.batches.amount.value)
        gel = next(line for line in subject.lines if line.material.endswith("gel_coat"))
        assert figure(card, "gel coat to have ready") * count == pytest.approx(gel.buy)


def test_a_coat_to_mix_is_what_the_take_off_buys(job: Job) -> None:
    for subject in subjects(job, "finish"):
        mixed: dict[str, float] = {}
        for number, coat in enumerate(subject.spec.coats, start=1):
            sheet = asked(mix.KIND, subject, layer=f"coat-{number}", area=exactly(subject.measures.area_m2))
            assert sheet.answer is not None
            paint, times = sheet.answer.value.paint, coat.coats * subject.measures.casts / 1000
            for material, amount in (
                (coat.kind, paint.base),
                (f"hardener_{coat.kind}", paint.hardener),
                ("thinner", paint.thinner),
            ):
                if amount.value:
                    mixed[material] = mixed.get(material, 0.0) + amount.value * times
        bought = {line.material: line.buy for line in subject.lines if line.material in mixed}
        assert bought == pytest.approx(mixed)
