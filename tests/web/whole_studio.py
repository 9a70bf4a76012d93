"""A studio in which every sheet has something on it: the demo, and commissions at every point of a quote's life."""

import datetime
import uuid
from dataclasses import dataclass
from unittest.mock import patch

from django.urls import reverse
from django.utils import timezone

from jobs.hand_overs.record import begun_record
from jobs.models import Commission, Decision, HandOver, LinkKind, Plan, Quote, SignOff
from jobs.plans.estimates import estimate_of
from jobs.quotes.issuing import issue_as_agreed
from jobs.quotes.sheets import seal
from jobs.quotes.workings import worked
from jobs.services.clocks import start
from jobs.services.drafts import drafted
from jobs.services.extras import add_extra
from jobs.services.hand_overs import Particulars as RecordParticulars
from jobs.services.hand_overs import draft as draft_record
from jobs.services.hours import book
from jobs.services.issues import issue as issue_material
from jobs.services.links import make_link
from jobs.services.models import add_planes
from jobs.services.planning.suppositions import TAKE_ON, Supposition
from jobs.services.plans import ask_for_plan
from jobs.services.quotes import answer
from jobs.services.sent_out import Particulars, order
from materials.mesh.planes import plane_at
from materials.models import Figure, Item
from materials.services.figures import change_figure
from studio.accounts.models import Role, User
from studio.management.demo.make import make_demo
from studio.money import exact
from studio.tasks.models import Work, WorkState
from studio.tasks.running import perform
from tests.factories import PASSWORD, make_commission, make_lot, make_section
from tests.jobs.models_sent import make_model
from tests.jobs.models_sent import worked as worked_model
from tests.jobs.variation_samples import make_variation


@dataclass(frozen=True, slots=True)
class Made:
    """One person of each role; where to begin: the first page, what is newest, what no link leads to; held links."""

    people: dict[str, User]
    begin: tuple[str, ...]
    held: tuple[str, ...]


def make_whole_studio() -> Made:
    """The demo; and a draft, a version that is out, one that is accepted, hours, a model, and work in hand."""
    today = timezone.localdate()
    # Measuring the demo's model takes half a minute; a smaller one stands in for it.
    with patch("studio.management.demo.make.price_from_model"):
        make_demo(on=today)
    people = one_of_each_role()
    office = people[Role.OFFICE]
    draft, out, accepted = [_commission(office, title) for title in ("Weir Gate", "Reed Bench", "Lock Heron")]
    issue(out, office)
    agreed = issue(accepted, office)
    answer(by=office, quote=agreed, decision=Decision.ACCEPTED, said_by="R. Osei", note="By letter", on=today)
    margin = Figure.objects.get(key="margin")
    change_figure(by=office, figure=margin, version=margin.version, value=0.25)
    work = Work.objects.create(
        kind="test", title="Measuring a model", page="/commissions/", state=WorkState.RUNNING, started_by=office
    )
    accepted.refresh_from_db()
    at_the_bench(accepted, people)
    model = make_model(draft, office)
    add_planes(by=office, model=model, section="", planes=[("axis", "z at 1.1 m", plane_at("z", 1.1))])
    model = worked_model(model)
    acorns = Commission.objects.get(title="Six Acorns")
    supposed = with_the_draft(draft, office)
    sections = accepted.sections.values_list("pk", flat=True)
    return Made(
        people,
        (
            "/",
            *(reverse("price", args=[commission.pk]) for commission in (draft, out, accepted)),
            *(reverse("section_sheet", args=[pk]) for pk in sections),
            reverse("quote", args=[agreed.commission_id, agreed.version_number]),
            reverse("what_if", args=[draft.pk]) + "?profit_rate=31",
            reverse("figure", args=[margin.pk]),
            reverse("model_sheet", args=[model.pk]),
            reverse("measure_again", args=[model.pk]),
            reverse("take_planes", args=[model.pk, "mirror"]),
            reverse("photos", args=[acorns.pk]),
            reverse("snags", args=[acorns.pk]),
            reverse("commissioner", args=[acorns.pk]),
            reverse("statement", args=[acorns.pk]),
            *(reverse("variation", args=[acorns.pk, serial]) for serial in variations_of_each_state(acorns, office)),
            reverse("new_sign_off", args=[acorns.pk, "dispatch"]),
            *(reverse("hand_over", args=[row.commission_id]) for row in HandOver.objects.issued()),
            reverse("one_record", args=[draft_of_a_record(acorns, office)]),
            *(reverse("sign_off", args=[pk]) for pk in sign_offs_of_each_state(acorns)),
            reverse("send_reminder", args=[sign_offs_of_each_state(acorns)[0]]),
            reverse("plan_sheet", args=[supposed.pk]),
            reverse("commission_plan", args=[draft.pk]),
            reverse("work", args=[work.pk]),
            reverse("past_norm", args=["cast", "B"]),
            *(reverse(name) for name in ("price_book_take_in", "sign_in")),
            *(reverse(name) for name in ("bench", "start_clock", "drop_clock", "undo_hours")),
            *(reverse(name) for name in ("bench_tiles", "bench_shell", "bench_worker")),
        ),
        held_links(acorns, office),
    )


