"""Keeping what a form holds, or saying on the form why not."""

from collections.abc import Callable
from dataclasses import dataclass

from studio.forms import Difference, EditForm
from studio.locking import Conflict


@dataclass(frozen=True, slots=True)
class Tried:
    """Whether what was sent is kept; if not, the answer's status, and what somebody else has put there meanwhile."""

    kept: bool = False
    status: int = 200
    there_now: list[Difference] | None = None


def try_to_keep(
    form: EditForm,
    keep: Callable[[], object],
    refusals: tuple[type[Exception], ...] = (),
    *,
    now: Callable[[], EditForm] | None = None,
) -> Tried:
    """Keep what was sent, if anything was.

    A refusal of the service stands on the form in its own words. Where somebody
    else was quicker the form keeps what was typed, and takes the version of the
    form that ``now`` makes; what is new has nobody who could be quicker.
    """
    if not form.is_bound:
        return Tried()
    if form.is_valid():
        try:
            keep()
        except refusals as refused:
            form.add_error(None, str(refused))
        except Conflict:
            if now is None:
                raise
            return Tried(status=409, there_now=form.catch_up(now()))
    return Tried(status=422) if form.errors else Tried(kept=True)
