"""How a figure is written down, and how a row becomes a coefficient."""

import datetime
from collections.abc import Mapping

from materials.estimator.spec import Coefficient

PRACTICE = "common practice, no source"

CHECKED_ON = datetime.date(2026, 11, 25)
"""When the reference was last gone through: what is published was held against its text, the rest weighed."""

# By topic: key, label, unit, low, value, high, evidence, source.
Rows = Mapping[str, tuple[tuple[str, str, str, float, float, float, str, str], ...]]


def coefficients_of(rows: Rows) -> dict[str, Coefficient]:
    """Rows as coefficients.

    Parameters
    ----------
    rows : mapping of str to tuple
        By topic; each row says in which unit its numbers are.

    Returns
    -------
    dict of str to Coefficient
        By key, in the order of the rows; each names its source, or says "common practice, no source".
    """
    return {
        key: Coefficient(key, label, unit, float(value), float(low), float(high), evidence, source, topic)
        for topic, listed in rows.items()
        for key, label, unit, low, value, high, evidence, source in listed
    }
