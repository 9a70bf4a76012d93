"""Trying a change on a draft, and keeping it."""

import re
from decimal import Decimal

import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Commission, Decision, Quote
from jobs.quotes.workings import worked
from jobs.services.drafts import drafted
from jobs.services.quotes import answer
from jobs.services.what_if import Trial, keep_change, tried
from materials.models import LayUp, PaintSystem
from studio.accounts.models import AuditEntry
from studio.locking import Conflict
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    price_everything()
    commission = make_commission()
    make_section(commission, "Base")
    make_section(commission, "Top")
    return commission


def net(commission: Commission, trial: Trial | None = None) -> int:
    seen = drafted(commission)
    found = worked(tried(seen, trial) if trial else seen, timezone.localdate()).working
    assert found is not None
    assert found.priced is not None
    return found.priced.price.net_minor


def test_what_is_tried_is_not_kept(commission: Commission) -> None:
    system = PaintSystem.objects.get(name="Gallery gloss")
    trial = Trial(None, {"grade": "A", "pulls": 4, "paint_system": system}, {"contingency": Decimal("0.2")})
    before = net(commission)
    assert net(commission, trial) > before
    assert net(commission) == before
    assert set(commission.sections.values_list("grade", "pulls", "paint_system")) == {("B", 1, None)}
    assert not Quote.objects.exists()


def test_one_section_alone_is_changed_where_one_is_chosen(commission: Commission) -> None:
    base = commission.sections.get(name="Base")
    seen = drafted(commission)
    changed = tried(seen, Trial(base.pk, {"grade": "C"}))
    assert [section.grade for section in changed.sections] == ["C", "B"]
    assert [section.grade for section in seen.sections] == ["B", "B"]


def test_keeping_changes_sections_and_terms_together(commission: Commission) -> None:
    owner = make_person()
    heavy = LayUp.objects.filter(use="cast", is_default=False).first()
    trial = Trial(None, {"cast_lay_up": heavy, "pulls": 2}, {"contingency": Decimal("0.12")})
    would = net(commission, trial)
    assert keep_change(by=owner, commission=commission, stamp=drafted(commission).stamp, trial=trial)
    assert net(commission) == would
    assert set(commission.sections.values_list("cast_lay_up", "pulls")) == {(heavy.pk if heavy else None, 2)}
    acts = {entry.act for entry in AuditEntry.objects.about(commission.subject)}
    assert acts == {"Section changed: Base", "Section changed: Top", "Terms of draft 1 changed"}


def test_keeping_twice_keeps_once(commission: Commission) -> None:
    owner = make_person()
    trial = Trial(None, {"grade": "A"})
    stamp = drafted(commission).stamp
    assert keep_change(by=owner, commission=commission, stamp=stamp, trial=trial)
    assert not keep_change(by=owner, commission=commission, stamp=stamp, trial=trial)


def test_nothing_is_kept_of_a_change_tried_on_another_draft(commission: Commission) -> None:
    stamp = drafted(commission).stamp
    commission.sections.filter(name="Top").update(version=3)
    with pytest.raises(Conflict):
        keep_change(by=make_person(), commission=commission, stamp=stamp, trial=Trial(None, {"grade": "A"}))
    assert set(commission.sections.values_list("grade", flat=True)) == {"B"}


def test_the_address_holds_what_is_tried(office: Client, commission: Commission) -> None:
    response = office.get(f"/commissions/{commission.pk}/price/try/?grade=A&contingency=12")
    page = response.content.decode()
    assert response.status_code == 200
    assert '<option value="A" selected>' in page
    assert 'name="contingency" value="12"' in page
    assert "Keep this change" in page
    difference = response.context["difference"]
    assert difference.was_minor == net(commission)
    assert difference.is_minor == net(commission, Trial(None, {"grade": "A"}, {"contingency": Decimal("0.12")}))


