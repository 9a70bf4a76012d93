"""Norms from the studio's own past: compared over finished stages, taken over by the owner alone."""

import statistics

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from jobs.figures.past_norms import PastStage
from jobs.models import Commission
from jobs.norms import PastNorm, past_norms, stamp_of
from jobs.queries.past_stages import norms_in_use, passed_stages
from jobs.services.norms_taken import take_over
from materials.models import WorkNorm
from studio.accounts.models import AuditEntry, Role, User
from studio.locking import Conflict
from tests.factories import make_person, price_everything, signed_in
from tests.jobs.standing_samples import accepted, book, pass_all, stage_of

ADDRESS = "/office/norms/past/"
CAST_B = f"{ADDRESS}cast/B/"


def seen(stage: str, grade: str, hours: float, norm: float = 10.0, **amounts: float) -> PastStage:
    return PastStage(stage, grade, hours, norm, amounts or {"m2": 5.0})


def test_median_and_quartiles_agree_with_another_library():
    hours = [8.0, 11.0, 9.5, 14.0, 10.0]
    (found,) = past_norms([seen("cast", "B", each) for each in hours])
    lower, median, upper = statistics.quantiles([each / 5 for each in hours], method="inclusive")
    (measured,) = found.measured
    assert (measured.booked.lower, measured.booked.median, measured.booked.upper) == pytest.approx(
        (lower, median, upper)
    )
    assert (found.count, measured.count, measured.in_use) == (5, 5, 2.0)
    assert found.factor == 1.0
    assert not found.differs


def test_stages_and_grades_stand_apart():
    found = past_norms([seen("cast", "B", 12.0), seen("cast", "A", 30.0), seen("mould", "B", 8.0, m2=4.0, piece=2.0)])
    assert [(each.stage, each.grade, each.factor) for each in found] == [
        ("mould", "B", 0.8),
        ("cast", "A", 3.0),
        ("cast", "B", 1.2),
    ]
    assert [(each.measure, each.booked.median) for each in found[0].measured] == [("m2", 2.0), ("piece", 4.0)]


def test_where_the_norms_give_no_hours_nothing_can_be_taken_over():
    (found,) = past_norms([seen("cast", "B", 12.0, norm=0.0)])
    assert (found.ratio, found.factor, found.differs) == (None, None, False)


def test_no_past_gives_no_norms():
    assert past_norms([]) == ()


@pytest.fixture
def owner(db: None) -> User:
    price_everything(2_000)
    return make_person()


@pytest.fixture
def commission(owner: User) -> Commission:
    """Two casts of grade B finished, one a quarter over its hours and one a half; a mould without hours."""
    found = accepted(owner, "Base", "Crown")
    for section, part in (("Base", 1.25), ("Crown", 1.5)):
        stage = stage_of(found, "cast", section)
        book(stage, owner, round(stage.allowed_minutes * part))
        pass_all(stage)
    pass_all(stage_of(found, "mould"))
    book(stage_of(found, "pattern"), owner, 600)
    return found


@pytest.fixture
def cast_b(commission: Commission) -> PastNorm:
    (found,) = past_norms(passed_stages(norms_in_use()).stages)
    return found


def norms_of(stage: str, grade: str) -> dict[str, tuple[float, float, float]]:
    return {row.step: (row.low, row.likely, row.high) for row in norms_in_use(stage, grade)}


def browser(person: User) -> Client:
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


def stamp() -> str:
    (past,) = past_norms(passed_stages(norms_in_use()).stages)
    return stamp_of(past, norms_in_use("cast", "B"))


def test_only_what_passed_with_hours_counts(commission: Commission):
    past = passed_stages(norms_in_use())
    assert [(each.stage, each.grade) for each in past.stages] == [("cast", "B"), ("cast", "B")]
    assert past.without_hours == 1


def test_hours_are_compared_with_what_the_norms_give_for_the_same_sections(cast_b: PastNorm):
    assert cast_b.count == 2
    assert cast_b.ratio is not None
    # The ratio is told to two places.
    assert cast_b.ratio.median == pytest.approx(1.375, abs=0.0051)


def test_after_it_is_taken_over_the_past_and_the_norms_agree(cast_b: PastNorm, owner: User):
    before, others = norms_of("cast", "B"), norms_of("cast", "A") | norms_of("mould", "B")
    take_over(by=owner, norms=norms_in_use("cast", "B"), factor=cast_b.factor or 0, stages=2)
    after = norms_of("cast", "B")
    assert after.keys() == before.keys()
    for step, hours in after.items():
        assert hours == pytest.approx([each * (cast_b.factor or 0) for each in before[step]], abs=5e-5)
    assert norms_of("cast", "A") | norms_of("mould", "B") == others
    (again,) = past_norms(passed_stages(norms_in_use()).stages)
    assert again.factor == 1
    assert not again.differs


