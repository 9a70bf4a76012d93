"""What the take-off does not give: haulage, an engineer, hours on site."""

from decimal import Decimal

from django.db import transaction

from jobs.models import Commission, Extra
from jobs.services.drafts import Refused, held, open_to_change
from materials.models import Item
from studio.accounts.models import User
from studio.audit import record


@transaction.atomic
def add_extra(*, by: User, commission: Commission, item: Item, label: str, quantity: Decimal) -> Extra:
    """Add one; the very same a second time is what is there already."""
    commission = held(commission)
    open_to_change(commission)
    there = commission.extras.select_related("item").filter(label=label).first()
    if there is not None:
        if (there.item_id, there.quantity) == (item.pk, quantity):
            return there
        raise Refused(
            f"“{label}” is there already, as {there.quantity:f} {there.item.unit}; remove it or use another name."
        )
    extra = Extra.objects.create(commission=commission, item=item, label=label, quantity=quantity)
    record(actor=by, subject=commission.subject, act=f"Extra added: {label}", after=_values(extra), has_money=True)
    return extra


@transaction.atomic
def remove_extra(*, by: User, extra: Extra) -> None:
    """Take one off the draft; issued versions keep theirs."""
    commission = held(extra.commission)
    open_to_change(commission)
    values = _values(extra)
    extra.delete()
    record(actor=by, subject=commission.subject, act=f"Extra removed: {extra.label}", before=values, has_money=True)


def _values(extra: Extra) -> dict[str, str]:
    return {"item": extra.item.name, "quantity": f"{extra.quantity:f} {extra.item.unit}"}
