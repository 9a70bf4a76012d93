"""One cast of people and things for every test; each function makes one row with sensible values."""

import datetime
import uuid
from decimal import Decimal
from typing import Any

from django.test import Client
from django.utils import timezone

from jobs.models import Commission, CommissionBase, CommissionState, Quote, Section, Stage
from jobs.queries import folded
from jobs.quotes.workings import worked
from jobs.services.drafts import drafted
from jobs.services.quotes import issue
from materials.models import Item, Lot, Pack, Price
from materials.services.stores import Delivery, receive
from studio.accounts.models import Role, User
from studio.office.models import TaxCategory

PASSWORD = "four unrelated garden words"
_PEOPLE = {Role.OWNER: "Maud Ellery", Role.OFFICE: "Tam Okoro", Role.BENCH: "Ines Varga"}


def make_person(role: str = Role.OWNER, **values: Any) -> User:
    """Somebody of that role: Maud owns the studio, Tam keeps the office, Ines is at the bench."""
    name = values.pop("shown_name", _PEOPLE[Role(role)])
    username = values.pop("username", name.split()[0].lower())
    return User.objects.create_user(username=username, password=PASSWORD, role=role, shown_name=name, **values)


def signed_in(role: str = Role.OWNER) -> Client:
    """A browser in which somebody of that role has signed in."""
    client = Client()
    client.force_login(make_person(role), backend="django.contrib.auth.backends.ModelBackend")
    return client


def make_commission(title: str = "The Long Pear", **values: Any) -> Commission:
    """A commission of the market garden's."""
    number = values.pop("number", f"26-{Commission.objects.count() + 1:03d}")
    commission = Commission(
        number=number,
        title=title,
        commissioner=values.pop("commissioner", "Fallow Lane Market Garden"),
        tax_category=values.pop("tax_category", None) or TaxCategory.objects.earliest("position"),
        **values,
    )
    commission.search_text = folded(f"{number} {title} {commission.commissioner} {commission.place}")
    commission.save()
    return commission


def make_section(commission: Commission, name: str = "Base", **values: Any) -> Section:
    """A frustum 0.9 m high, in two pieces."""
    return Section.objects.create(
        commission=commission,
        name=name,
        position=values.pop("position", commission.sections.count() + 1),
        shape=values.pop("shape", "frustum"),
        dimensions=values.pop("dimensions", {"bottom_diameter": "0.9 m", "top_diameter": "1.5 m", "height": "0.9 m"}),
        **values,
    )


def make_base(commission: Commission, **values: Any) -> CommissionBase:
    """A plate of 400 by 300 mm on four bolts, with one leaning leg."""
    typed = {"length": "400 mm", "width": "300 mm", "thickness": "15 mm", "mass": "40 kg"}
    bolts = "150 100 16\n-150 100 16\n-150 -100 16\n150 -100 16"
    return CommissionBase.objects.create(
        commission=commission, **{**typed, "bolts": bolts, "legs": "0 0 60 15 90", "version": 1, **values}
    )


def make_open_stage(section: Section, key: str = "finish", **values: Any) -> Stage:
    """A stage that hours may be booked on: the section's commission is accepted with it."""
    commission = section.commission
    if commission.state != CommissionState.ACCEPTED:
        commission.state = CommissionState.ACCEPTED
        commission.save(update_fields=["state"])
    return make_stage(commission, section, key, **{"allowed_minutes": 960, **values})


def make_item(key: str = "marble_flour", **values: Any) -> Item:
    """An item that no take-off asks for, so that the catalogue does not hold it already."""
    defaults = {"name": "Marble flour", "kind": "filler", "unit": "kg", "supplier": "Brome and Daughters"}
    return Item.objects.create(key=key, **{**defaults, **values})


def make_price(
    item: Item, amount_minor: int, valid_from: str = "2026-01-05", quantity: str = "25", label: str = "25 kg bag"
) -> Price:
    """What a pack of an item costs from a day on; the pack is made where there is none of that size."""
    pack, _ = Pack.objects.get_or_create(item=item, quantity=Decimal(quantity), defaults={"label": label})
    return Price.objects.create(
        pack=pack, valid_from=datetime.date.fromisoformat(valid_from), amount_minor=amount_minor
    )


def price_everything(amount_minor: int = 1_000, valid_from: str = "2020-01-06") -> None:
    """One price for everything in the catalogue, by the unit, so that whatever is worked out has its prices."""
    packs = {pack.item_id: pack for pack in Pack.objects.all()}
    lacking = Item.objects.exclude(pk__in=packs)
    made = Pack.objects.bulk_create(Pack(item=item, label="1", quantity=Decimal(1)) for item in lacking)
    Price.objects.bulk_create(
        Price(pack=pack, valid_from=datetime.date.fromisoformat(valid_from), amount_minor=amount_minor)
        for pack in [*packs.values(), *made]
    )


def make_issued(commission: Commission, by: User, **values: Any) -> Quote:
    """The commission's draft, issued at today's prices; its document is a stand-in, for printing takes time."""
    seen = drafted(commission)
    working = worked(seen, values.pop("on", timezone.localdate())).working
    assert working is not None
    return issue(by=by, seen=seen, working=working, pdf=b"%PDF-1.7 stand-in", at=timezone.now(), **values)


def make_stage(commission: Commission, section: Section | None = None, key: str = "cast", **values: Any) -> Stage:
    """A stage of the commission; its code follows the count of stages there are."""
    code = values.pop("code", f"K{Stage.objects.count() + 1:05d}")
    defaults = {"name": key.capitalize(), "position": commission.stages.count() + 1, "code": code}
    return Stage.objects.create(commission=commission, section=section, key=key, **{**defaults, **values})


def make_stage_in_hand(title: str = "The Long Pear", section: str = "Base", **values: Any) -> Stage:
    """A stage of a commission that is accepted."""
    commission = make_commission(title, state=CommissionState.ACCEPTED, **values)
    return make_stage(commission, make_section(commission, section))


def make_lot(item: Item, quantity: str = "25", cost_minor: int = 10_000, **values: Any) -> Lot:
    """A lot as it came, taken in through the stores."""
    by = values.pop("by", None) or User.objects.filter(role=Role.OFFICE).first() or make_person(Role.OFFICE)
    defaults = {"currency": "GBP", "batch": "B-117", "supplier": "Brome and Daughters"}
    days = {"received": datetime.date(2026, 1, 5), "expires": None}
    delivery = Delivery(quantity=Decimal(quantity), cost_minor=cost_minor, **{**defaults, **days, **values})
    return receive(by=by, item=item, delivery=delivery, key=uuid.uuid4()).lot
