"""Reads of variations: what is agreed by now, and what it did to the budget."""

from collections.abc import Collection, Mapping
from typing import Any

from jobs.figures.varied import Change, changes_of, varied_spec
from jobs.models import Commission, Decision, Quote, Variation, VariationBudget, VariationItem


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


def lines_agreed(commissions: Collection[Commission]) -> dict[int, list[Mapping[str, Any]]]:
    """The lines of the take-off as it is agreed by now, by commission, in two queries.

    For the sections that a variation changes its own take-off holds; of two that change one section the later was
    worked out with the earlier in it, or it would not have been accepted.
    """
    quotes = Quote.objects.filter(commission__in=commissions, decision__decision=Decision.ACCEPTED)
    lines = {pk: kept["lines"] for pk, kept in quotes.values_list("commission", "take_off")}
    varied = Variation.objects.filter(commission__in=commissions).accepted()
    for pk, kept, take_off in varied.values_list("commission", "changes", "take_off"):
        changes = changes_of(kept)
        lines[pk] = [
            *(line for line in lines.get(pk, ()) if not _named(changes, line)),
            *(line for line in take_off["lines"] if _named(changes, line)),
        ]
    return lines


def _named(changes: Collection[Change], line: Mapping[str, Any]) -> bool:
    return any(change.names(line["section"]) for change in changes)


def items_agreed(commissions: Collection[Commission]) -> dict[int, list[VariationItem]]:
    """What accepted variations add or leave out in words, by commission, in one query."""
    accepted = Variation.objects.filter(commission__in=commissions).accepted().order_by()
    found: dict[int, list[VariationItem]] = {}
    for item in VariationItem.objects.filter(variation__in=accepted).select_related("item", "variation__commission"):
        found.setdefault(item.variation.commission_id, []).append(item)
    return found


def budget_agreed(commission: Commission) -> list[VariationBudget]:
    """What accepted variations did to the budgets of the stages, in one query."""
    return list(VariationBudget.objects.filter(variation__commission=commission).order_by("pk"))
