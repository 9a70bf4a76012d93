"""Earned value against figures from outside the program."""

import pytest

from jobs.figures.forecast import EarnedValue, forecasts

# The fence exercise: a budget of 4000, on the third day 3000 planned, 2500 earned and 2800 spent.
FENCE = EarnedValue(budget_minor=4000, planned_minor=3000, earned_minor=2500, actual_minor=2800)


def at_completion() -> dict[str, int | None]:
    return {each.key: each.at_completion_minor for each in forecasts(FENCE)}


def test_the_fence_exercise_of_a_published_examination_book():
    # Published exercise (studylib 5898152, attributed there to PMP Exam Prep, p. 210).
    assert FENCE.cost_variance_minor == -300
    assert FENCE.schedule_variance_minor == -500
    assert float(FENCE.cost_index) == pytest.approx(0.893, abs=0.0005)
    assert float(FENCE.schedule_index) == pytest.approx(0.833, abs=0.0005)
    # It prints 4479, 1679 and -479, because it rounds the index to 0.893 first.
    estimate = at_completion()["as_so_far"]
    assert estimate == pytest.approx(4480, abs=1.5)
    assert estimate - FENCE.actual_minor == pytest.approx(1680, abs=1.5)
    assert FENCE.budget_minor - estimate == pytest.approx(-480, abs=1.5)


def test_the_three_published_formulas_on_the_figures_of_the_fence():
    # Formulas of the PMI, ISO 21508 and EIA-748 family, worked by hand.
    assert at_completion() == {"as_planned": 4300, "as_so_far": 4480, "as_so_far_and_late": 4816}
    assert float(FENCE.to_complete_index) == pytest.approx(1.25, rel=1e-6)
