"""From an agreed draft to a frozen version: price it again, print it, and freeze both if they are what was agreed."""

import datetime

from jobs.models import Commission, Quote
from jobs.quotes.sheets import printed_quote, seal
from jobs.quotes.workings import worked
from jobs.services.drafts import Refused, drafted
from jobs.services.quotes import AlreadyDone, issue
from studio.accounts.models import User
from studio.locking import Conflict


def issue_as_agreed(
    *, by: User, commission: Commission, version_number: int, agreed: str, on: datetime.date, at: datetime.datetime
) -> Quote:
    """Issue the version whose seal was agreed to.

    The document is printed before the transaction begins, for that takes time; the transaction then makes sure that
    nothing has been changed meanwhile.
    """
    before = commission.quotes.issued().filter(version_number=version_number).first()
    if before is not None:
        before.commission = commission
        raise AlreadyDone(before)
    seen = drafted(commission)
    found = worked(seen, on)
    if found.working is None:
        raise Refused(found.problem)
    if found.working.priced is None:
        names = ", ".join(item.name for item in found.wanting)
        raise Refused(f"There is no price for {names}; complete the price book, then issue the quote.")
    if agreed != seal(seen, found.working):
        raise Conflict
    pdf = printed_quote(seen, found.working, found.working.priced, by=by)
    return issue(by=by, seen=seen, working=found.working, pdf=pdf, at=at)
