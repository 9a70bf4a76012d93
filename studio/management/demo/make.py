"""Make Saltgate Yard, through the same services that people use."""

import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.models import Commission, Decision, Quote
from jobs.quotes.sheets import printed_quote
from jobs.quotes.workings import worked
from jobs.services.commissions import PARTICULARS, open_commission
from jobs.services.drafts import drafted
from jobs.services.extras import add_extra
from jobs.services.quotes import answer, issue
from jobs.services.sections import FIELDS, add_section
from materials.models import Item, Pack, Price
from studio.accounts.models import User
from studio.accounts.services import add_person
from studio.management.demo import commissions, handed_over, house, prices
from studio.management.demo.gel import enter_gel_times
from studio.management.demo.handed_over import hand_over_buoy
from studio.management.demo.lifting import draw_bases, own_slings
from studio.management.demo.looks import look_at_acorns
from studio.management.demo.modelled import price_from_model
from studio.management.demo.plan import (
    ADA,
    HERON,
    HERON_EXTRAS,
    HERON_SECTIONS,
    go_on_with_heron,
    plan_the_studio,
    site_of_heron,
)
from studio.management.demo.sign_offs import put_forward
from studio.management.demo.stages import move_acorns
from studio.management.demo.stores import fill_stores
from studio.management.demo.told import give_calendars, tell_commissioners
from studio.management.demo.variations import agree_changes, pay_so_far
from studio.management.demo.ways import know_the_ways, know_where_it_stands
from studio.management.demo.work import book_acorns
from studio.money import to_minor
from studio.office.models import House

NEEDED_IN_DAYS = {
    "The Old Buoy": 70,
    "Six Acorns": -5,
    "Reed Heron": 36,
    "The Long Pear": 140,
    "Tide Lantern": 140,
}


@transaction.atomic
def make_demo(*, on: datetime.date) -> None:
    """Everything the demo holds, with its dates counted back from ``on``."""
    House.objects.filter(pk=1).update(**house.HOUSE)
    people = _people()
    _price_book(on - datetime.timedelta(days=400))
    owner, office = people["maud"], people["tam"]
    enter_gel_times(office)
    own_slings(office, on)
    know_the_ways(office)

    buoy = _buoy(owner, office, on - datetime.timedelta(days=handed_over.DAYS_BEFORE))
    hand_over_buoy(buoy, people, on)
    acorns = _commission(office, on, commissions.ACORNS, commissions.ACORN_SECTIONS, commissions.ACORN_EXTRAS)
    quoted = _issue(owner, acorns, on - datetime.timedelta(weeks=9))
    answer(
        by=office,
        quote=quoted,
        decision=Decision.ACCEPTED,
        said_by="Clerk to the parish",
        note="By letter, minute 14 of the parish meeting.",
        on=on - datetime.timedelta(weeks=8),
    )
    move_acorns(acorns, people, on)
    book_acorns(acorns, people, on)
    fill_stores(acorns, people, on)
    look_at_acorns(acorns, people)
    pear = _commission(office, on, commissions.PEAR, commissions.PEAR_SECTIONS, commissions.PEAR_EXTRAS)
    _issue(owner, pear, on - datetime.timedelta(days=6))
    draw_bases(office, acorns, pear)
    know_where_it_stands(office, pear)
    lantern = _commission(owner, on, commissions.LANTERN, (), commissions.LANTERN_EXTRAS)
    price_from_model(owner, lantern)
    put_forward(acorns, lantern, office, on)
    agree_changes(acorns, people, on)
    pay_so_far(acorns, people, on)
    tell_commissioners(acorns, pear, lantern, people, on)
    give_calendars(people, on)
    heron = _commission(office, on, HERON, HERON_SECTIONS, HERON_EXTRAS)
    agreed = _issue(owner, heron, on - datetime.timedelta(weeks=4))
    answer(
        by=office,
        quote=agreed,
        decision=Decision.ACCEPTED,
        said_by=ADA,
        note="By email.",
        on=on - datetime.timedelta(weeks=3),
    )
    go_on_with_heron(heron, people, on)
    plan_the_studio(people, on)


def _buoy(owner: User, office: User, on: datetime.date) -> Commission:
    made = _commission(office, on, handed_over.BUOY, handed_over.BUOY_SECTIONS, handed_over.BUOY_EXTRAS)
    quoted = _issue(owner, made, on)
    said = {"said_by": "Hanne Dorrit", "note": "By signed copy."}
    answer(by=office, quote=quoted, decision=Decision.ACCEPTED, on=on + datetime.timedelta(days=9), **said)
    return made


def _issue(by: User, commission: Commission, on: datetime.date) -> Quote:
    seen = drafted(commission)
    found = worked(seen, on)
    if found.working is None or found.working.priced is None:
        raise RuntimeError(f"The demo cannot price {commission}: {found.problem or found.wanting}")
    at = datetime.datetime.combine(on, datetime.time(10, 30), tzinfo=datetime.UTC)
    pdf = printed_quote(seen, found.working, found.working.priced, by=by)
    return issue(by=by, seen=seen, working=found.working, pdf=pdf, at=at)


def _people() -> dict[str, User]:
    (first, name, role), *others = house.PEOPLE
    owner = User.objects.create_user(username=first, password=house.PASSWORD, shown_name=name, role=role)
    people = {first: owner}
    for username, shown_name, other_role in others:
        people[username] = add_person(
            by=owner, username=username, shown_name=shown_name, role=other_role, password=house.PASSWORD
        )
    return people


def _price_book(valid_from: datetime.date) -> None:
    items = {item.key: item for item in Item.objects.all()}
    for key, label, quantity, amount in prices.PRICES:
        pack, _ = Pack.objects.update_or_create(item=items[key], quantity=Decimal(quantity), defaults={"label": label})
        Price.objects.create(pack=pack, valid_from=valid_from, amount_minor=to_minor(Decimal(amount), "GBP"))


def _commission(
    by: User,
    on: datetime.date,
    particulars: dict[str, str],
    sections: tuple[dict[str, Any], ...],
    extras: tuple[tuple[str, str, str], ...],
) -> Commission:
    needed_by = on + datetime.timedelta(days=NEEDED_IN_DAYS[particulars["title"]])
    given: dict[str, Any] = {name: particulars.get(name, "") for name in PARTICULARS}
    given |= {"needed_by": needed_by, "site_from": None, "site_until": None, "site_shut": []}
    if particulars is HERON:
        given |= site_of_heron(on)
    commission = open_commission(by=by, on=on, particulars=given)
    for section in sections:
        add_section(by=by, commission=commission, values={name: section[name] for name in FIELDS if name in section})
    for key, label, quantity in extras:
        item = Item.objects.get(key=key)
        add_extra(by=by, commission=commission, item=item, label=label, quantity=Decimal(quantity))
    return commission
