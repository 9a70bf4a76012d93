"""The Sheets of a commission: what is offered where, the page and the PDF of one mechanism, and the job pack."""

import re
from html import unescape

import pytest
from django.urls import reverse

from jobs.models import Commission, JobPack, Section
from jobs.sheets.known import Job
from jobs.sheets.registry import KINDS, groups, offered
from materials.estimator.lines import STAGES
from studio.accounts.models import Role
from studio.tasks.models import Work, WorkState
from studio.tasks.running import perform
from tests.factories import make_base, make_commission, make_open_stage, make_section, signed_in
from tests.studio.pdf_reading import outline, text

pytestmark = pytest.mark.django_db

MONEY = re.compile(r"£|GBP|margin|mark-up|\bcosts?\b", re.IGNORECASE)


@pytest.fixture
def commission() -> Commission:
    found = make_commission()
    make_section(found, "Base")
    make_section(found, "Belly")
    make_base(found)
    return found


def address(name: str, commission: Commission, kind: str = "layup", query: str = "") -> str:
    return reverse(name, args=[commission.pk, kind]) + (f"?{query}" if query else "")


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.key)
def test_a_kind_says_all_that_the_frame_needs(kind) -> None:
    assert all(caution.endswith(".") for caution in [*kind.cautions, kind.judgement, kind.says])
    assert kind.cautions
    assert set(kind.stages) <= {*STAGES, "assembly", "install"}


def test_everything_offered_opens_for_the_bench_without_money(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    sheets = offered(Job(commission))
    assert {each.kind for each in sheets} == set(KINDS)
    listed = client.get(reverse("sheets", args=[commission.pk])).content.decode()
    for each in sheets:
        link = address("sheet", commission, each.kind.key, each.query)
        assert link.replace("&", "&amp;") in listed
        page = client.get(link)
        assert page.status_code == 200
        body = unescape(page.content.decode())
        assert each.kind.judgement in body or "verdict stop" in body
        # Only what is read: a token in an attribute may hold any letters.
        assert not MONEY.search(re.sub(r"<[^>]*>", " ", body))


def test_a_stage_leads_to_its_sheets_in_one_tap(commission: Commission) -> None:
    section = commission.sections.get(name="Belly")
    stage = make_open_stage(section, "cast")
    body = signed_in(Role.BENCH).get(reverse("stage_sheet", args=[stage.code])).content.decode()
    assert address("sheet", commission, "layup", f"section={section.pk}&amp;stage=cast") in body


def test_the_page_and_the_pdf_say_the_same_and_the_pdf_twice_the_same(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    query = f"section={commission.sections.get(name='Belly').pk}&stage=mould"
    page = client.get(address("sheet", commission, query=query)).content.decode()
    pdf = client.get(address("sheet_pdf", commission, query=query))
    assert pdf["Content-Type"] == "application/pdf"
    assert "Lay-up card, Belly, mould" in pdf["Content-Disposition"]
    said = text(pdf.content)
    for figure in re.findall(r"<dd>([^<]+)</dd>", page.partition('class="big"')[2].partition("</dl>")[0]):
        assert re.sub(r"\s", "", figure) in re.sub(r"\s", "", said)
    assert "How it was worked" in said
    assert pdf.content == client.get(address("sheet_pdf", commission, query=query)).content


@pytest.mark.parametrize("query", ["section=0", "section=x", "stage=paint", "section=1e9&stage=%00"])
def test_a_section_or_stage_that_is_not_there_is_refused_with_the_choice(commission: Commission, query: str) -> None:
    client = signed_in(Role.BENCH)
    for name in ("sheet", "sheet_pdf"):
        page = client.get(address(name, commission, query=query))
        assert page.status_code == 422
        assert "There is a problem" in page.content.decode()


def test_a_sheet_that_cannot_be_worked_says_why(commission: Commission) -> None:
    faulty = {"bottom_diameter": "0.9 m", "top_diameter": "1.5 m", "height": "tall"}
    Section.objects.filter(name="Belly").update(dimensions=faulty)
    page = signed_in(Role.BENCH).get(address("sheet", commission))
    assert page.status_code == 200
    assert re.search(r'class="verdict stop"><p>[^<]*height[^<]*“tall”[^<]*</p>', page.content.decode())


def test_a_commission_without_sections_offers_none(client) -> None:
    commission, member = make_commission(), signed_in(Role.BENCH)
    assert (
        "The sheets begin with the first section"
        in member.get(reverse("sheets", args=[commission.pk])).content.decode()
    )
    assert "There is no section yet" in member.get(address("sheet", commission)).content.decode()


def test_an_unknown_kind_or_part_of_a_pack_is_not_found(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    assert client.get(address("sheet", commission, "nothing")).status_code == 404
    for query in ("section=0", "stage=paint", "section=x"):
        assert client.get(f"{reverse('job_pack', args=[commission.pk])}?{query}").status_code == 404


def test_the_pack_of_a_section_and_stage_holds_its_sheets_with_contents(commission: Commission) -> None:
    section = commission.sections.get(name="Base")
    query = f"section={section.pk}&stage=cast"
    pdf = signed_in(Role.BENCH).get(f"{reverse('job_pack', args=[commission.pk])}?{query}").content
    titles = [f"{each.kind.title}: {each.subject.words}" for each in offered(Job(commission), section.pk, "cast")]
    found = outline(pdf)
    assert [title for title in found if title in titles] == titles
    assert not any("Belly" in title for title in found)


def test_the_whole_pack_is_printed_behind_the_pages_and_kept(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    pack, listed = reverse("job_pack", args=[commission.pk]), reverse("sheets", args=[commission.pk])
    assert client.get(pack).status_code == 404
    commission.sections.filter(name="Belly").delete()
    assert client.post(reverse("print_job_pack", args=[commission.pk])).status_code == 302
    assert "Printing the job pack" in client.get(listed).content.decode()
    perform(JobPack.objects.get().work_id)
    found = client.get(pack)
    assert found["Content-Type"] == "application/pdf"
    titles = [each.kind.title for group in groups(Job(commission)) for each in group.sheets]
    assert f"Job pack: {len(titles)} sheets in one PDF" in client.get(listed).content.decode()
    assert [title.partition(":")[0] for title in outline(found.content) if title.partition(":")[0] in titles] == titles
    assert "Contents" in text(found.content)


def test_a_pack_asked_for_twice_is_printed_once(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    for _ in range(2):
        client.post(reverse("print_job_pack", args=[commission.pk]))
    first, second = Work.objects.order_by("pk")
    assert (first.state, second.state) == (WorkState.CANCELLED, WorkState.WAITING)
    assert JobPack.objects.get().work == second


def test_a_pack_without_a_sheet_says_so() -> None:
    commission, client = make_commission(), signed_in(Role.BENCH)
    client.post(reverse("print_job_pack", args=[commission.pk]))
    work = Work.objects.get()
    perform(work.pk)
    work.refresh_from_db()
    assert work.state == WorkState.FAILED
    assert "describe the first section" in work.problem
