"""Reads of variations: what is agreed by now, and what it did to the budget."""

from collections.abc import Collection
from typing import Any

from jobs.figures.varied import changes_of, varied_spec
from jobs.models import Commission, Decision, Quote, Variation, VariationBudget


def contract_of(commission: Commission) -> Quote | None:
    """The accepted version with the scope and terms that it was accepted on, in one query."""
    found = Quote.objects.filter(commission=commission, decision__decision=Decision.ACCEPTED)
    row = found.select_related("decision").defer("take_off", "pdf").order_by("-version_number").first()
    if row is not None:
        row.commission = commission
    return row


def agreed_spec(quote: Quote, accepted: Collection[Variation]) -> dict[str, Any]:
    """The accepted quote's specification with every accepted variation in it."""
    return varied_spec(quote.spec, [change for each in accepted for change in changes_of(each.changes)])


def budget_agreed(commission: Commission) -> list[VariationBudget]:
    """What accepted variations did to the budgets of the stages, in one query."""
    return list(VariationBudget.objects.filter(variation__commission=commission).order_by("pk"))