def held_links(commission: Commission, office: User) -> tuple[str, ...]:
    """Where a link of each kind leads."""
    asked = SignOff.objects.awaited().filter(commission=commission)[0]
    out = commission.variations.get(issued_at__isnull=False, answer=None)
    links = (
        ("progress", LinkKind.PROGRESS, {"commission": commission, "shows_documents": True}),
        ("answer_sign_off", LinkKind.SIGN_OFF, {"commission": commission, "sign_off": asked}),
        ("piece", LinkKind.PIECE, {"commission": HandOver.objects.issued()[0].commission}),
        ("held_variation", LinkKind.VARIATION, {"commission": commission, "variation": out}),
        ("held_statement", LinkKind.STATEMENT, {"commission": commission}),
        ("calendar_feed", LinkKind.CALENDAR, {"commission": None}),
    )
    on = timezone.localdate() + datetime.timedelta(days=30)
    common = {"by": office, "receiver": "R. Osei", "expires_on": on, "at": timezone.now()}
    return tuple(reverse(name, args=[make_link(kind=kind, **common, **about).token]) for name, kind, about in links)


def draft_of_a_record(commission: Commission, office: User) -> int:
    """A hand-over record that is not issued yet."""
    known = begun_record(commission, timezone.localdate())
    return draft_record(by=office, commission=commission, given=RecordParticulars(**known, photos=[])).pk


def sign_offs_of_each_state(commission: Commission) -> list[int]:
    """One in draft, one that is awaited, one that came back on a signed sheet."""
    rows = commission.sign_offs.all()
    return [
        rows.get(sent_at=None).pk,
        rows.get(sent_at__isnull=False, answer=None).pk,
        rows.exclude(answer__scan_sha256="").get(answer__isnull=False).pk,
    ]


def with_the_draft(draft: Commission, office: User) -> Plan:
    """A plan that takes the draft on, worked out and neither kept nor published."""
    supposed = Supposition(
        TAKE_ON, f"take on {draft.title}", commission=str(draft.pk), estimate=estimate_of(draft).kept()
    )
    plan = ask_for_plan(by=office, suppositions=[supposed], seconds=1)
    perform(plan.work_id or 0)
    return plan


def variations_of_each_state(commission: Commission, office: User) -> list[int]:
    """Those of the demo, and a draft that changes what is done already."""
    again = {"section": "Nut", "what": "grade", "value": "C"}
    make_variation(commission, office, changes=[again], title="Left rough")
    return list(commission.variations.order_by("-serial").values_list("serial", flat=True))


def at_the_bench(commission: Commission, people: dict[str, User]) -> None:
    """Everybody has booked an hour; a clock runs; material was issued, and steel has gone out."""
    now, today, office = timezone.now(), timezone.localdate(), people[Role.OFFICE]
    stage = commission.stages.filter(key="pattern").earliest("pk")
    for person in people.values():
        book(by=person, person=person, stage=stage, work_date=today, minutes=60, key=uuid.uuid4(), at=now)
        start(person=person, stage=stage, at=now)
    item = Item.objects.get(key="foam_block")
    lot = make_lot(item, "12", by=office)
    issue_material(by=office, stage=stage, lot=lot, quantity=exact(2), key=uuid.uuid4())
    particulars = Particulars(
        what="Milling of the heron",
        firm="Fenwharf Pattern Works",
        stage=stage,
        ordered_on=today,
        due_back=None,
        out_on=None,
        back_on=None,
        agreed_minor=42_000,
        charged_minor=None,
    )
    order(by=office, commission=commission, particulars=particulars, currency="GBP")


def _commission(by: User, title: str) -> Commission:
    commission = make_commission(title, number=f"25-{Commission.objects.count():03d}")
    make_section(commission)
    make_section(commission, "Column", shape="cylinder", dimensions={"diameter": "0.4 m", "height": "2.1 m"})
    haulage = Item.objects.get(key="haulage")
    add_extra(by=by, commission=commission, item=haulage, label="Haulage to the weir", quantity=exact(1.5))
    return commission


def issue(commission: Commission, by: User) -> Quote:
    """Issue the draft as it stands."""
    seen, today = drafted(commission), timezone.localdate()
    working = worked(seen, today).working
    assert working is not None
    return issue_as_agreed(
        by=by,
        commission=commission,
        version_number=seen.draft.version_number,
        agreed=seal(seen, working),
        on=today,
        at=timezone.now(),
    )


def one_of_each_role() -> dict[str, User]:
    """Three people whose password is that of the factories."""
    return {
        role: User.objects.create_user(username=f"a-{role}", password=PASSWORD, shown_name=f"Quill {role}", role=role)
        for role in Role.values
    }
