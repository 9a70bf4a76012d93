"""A draft's price as the pages show it, or the sentence that says why there is none."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from jobs.services.drafts import Drafted
from jobs.services.pricing import Working, work_out
from jobs.specs import commission_spec
from materials.estimator.errors import EstimatorError
from materials.models import Item
from materials.pricing import MissingPrice
from studio.money import MoneyError


@dataclass(frozen=True, slots=True)
class WantingPrice:
    """Something that has no price: what it is, why, and its row in the price book if it has one."""

    name: str
    reason: str
    item_pk: int | None


@dataclass(frozen=True, slots=True)
class Worked:
    """A draft worked out; without ``working`` the ``problem`` says why."""

    working: Working | None
    problem: str
    wanting: tuple[WantingPrice, ...]

    @property
    def complete(self) -> bool:
        """Whether there is a whole price."""
        return self.working is not None and self.working.priced is not None


def worked(drafted: Drafted, on: datetime.date) -> Worked:
    """Work a draft out for a page."""
    if not drafted.sections:
        return Worked(None, "There is nothing to price yet: describe the first section on the Form sheet.", ())
    try:
        working = work_out(drafted=drafted, spec=commission_spec(drafted.commission, drafted.sections), on=on)
    except (EstimatorError, MoneyError) as error:
        return Worked(None, str(error), ())
    return Worked(working, "", wanting(working.missing))


def wanting(missing: Sequence[MissingPrice]) -> tuple[WantingPrice, ...]:
    """What has no price, with its row in the price book."""
    if not missing:
        return ()
    rows = {item.key: item for item in Item.objects.filter(key__in=[item.key for item in missing])}
    found = []
    for item in missing:
        row = rows.get(item.key)
        name = row.name if row else item.key
        found.append(WantingPrice(name, item.reason.replace(item.key, name, 1), row.pk if row else None))
    return tuple(found)
