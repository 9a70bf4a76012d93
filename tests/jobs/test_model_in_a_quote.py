"""A quote from a model: drawn as the model is, and frozen with the model's figures."""

import pytest
from django.utils import timezone

from jobs.models import CommissionModel
from jobs.quotes.sheets import quote_sheet
from jobs.quotes.workings import worked as priced
from jobs.services import models as services
from jobs.services.drafts import drafted
from jobs.services.model_sections import use_sections
from materials.mesh.planes import plane_at
from tests.factories import make_commission, make_issued, make_person, price_everything
from tests.jobs.models_sent import make_model, worked

pytestmark = pytest.mark.django_db


@pytest.fixture
def egg(settings: pytest.FixtureRequest, tmp_path: object) -> CommissionModel:
    """An egg in two sections, each the commission's."""
    settings.MEDIA_ROOT = tmp_path  # type: ignore[attr-defined]
    price_everything()
    tam = make_person("office")
    model = make_model(make_commission("Great Egg"), tam)
    services.add_planes(by=tam, model=model, section="", planes=[("axis", "z at 1.6 m", plane_at("z", 1.6))])
    use_sections(by=tam, model=worked(model), names={"1": "Lower", "2": "Upper"})
    return model


def test_the_quote_shows_the_drawing_of_the_model(egg: CommissionModel) -> None:
    seen = drafted(egg.commission)
    found = priced(seen, timezone.localdate())
    assert found.working is not None
    assert found.working.priced is not None
    drawn = quote_sheet(seen, found.working, found.working.priced, by=make_person("owner")).drawing_svg
    assert drawn.startswith("<svg")
    assert "<title>Lower</title>" in drawn
    assert "<title>Upper</title>" in drawn
    assert "extents only" not in drawn


def test_an_issued_quote_keeps_the_figures_of_its_day(egg: CommissionModel) -> None:
    quote = make_issued(egg.commission, egg.work.started_by)
    kept = [section["form"]["area_m2"] for section in quote.spec["sections"]]
    assert sum(kept) == pytest.approx(egg.figures["area_m2"], rel=1e-6)
    standing = {"unit": "", "height": "6.4 m", "up": "", "holes": ""}
    services.stand_model(by=egg.work.started_by, model=egg, version=egg.version, standing=standing)
    use_sections(by=egg.work.started_by, model=worked(egg), names={"1": "Lower", "2": "Upper"})
    quote.refresh_from_db()
    assert [section["form"]["area_m2"] for section in quote.spec["sections"]] == kept
    assert egg.figures["area_m2"] == pytest.approx(4 * sum(kept), rel=1e-6)
