"""The human figure as an anchor for measured sections."""

from collections.abc import Callable

import pytest

from materials.estimator.errors import OutOfRange
from materials.estimator.figure import FigureArea, body_surface_m2, body_volume_m3, figure_area


def test_a_figure_grows_with_the_square_of_its_height() -> None:
    one, two = figure_area(1.2), figure_area(3.6)
    assert two.bare_m2 == pytest.approx(9 * one.bare_m2, rel=1e-12)
    assert two.draped_low_m2 == pytest.approx(1.2 * two.bare_m2, rel=1e-12)
    assert two.draped_high_m2 == pytest.approx(1.6 * two.bare_m2, rel=1e-12)


@pytest.mark.parametrize(
    ("measure", "sentence"),
    [
        (lambda: body_surface_m2(175.0, 75.0), "height is 175 m; it must be between 0.3 and 3 m."),
        (lambda: body_surface_m2(1.75, float("nan")), "mass is nan kg; it must be between 1 and 500 kg."),
        (lambda: body_volume_m3(0.0), "mass is 0 kg; it must be between 1 and 500 kg."),
        (lambda: figure_area(0.0), "height is 0 m; it must be between 0.05 and 50 m."),
    ],
)
def test_it_refuses_what_no_figure_measures(measure: Callable[[], float | FigureArea], sentence: str) -> None:
    with pytest.raises(OutOfRange) as refusal:
        measure()
    assert str(refusal.value) == sentence
