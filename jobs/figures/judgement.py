"""What a practitioner would stop at when reading a price."""

from decimal import Decimal

from jobs.figures.quote import BuildUp
from materials.estimator.lines import Caution
from materials.estimator.spec import Coefficient


def price_cautions(built: BuildUp, contingency_share: Decimal, contingency: Coefficient) -> tuple[Caution, ...]:
    """Cautions about a build-up.

    Parameters
    ----------
    built : BuildUp
    contingency_share : Decimal
        Share of the base that was taken [dimensionless].
    contingency : Coefficient
        The studio's figure with its usual range.

    Returns
    -------
    tuple of Caution
        For the whole job.

    Notes
    -----
    The range of contingency has its source with it; that materials do not outweigh labour in a bespoke piece is
    common practice, no source.
    """
    found: list[Caution] = []
    if not contingency.low <= contingency_share <= contingency.high:
        text = (
            f"Contingency is {float(contingency_share):.1%}; between {contingency.low:.0%} and {contingency.high:.0%}"
            " is usual. Say on the quote why it differs."
        )
        found.append(Caution("", "unusual_contingency", text))
    labour, materials = built.sum_of("labour", "overhead"), built.sum_of("material", "consumables")
    if materials > labour:
        text = "Materials cost more than labour. Check that every stage has its hours."
        found.append(Caution("", "materials_outweigh_labour", text))
    return tuple(found)
