"""Low, likely and high: what to expect, and what four jobs in five stay within.

Mean and variance are those of PERT, (low + 4 likely + high) / 6 and
((high - low) / 6)^2 (Malcolm, Roseboom, Clark and Fazar, 1959).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, lgamma, log, sqrt
from statistics import NormalDist

from materials.estimator.errors import EstimatorError
from materials.estimator.lines import HourLine
from materials.estimator.ranges import within

_FRACTIONS = 60
"""Steps of the continued fraction; far fewer suffice for shapes that sum to 6."""
_HALVINGS = 60
"""Halvings of the unit interval, down to the last bit of a float."""


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """A three-point estimate, in any one unit.

    Attributes
    ----------
    low, likely, high : float
        In this order, from nought up, in the unit of the estimate.

    Raises
    ------
    EstimatorError
        When they are out of order, negative or not finite.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        for name, value in (("low", self.low), ("likely", self.likely), ("high", self.high)):
            within(f"{name} estimate", value, "", 0.0, None)
        if not self.low <= self.likely <= self.high:
            given = f"{self.low:g}, {self.likely:g}, {self.high:g}"
            message = f"The estimates {given} are out of order; give low, likely and high, rising."
            raise EstimatorError("three-point estimate", given, message)

    @property
    def mean(self) -> float:
        """PERT mean, in the unit of the estimate."""
        return (self.low + 4 * self.likely + self.high) / 6

    @property
    def deviation(self) -> float:
        """PERT standard deviation, in the unit of the estimate."""
        return (self.high - self.low) / 6

    def share(self, part: float) -> "ThreePoint":
        """The same estimate of a part of it, or of more.

        Parameters
        ----------
        part : float
            [dimensionless]

        Returns
        -------
        ThreePoint
            In the unit of the estimate.
        """
        return ThreePoint(self.low * part, self.likely * part, self.high * part)

    @property
    def triangular_mean(self) -> float:
        """Mean of the triangle over the three points, in the unit of the estimate."""
        return (self.low + self.likely + self.high) / 3

    def normal_quantile(self, share: float) -> float:
        """What a share of outcomes stays within, taking them as normal.

        Parameters
        ----------
        share : float
            Above 0 and below 1 [dimensionless].

        Returns
        -------
        float
            Mean + z x deviation, in the unit of the estimate.
        """
        return _normal(share, self.mean, self.deviation)

    def triangular_quantile(self, share: float) -> float:
        """What a share of outcomes stays within, taking them as triangular.

        Parameters
        ----------
        share : float
            Above 0 and below 1 [dimensionless].

        Returns
        -------
        float
            By the closed form, in the unit of the estimate.
        """
        _check_share(share)
        width = self.high - self.low
        if width == 0:
            return self.likely
        if share * width <= self.likely - self.low:
            return self.low + sqrt(share * width * (self.likely - self.low))
        return self.high - sqrt((1 - share) * width * (self.high - self.likely))

    def beta_quantile(self, share: float) -> float:
        """What a share of outcomes stays within, taking them as beta-PERT.

        Parameters
        ----------
        share : float
            Above 0 and below 1 [dimensionless].

        Returns
        -------
        float
            In the unit of the estimate.

        References
        ----------
        Shapes 1 + 4 (likely - low) / (high - low) and 1 + 4 (high - likely) / (high - low) (Vose, 2000, from
        memory); the incomplete beta function by its continued fraction, NIST DLMF 8.17.22.
        """
        _check_share(share)
        width = self.high - self.low
        if width == 0:
            return self.likely
        a = 1 + 4 * (self.likely - self.low) / width
        b = 1 + 4 * (self.high - self.likely) / width
        below, above = 0.0, 1.0
        for _ in range(_HALVINGS):
            middle = (below + above) / 2
            if _incomplete_beta(middle, a, b) < share:
                below = middle
            else:
                above = middle
        return self.low + width * (below + above) / 2


@dataclass(frozen=True, slots=True)
class StepHours:
    """All hours of one step over the job.

    Attributes
    ----------
    stage, step : str
    hours : ThreePoint
        Sums over the sections [h].
    """

    stage: str
    step: str
    hours: ThreePoint


@dataclass(frozen=True, slots=True)
class JobHours:
    """The hours of a whole job, and how far they may go.

    Attributes
    ----------
    steps : tuple of StepHours
    """

    steps: tuple[StepHours, ...]

    @property
    def likely(self) -> float:
        """Sum of the likely hours [h]."""
        return sum(step.hours.likely for step in self.steps)

    @property
    def mean(self) -> float:
        """Sum of the means [h]."""
        return sum(step.hours.mean for step in self.steps)

    @property
    def deviation(self) -> float:
        """Standard deviation of the sum [h]."""
        return sqrt(sum(step.hours.deviation**2 for step in self.steps))

    @property
    def p50(self) -> float:
        """Hours that every second such job stays within: the mean [h]."""
        return self.mean

    @property
    def p80(self) -> float:
        """Hours that four in five such jobs stay within: mean + 0.8416 deviations [h]."""
        return _normal(0.8, self.mean, self.deviation)


def job_hours(lines: Iterable[HourLine]) -> JobHours:
    """Gather a take-off's hours into those of the job.

    Parameters
    ----------
    lines : iterable of HourLine

    Returns
    -------
    JobHours
        In hours [h].

    Notes
    -----
    One step is worked by one norm. If the norm is wrong it is wrong in every section at once, so the ranges of a
    step are added across sections; different steps err independently, so their variances are added, and their sum
    is taken as normal (central limit theorem). Common practice, no source.
    """
    sums: dict[tuple[str, str], tuple[float, float, float]] = {}
    for line in lines:
        low, likely, high = sums.get((line.stage, line.step), (0.0, 0.0, 0.0))
        sums[line.stage, line.step] = (low + line.low, likely + line.likely, high + line.high)
    return JobHours(tuple(StepHours(stage, step, ThreePoint(*hours)) for (stage, step), hours in sums.items()))


def _check_share(share: float) -> None:
    within("share of outcomes", share, "", 0.0, 1.0)
    if share in (0.0, 1.0):
        message = f"share of outcomes is {share:g}; give one above 0 and below 1, such as 0.8."
        raise EstimatorError("share of outcomes", share, message)


def _normal(share: float, mean: float, deviation: float) -> float:
    _check_share(share)
    return mean + NormalDist().inv_cdf(share) * deviation


def _incomplete_beta(x: float, a: float, b: float) -> float:
    """Share of a beta distribution below ``x``, between 0 and 1."""
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    if x > (a + 1) / (a + b + 2):
        return 1.0 - _incomplete_beta(1 - x, b, a)
    fraction = 1.0
    for step in range(_FRACTIONS, 0, -1):
        m, odd = divmod(step, 2)
        if odd:
            term = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            term = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        fraction = 1 + term / fraction
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log(1 - x)) / a
    return front / fraction
