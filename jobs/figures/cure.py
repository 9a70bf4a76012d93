"""How long a hold lasts at the workshop's temperature.

Holds are given at 20 °C. Below a first temperature they last longer by a
factor, and below a second one resin is left alone. Common practice, no source.
"""

from dataclasses import dataclass

from materials.estimator.errors import OutOfRange
from materials.estimator.ranges import within

COLDEST, WARMEST = -20.0, 45.0


@dataclass(frozen=True, slots=True)
class Cold:
    """What cold does to resin, as the studio reckons it.

    Attributes
    ----------
    usual_c : float
        The workshop on most days [degC].
    slow_below_c : float
        Below it cure takes longer [degC].
    stop_below_c : float
        Below it nothing is laid up [degC].
    factor : float
        How many times as long a cure then takes [dimensionless].
    """

    usual_c: float
    slow_below_c: float
    stop_below_c: float
    factor: float


def hold_hours(hours_at_20: float, *, slower_when_cold: bool, temperature_c: float, cold: Cold) -> float:
    """How long a hold lasts in a workshop of this temperature.

    Parameters
    ----------
    hours_at_20 : float
        The hold at 20 °C [h].
    slower_when_cold : bool
        Whether it waits for something that cures or dries.
    temperature_c : float
        The workshop [degC].
    cold : Cold
        What cold does.

    Returns
    -------
    float
        The hold [h].

    Raises
    ------
    OutOfRange
        When the temperature is not credible or too low for anything that cures, or cold would shorten a cure.

    References
    ----------
    Common practice, no source.
    """
    within("workshop temperature", temperature_c, "°C", COLDEST, WARMEST)
    within("hold", hours_at_20, "h", 0.0, None)
    within("lengthening of a cure in the cold", cold.factor, "times", 1.0, None)
    if not slower_when_cold:
        return hours_at_20
    if temperature_c < cold.stop_below_c:
        raise OutOfRange(
            "workshop temperature",
            temperature_c,
            "°C",
            cold.stop_below_c,
            None,
            "Resin does not cure below that: warm the workshop before this step.",
        )
    return hours_at_20 * cold.factor if temperature_c < cold.slow_below_c else hours_at_20
