"""What the document of a statement prints: no cost, no hour, no margin has a place here."""

from dataclasses import dataclass

from jobs.figures.sheet import Commissioner, SheetHead
from jobs.figures.statement import Statement


@dataclass(frozen=True, slots=True)
class StatementSheet:
    """A statement of a day, ready to be printed; ``tax_name`` is what the tax is called where the workshop is."""

    head: SheetHead
    commissioner: Commissioner
    statement: Statement
    tax_name: str
