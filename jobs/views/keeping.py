"""Keeping what a form holds, or saying on the form why not."""

from collections.abc import Callable

from studio.forms import EditForm


def is_kept(form: EditForm, keep: Callable[[], object], refusals: tuple[type[Exception], ...]) -> bool:
    """Whether what was sent is kept; a refusal of the service stands on the form in its own words."""
    if not form.is_bound or not form.is_valid():
        return False
    try:
        keep()
    except refusals as refused:
        form.add_error(None, str(refused))
    return not form.errors
