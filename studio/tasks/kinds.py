"""Who does which kind of work. Apps register their own when they are ready, so that studio knows none of them."""

from collections.abc import Callable, Mapping
from typing import Any

from studio.tasks.models import Work
from studio.tasks.reporting import Report

Handler = Callable[[Work, Report], Mapping[str, Any]]

_HANDLERS: dict[str, Handler] = {}


def register(kind: str, handler: Handler) -> None:
    """Name the handler of a kind of work."""
    _HANDLERS[kind] = handler


def handler_of(kind: str) -> Handler:
    """The handler of a kind; KeyError where no app has registered one."""
    return _HANDLERS[kind]
