"""Screen, document and file of one quote say the same amounts, to the minor unit.

Two hundred random quotes where only the tests that use the database are run;
elsewhere a tenth of them, because each is printed.
"""

import csv
import io
import re
from decimal import Decimal
from html import unescape
from random import Random

import pytest
from django.utils import timezone

from jobs.models import Commission, Extra, Quote
from jobs.quotes.issuing import issue_as_agreed
from jobs.quotes.sheets import seal
from jobs.quotes.workings import worked
from jobs.services.drafts import TEXTS, drafted, save_terms
from materials.models import Item, Price
from studio.accounts.models import Role, User
from studio.money import format_minor
from studio.office.models import TaxCategory
from tests.factories import make_commission, make_person, make_section, price_everything, signed_in
from tests.studio.pdf_reading import text

MANY, FEW = 200, 20
MONEY = re.compile(r"−?£[0-9,]+\.[0-9]{2}")


def vary(commission: Commission, by: User, chance: Random) -> None:
    """Other prices, terms, casts, extras and tax, of any size that a workshop might meet."""
    prices = list(Price.objects.all())
    for price in prices:
        price.amount_minor = chance.randrange(0, 10 ** chance.randrange(2, 6))
    Price.objects.bulk_update(prices, ["amount_minor"])
    commission.sections.update(pulls=chance.randrange(1, 9), grade=chance.choice("ABC"))
    commission.extras.all().delete()
    for key in chance.sample(["haulage", "crane", "engineer", "bench_hour"], chance.randrange(4)):
        quantity = Decimal(chance.randrange(1, 2_000)) / 100
        Extra.objects.create(commission=commission, item=Item.objects.get(key=key), label=key, quantity=quantity)
    shares = [chance.randrange(1, 100) for _ in range(chance.randrange(1, 5))]
    stages = [{"label": f"Due {place}", "share": str(Decimal(share) / 1000)} for place, share in enumerate(shares)]
    terms = {
        "contingency": Decimal(chance.randrange(0, 3_000)) / 10_000,
        "profit_kind": chance.choice(["margin", "markup"]),
        "profit_rate": Decimal(chance.randrange(0, 9_000)) / 10_000,
        "pack_mode": chance.choice(["packs", "pro_rata"]),
        "payment_stages": [*stages, {"label": "At the end", "share": str(1 - Decimal(sum(shares)) / 1000)}],
        **dict.fromkeys(TEXTS, ""),
        "tax_category": TaxCategory.objects.get(name=chance.choice(["Standard", "Reduced", "Zero"])),
    }
    save_terms(by=by, commission=commission, version=0, terms=terms)


def issue_varied(commission: Commission, by: User, chance: Random) -> Quote:
    vary(commission, by, chance)
    commission.refresh_from_db()
    today = timezone.localdate()
    seen = drafted(commission)
    working = worked(seen, today).working
    assert working is not None
    return issue_as_agreed(
        by=by,
        commission=commission,
        version_number=seen.draft.version_number,
        agreed=seal(seen, working),
        on=today,
        at=timezone.now(),
    )


def outside(quote: Quote) -> list[str]:
    """Every amount that all three show, as it is printed, in order."""
    minors = [part.net_minor for part in quote.parts.all()]
    minors += [quote.net_minor or 0, quote.tax_minor or 0, quote.gross_minor or 0]
    minors += [payment.amount_minor for payment in quote.payments.all()]
    return [format_minor(minor, quote.currency) for minor in minors]


def of_the_file(body: str) -> tuple[list[str], int]:
    """The same amounts of the file, and the sum of its build-up in minor units."""
    rows = list(csv.DictReader(io.StringIO(body.removeprefix("\ufeff"))))
    amounts = [(row["what"], int(Decimal(row["amount"]) * 100)) for row in rows]
    shown = [format_minor(minor, "GBP") for what, minor in amounts if what in ("part", "sum", "payment")]
    return shown, sum(minor for what, minor in amounts if what not in ("part", "sum", "payment"))


def as_printed(expected: list[str], parts: int) -> list[str]:
    """The same amounts as the document prints them: the net price stands beside its tax, and payments have a total."""
    net, tax, gross = expected[parts : parts + 3]
    return [*expected[:parts], net, net, tax, gross, *expected[parts + 3 :], gross]


def in_document(printed: str) -> list[str]:
    """Every amount of the document's price and payments, in reading order."""
    return MONEY.findall(printed[printed.index("Part VAT") : printed.rindex("Cautions")])


@pytest.mark.django_db
def test_screen_document_and_file_agree(request: pytest.FixtureRequest) -> None:
    chance = Random(20_260_312)  # noqa: S311 - the same quotes in every run
    owner, browser = make_person(Role.OFFICE), signed_in(Role.OWNER)
    price_everything()
    for number in range(MANY if request.config.getoption("--database-half") else FEW):
        # A new commission now and then: versions pile up, and so would their comparison.
        if number % 10 == 0:
            commission = make_commission(f"Work {number}")
            for place in range(1 + number // 10 % 4):
                make_section(commission, f"Part {place}")
        quote = issue_varied(commission, owner, chance)
        expected = outside(quote)
        sheet = f"/commissions/{commission.pk}/price/{quote.version_number}/"

        shown, build_up = of_the_file(browser.get(f"{sheet}lines.csv").content.decode())
        assert shown == expected, number
        assert build_up == quote.net_minor, number

        page = unescape(browser.get(sheet).content.decode())
        on_screen = MONEY.findall(page[page.index("As the quote shows it") :])
        assert on_screen == expected, number

        printed = text(browser.get(f"{sheet}quote.pdf").content)
        assert in_document(printed) == as_printed(expected, len(quote.parts.all())), number
