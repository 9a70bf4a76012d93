"""Refusals: what a number must be, and how what was given is shown."""

import math

import numpy as np
import pytest

from materials.estimator.errors import EstimatorError, Missing, OutOfRange, UnknownChoice, WrongKind, shown
from materials.estimator.ranges import one_of, rounded_up, whole, within


@pytest.mark.parametrize("value", [0, 0.0, 5, 2.5, np.float64(5.0), np.int64(3)])
def test_numbers_within_their_range_are_taken(value):
    assert within("Depth", value, "m", 0, 5) is None


@pytest.mark.parametrize(
    ("value", "low", "high", "sentence"),
    [
        (-0.5, 0, None, "Depth is -0.5 m; it must be at least 0 m."),
        (6.0, None, 5, "Depth is 6 m; it must be at most 5 m."),
        (6, 0, 5, "Depth is 6 m; it must be between 0 and 5 m."),
        (math.nan, 0, 5, "Depth is nan m; it must be between 0 and 5 m."),
        (math.inf, 0, None, "Depth is inf m; it must be at least 0 m."),
        (-math.inf, None, None, "Depth is -inf m; it must be a finite number."),
        (np.float64("nan"), None, None, "Depth is nan m; it must be a finite number."),
        (10**400, 0, 5, "Depth is a number beyond reckoning m; it must be between 0 and 5 m."),
    ],
)
def test_numbers_out_of_range_are_refused(value, low, high, sentence):
    with pytest.raises(OutOfRange) as refused:
        within("Depth", value, "m", low, high)
    assert str(refused.value) == sentence
    assert (refused.value.name, refused.value.low, refused.value.high) == ("Depth", low, high)


@pytest.mark.parametrize(("value", "said"), [(True, "True"), ("2", "'2'"), (None, "nothing"), (1j, "1j")])
def test_what_is_no_number_is_refused(value, said):
    with pytest.raises(WrongKind) as refused:
        within("Depth", value, "m", 0, 5)
    assert str(refused.value) == f"Depth is {said}; it must be a number."


@pytest.mark.parametrize("value", [2.0, True, "2", None])
def test_what_is_no_whole_number_is_refused(value):
    with pytest.raises(WrongKind, match="it must be a whole number"):
        whole("Pieces", value, "", 1, 60)


def test_a_hint_follows_the_sentence():
    with pytest.raises(OutOfRange) as refused:
        whole("Pieces", 0, "", 1, 60, "Leave it out for the usual.")
    assert str(refused.value) == "Pieces is 0; it must be between 1 and 60. Leave it out for the usual."


def test_a_word_that_is_not_known_is_refused_with_those_that_are():
    with pytest.raises(UnknownChoice) as refused:
        one_of("Grade", "D", ("A", "B"))
    assert str(refused.value) == "Grade 'D' is not known; use one of A, B."
    assert (refused.value.value, refused.value.choices) == ("D", ("A", "B"))


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("größer", "'größer'"),
        ("a\x1b[31m\n", "'a\ufffd[31m\ufffd'"),
        ("x" * 61, f"'{'x' * 60}...'"),
        ({"a": 1}, "a set of named values"),
        ([[]], "a list"),
        pytest.param(10**5000, "a number of thousands of digits", id="a number of thousands of digits"),
        (1.5, "1.5"),
    ],
)
def test_what_was_given_is_shown_short_and_plain(value, said):
    assert shown(value) == said


def test_every_refusal_is_a_value_error_too():
    for error in (
        OutOfRange("x", 1.0, "m"),
        UnknownChoice("x", 1, ()),
        Missing("x", "give it."),
        WrongKind("x", 1, "y"),
    ):
        assert isinstance(error, EstimatorError)
        assert isinstance(error, ValueError)


@pytest.mark.parametrize(("value", "up"), [(2.0, 2), (2.1, 3), (2 + 1e-12, 2), (0.0, 0), (1.9999, 2)])
def test_counts_are_rounded_up_but_for_a_hair_of_floating_point(value, up):
    assert rounded_up(value) == up