def test_taking_over_is_on_record_with_every_step(cast_b: PastNorm, owner: User):
    take_over(by=owner, norms=norms_in_use("cast", "B"), factor=1.2, stages=2)
    entry = AuditEntry.objects.latest("pk")
    assert entry.act == "Norms of cast, grade B, taken over from 2 finished stages: 1.2 times"
    assert entry.actor == owner
    assert entry.after["Gel coat"] == "0.3 h, 0.3 to 0.3"
    assert len(entry.before) == len(norms_of("cast", "B"))


def test_a_norm_changed_since_it_was_read_is_not_multiplied(cast_b: PastNorm, owner: User):
    read, before = norms_in_use("cast", "B"), norms_of("cast", "B")
    WorkNorm.objects.filter(pk=read[-1].pk).update(version=5)
    with pytest.raises(Conflict):
        take_over(by=owner, norms=read, factor=1.2, stages=2)
    assert norms_of("cast", "B") == before


def test_the_page_shows_past_and_norm_side_by_side(commission: Commission):
    page = signed_in(Role.OFFICE).get(ADDRESS).content.decode()
    assert "Grade B" in page
    assert CAST_B in page
    assert "1 stage passed without hours and is left out." in page


def test_without_a_past_the_page_says_when_there_will_be_one(db: None):
    assert "No stage has been finished yet" in signed_in(Role.OFFICE).get(ADDRESS).content.decode()


def test_the_norms_lead_to_the_past(commission: Commission):
    assert ADDRESS in signed_in(Role.OFFICE).get("/office/norms/").content.decode()


def test_the_office_sees_what_would_change_and_cannot_decide_it(commission: Commission):
    office, before = signed_in(Role.OFFICE), norms_of("cast", "B")
    page = office.get(CAST_B).content.decode()
    assert "The owner decides" in page
    assert "Take these norms over" not in page
    assert office.post(f"{CAST_B}take/", {"stamp": stamp()}).status_code == 403
    assert norms_of("cast", "B") == before


def test_the_owner_takes_it_over_once(commission: Commission, owner: User):
    client, values, before = browser(owner), {"stamp": stamp()}, norms_of("cast", "B")
    page = client.get(CAST_B).content.decode()
    assert "Take these norms over" in page
    assert values["stamp"] in page
    response = client.post(f"{CAST_B}take/", values, follow=True)
    assert response.redirect_chain == [(ADDRESS, 302)]
    assert "Cast, grade B: the norms are" in response.content.decode()
    once = norms_of("cast", "B")
    assert once != before
    again = client.post(f"{CAST_B}take/", values)
    assert again.status_code == 409
    assert "<title>Error: " in again.content.decode()
    assert norms_of("cast", "B") == once


def test_hours_booked_since_the_page_was_opened_are_looked_at_first(commission: Commission, owner: User):
    values, before = {"stamp": stamp()}, norms_of("cast", "B")
    book(stage_of(commission, "cast"), owner, 600)
    response = browser(owner).post(f"{CAST_B}take/", values)
    assert response.status_code == 409
    assert "nothing was taken over" in response.content.decode()
    assert norms_of("cast", "B") == before


@pytest.mark.parametrize("address", [ADDRESS, CAST_B, f"{CAST_B}take/"])
def test_the_bench_is_refused_and_a_stranger_signs_in(commission: Commission, client: Client, address: str):
    assert signed_in(Role.BENCH).get(address).status_code == 403
    assert client.get(address).headers["Location"].startswith("/sign-in/")


@pytest.mark.parametrize("address", [f"{ADDRESS}cast/A/", f"{ADDRESS}cast/Z/", f"{ADDRESS}pear/B/"])
def test_what_was_never_finished_is_not_found(commission: Commission, address: str):
    assert signed_in(Role.OFFICE).get(address).status_code == 404


def test_the_page_asks_the_same_number_of_queries_for_two_stages_and_eighteen(commission: Commission, owner: User):
    office, counts = signed_in(Role.OFFICE), []
    for _ in range(2):
        office.get(ADDRESS)
        with CaptureQueriesContext(connection) as queries:
            office.get(ADDRESS)
        counts.append(len(queries))
        more = accepted(owner, *"ABCDEFGH", title="Eight")
        for section in "ABCDEFGH":
            book(stage_of(more, "cast", section), owner, 600)
            pass_all(stage_of(more, "cast", section))
    assert counts[0] == counts[1]
