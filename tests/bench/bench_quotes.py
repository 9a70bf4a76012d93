"""Issuing a quote of sixty lines, against the bare rendering of the same document."""

import datetime
from decimal import Decimal

from tests.bench.table import Row
from tests.bench.throwaway import studio
from tests.bench.timing import cpu_p10_ratio

PAIRS = 12
LINES = 60


def run() -> list[Row]:
    """CPU time from the agreed draft to the frozen version over that of the document alone."""
    with studio():
        return _rows()


def _rows() -> list[Row]:
    from django.utils import timezone

    from jobs.documents.quote import quote_html
    from jobs.models import Commission, Extra
    from jobs.quotes.issuing import issue_as_agreed
    from jobs.quotes.sheets import quote_sheet, seal
    from jobs.quotes.workings import worked
    from jobs.services.drafts import drafted
    from materials.models import Item
    from studio.pdf import render_pdf
    from tests.factories import make_commission, make_person, make_section, price_everything

    price_everything()
    owner, today = make_person(), timezone.localdate()
    item = Item.objects.get(key="haulage")

    def whole() -> Commission:
        """A commission whose build-up has sixty lines."""
        commission = make_commission(f"Work {Commission.objects.count()}")
        for name in ("Base", "Belly", "Neck"):
            make_section(commission, name)
        found = worked(drafted(commission), today).working
        lines = len(found.priced.built.lines) if found and found.priced else 0
        for number in range(LINES - lines):
            Extra.objects.create(commission=commission, item=item, label=f"Load {number}", quantity=Decimal(1))
        return commission

    waiting = [whole() for _ in range(PAIRS + 1)]
    seen = drafted(waiting[0])
    working = worked(seen, today).working
    assert working is not None
    assert working.priced is not None
    assert len(working.priced.built.lines) >= LINES
    html = quote_html(quote_sheet(seen, working, working.priced, by=owner))
    seals = {}
    for commission in waiting:
        each = drafted(commission)
        agreed_on = worked(each, today).working
        assert agreed_on is not None
        seals[commission.pk] = seal(each, agreed_on)
    left = iter(waiting)

    def issue() -> None:
        commission = next(left)
        issue_as_agreed(
            by=owner,
            commission=commission,
            version_number=1,
            agreed=seals[commission.pk],
            on=today,
            at=datetime.datetime.now(datetime.UTC),
        )

    ratio, baseline_ms = cpu_p10_ratio(issue, lambda: render_pdf(html, title="Quote"), PAIRS)
    note = f"bare rendering {baseline_ms:.0f} ms"
    return [Row(f"issuing a quote of {LINES} lines", ratio, 1.5, "× bare rendering", note)]
