"""Who may do what: every view says it, in one word above its name.

A view without one of these has no declared rule, and a test fails. Access is
decided before anything else happens: a person without the right gets 403, a
stranger the sign-in page.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.urls import reverse
from django_htmx.http import HttpResponseClientRedirect

from studio.accounts.models import Role, User
from studio.htmx import wants_fragment

View = Callable[..., HttpResponseBase]
ViewT = TypeVar("ViewT", bound=View)
ANYONE = frozenset({"anyone"})
HOLDERS = frozenset({"holders"})


class MemberRequest(HttpRequest):
    """A request of somebody who has signed in."""

    user: User


def _sign_in_first(request: HttpRequest) -> HttpResponse:
    if wants_fragment(request):
        # A sign-in page must never be swapped into the middle of another page.
        return HttpResponseClientRedirect(reverse("sign_in"))
    return redirect_to_login(request.get_full_path())


def _allow(roles: frozenset[str]) -> Callable[[View], View]:
    def declare(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                return _sign_in_first(request)
            if request.user.role not in roles:
                raise PermissionDenied
            return view(request, *args, **kwargs)

        guarded.allowed_roles = roles  # type: ignore[attr-defined]
        return guarded

    return declare


members = _allow(frozenset(Role.values))
office_only = _allow(frozenset({Role.OWNER, Role.OFFICE}))
owner_only = _allow(frozenset({Role.OWNER}))


def anyone(view: ViewT) -> ViewT:
    """Declare a view open to people who have not signed in."""
    view.allowed_roles = ANYONE  # type: ignore[attr-defined]
    return view


def holders(view: ViewT) -> ViewT:
    """Declare a view open to whoever holds a link; the view itself looks at the link before anything else."""
    view.allowed_roles = HOLDERS  # type: ignore[attr-defined]
    return view


def sees_money(user: object) -> bool:
    """Whether this person may see a cost, a rate or a margin anywhere."""
    return isinstance(user, User) and user.role in {Role.OWNER, Role.OFFICE}
