"""Make Saltgate Yard, through the same services that people use."""

import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.models import Commission
from jobs.services.commissions import PARTICULARS, open_commission
from jobs.services.sections import FIELDS, add_section
from materials.models import Item, Pack, Price
from studio.accounts.models import User
from studio.accounts.services import add_person
from studio.management.demo import commissions, house, prices
from studio.money import to_minor
from studio.office.models import House


@transaction.atomic
def make_demo(*, on: datetime.date) -> None:
    """Everything the demo holds, with its dates counted back from ``on``."""
    House.objects.filter(pk=1).update(**house.HOUSE)
    people = _people()
    _price_book(on.replace(month=1, day=2))
    owner, office = people["maud"], people["tam"]
    _commission(office, on, commissions.ACORNS, commissions.ACORN_SECTIONS)
    _commission(office, on, commissions.PEAR, commissions.PEAR_SECTIONS)
    _commission(owner, on, commissions.LANTERN, commissions.LANTERN_SECTIONS)


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
    by: User, on: datetime.date, particulars: dict[str, str], sections: tuple[dict[str, Any], ...]
) -> Commission:
    given = {name: particulars.get(name, "") for name in PARTICULARS} | {"needed_by": on + datetime.timedelta(weeks=20)}
    commission = open_commission(by=by, on=on, particulars=given)
    for section in sections:
        add_section(by=by, commission=commission, values={name: section[name] for name in FIELDS if name in section})
    return commission