def test_the_fragment_alone_comes_while_choosing(office: Client, commission: Commission) -> None:
    address = f"/commissions/{commission.pk}/price/try/?grade=A"
    # The token against forgery is masked anew in every answer.
    token = re.compile(r'name="csrfmiddlewaretoken" value="\w+"')
    part = token.sub("", office.get(address, headers={"HX-Request": "true"}).content.decode())
    assert "<html" not in part
    assert part.strip() in token.sub("", office.get(address).content.decode())


def test_choosing_nothing_shows_no_difference(office: Client, commission: Commission) -> None:
    for address in ("", "?grade=&pulls=&section=", "?nothing=1"):
        page = office.get(f"/commissions/{commission.pk}/price/try/{address}").content.decode()
        assert "The difference" not in page


def test_choosing_what_is_there_already_says_so(office: Client, commission: Commission) -> None:
    page = office.get(f"/commissions/{commission.pk}/price/try/?grade=B").content.decode()
    assert "nothing chosen differs from the draft" in page


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("pulls=many", "“many” is not a plain number."),
        ("pulls=0", "0 is too small; the least is 1."),
        ("contingency=7.555", "7.555 has more than 2 decimals."),
        ("profit_kind=markup", "Enter the rate too: 20 % of the price is not 20 % of the cost."),
        ("profit_kind=margin&amp;profit_rate=96", "A margin is 95 % at most; enter less."),
        ("grade=Z", "Choose one of the list, or leave it as it is."),
        ("section=999999", "Choose one of the list, or leave it as it is."),
        ("paint_system=999999", "Choose one of the list, or leave it as it is."),
    ],
)
def test_it_refuses_what_cannot_be_tried_and_keeps_what_was_typed(
    office: Client, commission: Commission, typed: str, told: str
) -> None:
    typed = typed.replace("&amp;", "&")
    response = office.get(f"/commissions/{commission.pk}/price/try/?{typed}")
    page = response.content.decode()
    assert response.status_code == 422
    assert told in page
    assert "<title>Error: " in page
    name, _, value = typed.rpartition("&")[2].partition("=")
    assert response.context["form"].data[name] == value


def test_a_rate_that_no_price_can_be_built_with_is_told(office: Client, commission: Commission) -> None:
    page = office.get(f"/commissions/{commission.pk}/price/try/?profit_rate=120").content.decode()
    assert "margin is 1.2; it must be between 0 and 0.95" in page
    assert "Keep this change" not in page


def test_keeping_leads_back_to_the_price(office: Client, commission: Commission) -> None:
    address = f"/commissions/{commission.pk}/price/try/keep/"
    values = {"grade": "A", "section": "", "stamp": drafted(commission).stamp}
    for said in ("The change is kept.", "That change was kept before."):
        response = office.post(address, values, follow=True)
        assert response.redirect_chain[-1][0] == f"/commissions/{commission.pk}/price/"
        assert said in response.content.decode()
    assert set(commission.sections.values_list("grade", flat=True)) == {"A"}


def test_a_change_tried_on_another_draft_is_shown_afresh(office: Client, commission: Commission) -> None:
    stamp = drafted(commission).stamp
    make_section(commission, "Stalk")
    response = office.post(f"/commissions/{commission.pk}/price/try/keep/", {"grade": "A", "stamp": stamp})
    page = response.content.decode()
    assert response.status_code == 409
    assert "The draft was changed meanwhile" in page
    assert 'name="grade" value="A"' in page
    assert drafted(commission).stamp in page
    assert set(commission.sections.values_list("grade", flat=True)) == {"B"}


def test_what_is_accepted_is_not_changed(office: Client, commission: Commission) -> None:
    owner = make_person()
    quote = make_issued(commission, owner)
    answer(by=owner, quote=quote, decision=Decision.ACCEPTED, said_by="B", note="", on=timezone.localdate())
    values = {"grade": "A", "stamp": drafted(commission).stamp}
    response = office.post(f"/commissions/{commission.pk}/price/try/keep/", values)
    assert response.status_code == 409
    assert "agreed as a variation" in response.content.decode()
