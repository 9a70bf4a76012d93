"""The figures of lifting, crating, road and wind that a studio may differ on, as delivered.

Evidence is as in ``materials.estimator.reference``.
"""

from collections.abc import Mapping

from jobs.delivery.reference import lifting, sending
from materials.estimator.reference.rows import coefficients_of
from materials.estimator.spec import Coefficient

COEFFICIENTS: Mapping[str, Coefficient] = coefficients_of({**lifting.ROWS, **sending.ROWS})
