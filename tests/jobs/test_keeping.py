"""One function keeps what a form holds, for every page of the jobs."""

import pytest
from django import forms

from jobs.views.keeping import Tried, try_to_keep
from studio.forms import Difference, EditForm
from studio.locking import Conflict


class MarkForm(EditForm):
    mark = forms.CharField(label="Mark", error_messages={"required": "Enter the mark."})


def refuse(error: Exception) -> object:
    raise error


def sent(mark: str = "S7") -> MarkForm:
    return MarkForm({"mark": mark, "version": "1"})


def test_a_page_that_is_only_looked_at_keeps_nothing() -> None:
    assert try_to_keep(MarkForm(), lambda: refuse(AssertionError("it was kept"))) == Tried()


def test_what_is_right_is_kept_once() -> None:
    kept: list[str] = []
    assert try_to_keep(sent(), lambda: kept.append("S7")).kept
    assert kept == ["S7"]


def test_what_the_form_or_the_service_refuses_is_said_on_the_form() -> None:
    wrong, taken = sent(""), sent()
    assert try_to_keep(wrong, lambda: refuse(AssertionError("it was kept"))) == Tried(status=422)
    assert wrong.errors == {"mark": ["Enter the mark."]}
    assert try_to_keep(taken, lambda: refuse(ValueError("Another has it.")), (ValueError,)) == Tried(status=422)
    assert taken.non_field_errors() == ["Another has it."]


def test_after_somebody_quicker_the_form_keeps_what_was_typed_and_takes_the_new_version() -> None:
    form, now = sent(), MarkForm(initial={"mark": "S8", "version": 2})
    tried = try_to_keep(form, lambda: refuse(Conflict()), now=lambda: now)
    assert tried == Tried(status=409, there_now=[Difference("Mark", "S8")])
    assert (form["mark"].value(), form["version"].value()) == ("S7", "2")
    with pytest.raises(Conflict):
        try_to_keep(sent(), lambda: refuse(Conflict()))
