"""Where a draft begins, and how its terms are changed."""

from decimal import Decimal

import pytest

from jobs.models import Commission, Decision, Extra, Quote
from jobs.services.drafts import Refused, drafted, save_terms
from jobs.services.quotes import answer
from materials.models import Figure, Item
from studio.accounts.models import AuditEntry
from studio.locking import Conflict
from studio.office.models import House
from tests.factories import make_commission, make_issued, make_person, make_section, price_everything

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    commission = make_commission()
    make_section(commission)
    return commission


def test_the_first_draft_begins_with_the_houses_terms_and_nothing_is_written(commission: Commission) -> None:
    House.objects.update(quote_valid_days=45, terms="Paid within a month")
    Figure.objects.filter(key="margin").update(value=0.22)
    draft = drafted(commission).draft
    assert (draft.version_number, draft.valid_days, draft.terms) == (1, 45, "Paid within a month")
    assert (draft.profit_kind, draft.profit_rate) == ("margin", Decimal("0.22"))
    assert not Quote.objects.exists()


def test_where_profit_is_a_mark_up_the_same_price_comes_out(commission: Commission) -> None:
    House.objects.update(profit_kind="markup")
    Figure.objects.filter(key="margin").update(value=0.2)
    # Margin 0.2 is mark-up 0.25, by definition.
    assert drafted(commission).draft.profit_rate == Decimal("0.25")


def test_a_later_draft_begins_with_the_last_versions_terms(commission: Commission) -> None:
    owner = make_person()
    price_everything()
    save_terms(by=owner, commission=commission, version=0, terms={"contingency": Decimal("0.11"), "care": "Wax it"})
    make_issued(commission, owner)
    House.objects.update(care="Something else")
    draft = drafted(commission).draft
    assert (draft.version_number, draft.contingency, draft.care) == (2, Decimal("0.11"), "Wax it")
    # Weeks that nobody typed are worked out afresh.
    assert draft.programme_weeks is None


def test_weeks_that_were_typed_stay_typed(commission: Commission) -> None:
    owner = make_person()
    price_everything()
    save_terms(by=owner, commission=commission, version=0, terms={"programme_weeks": 40})
    make_issued(commission, owner)
    assert drafted(commission).draft.programme_weeks == 40


def test_terms_are_kept_with_who_changed_them(commission: Commission) -> None:
    owner = make_person()
    save_terms(by=owner, commission=commission, version=0, terms={"contingency": Decimal("0.1")})
    draft = Quote.objects.get()
    assert (draft.contingency, draft.version, draft.issued_at) == (Decimal("0.1"), 1, None)
    entry = AuditEntry.objects.get(subject=commission.subject)
    assert entry.has_money
    assert (entry.actor, entry.before["contingency"], entry.after["contingency"]) == (owner, "0.0750", "0.1")


def test_whoever_saves_second_is_told(commission: Commission) -> None:
    owner = make_person()
    save_terms(by=owner, commission=commission, version=0, terms={"care": "Mine"})
    with pytest.raises(Conflict):
        save_terms(by=owner, commission=commission, version=0, terms={"care": "Yours"})
    assert Quote.objects.get().care == "Mine"


def test_the_same_terms_twice_are_kept_once(commission: Commission) -> None:
    owner = make_person()
    for _ in range(2):
        save_terms(by=owner, commission=commission, version=0, terms={"contingency": Decimal("0.1")})
    assert Quote.objects.get().version == 1
    assert AuditEntry.objects.filter(subject=commission.subject).count() == 1


def test_nothing_is_changed_once_a_version_is_accepted(commission: Commission) -> None:
    owner = make_person()
    price_everything()
    quote = make_issued(commission, owner)
    answer(by=owner, quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="", on=quote.issued_at.date())
    with pytest.raises(Refused, match="is accepted; what changes after that is agreed as a variation"):
        save_terms(by=owner, commission=commission, version=0, terms={"care": "Too late"})


def test_the_stamp_differs_after_any_change(commission: Commission) -> None:
    stamps = [drafted(commission).stamp]
    item = Item.objects.get(key="haulage")
    extra = Extra.objects.create(commission=commission, item=item, label="Haulage", quantity=Decimal(1))
    stamps.append(drafted(commission).stamp)
    Extra.objects.filter(pk=extra.pk).update(quantity=Decimal(2))
    stamps.append(drafted(commission).stamp)
    make_section(commission, "Top")
    stamps.append(drafted(commission).stamp)
    commission.sections.filter(name="Top").update(version=1)
    stamps.append(drafted(commission).stamp)
    save_terms(by=make_person(), commission=commission, version=0, terms={"care": "Wax"})
    stamps.append(drafted(commission).stamp)
    assert len(set(stamps)) == len(stamps)
    assert drafted(commission).stamp == stamps[-1]
