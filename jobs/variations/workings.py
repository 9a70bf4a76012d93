"""A variation worked out for a page, what a person agrees to issue, and issuing it as agreed."""

import datetime
import hashlib
from dataclasses import dataclass

from jobs.models import Variation
from jobs.quotes.workings import WantingPrice, wanting
from jobs.services.drafts import Refused
from jobs.services.variation_pricing import Asked, Varied, asked_of, work_out_variation
from jobs.services.variations import issue_variation
from jobs.variations.sheets import printed_variation, variation_sheet
from materials.estimator.errors import EstimatorError
from materials.pricing import PricesMissing
from studio.accounts.models import User
from studio.locking import Conflict
from studio.money import MoneyError


@dataclass(frozen=True, slots=True)
class WorkedVariation:
    """A variation worked out; without ``varied`` the ``problem`` says why, or ``wanting`` what has no price."""

    varied: Varied | None
    problem: str
    wanting: tuple[WantingPrice, ...]


def worked_variation(asked: Asked, on: datetime.date) -> WorkedVariation:
    """Work a variation out for a page."""
    try:
        return WorkedVariation(work_out_variation(asked, on), "", ())
    except PricesMissing as missing:
        return WorkedVariation(None, "", wanting(missing.missing))
    except (EstimatorError, MoneyError) as error:
        return WorkedVariation(None, str(error), ())


def seal(varied: Varied) -> str:
    """A mark of a draft and what it came to: what a person agreed to issue."""
    price = varied.price
    state = [varied.asked.stamp, varied.now.on.isoformat(), varied.currency, price.net_minor, price.gross_minor]
    return hashlib.sha256(repr([*state, varied.days]).encode()).hexdigest()


def issue_as_shown(
    *, by: User, variation: Variation, agreed: str, on: datetime.date, at: datetime.datetime
) -> Variation:
    """Issue the draft whose seal was agreed to; its document is printed before the transaction begins."""
    found = worked_variation(asked_of(variation), on)
    if found.varied is None:
        names = ", ".join(item.name for item in found.wanting)
        raise Refused(found.problem or f"There is no price for {names}; complete the price book, then issue it.")
    if agreed != seal(found.varied):
        raise Conflict
    sheet = variation_sheet(found.varied, by=by)
    pdf = printed_variation(sheet)
    return issue_variation(by=by, varied=found.varied, said=sheet.said, pdf=pdf, at=at)
