"""Signing in and out, one's own account, the studio's people, help."""

from typing import Any

from django.contrib import messages
from django.contrib.auth import login, logout, update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.access import MemberRequest, anyone, members, owner_only
from studio.accounts.forms import (
    GivenPasswordForm,
    NewPersonForm,
    OwnNameForm,
    OwnPasswordForm,
    PersonForm,
    SignInForm,
)
from studio.accounts.models import User
from studio.accounts.services import (
    LastOwner,
    add_person,
    change_own_password,
    change_person,
    give_password,
    rename_self,
)


@anyone
@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for name and password, then go where the person was going."""
    if request.user.is_authenticated:
        return redirect("workshop")
    form = SignInForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        login(request, form.get_user())
        return redirect(_wanted(request))
    status = 422 if form.errors else 200
    return render(request, "accounts/sign_in.html", {"form": form, "next": request.GET.get("next", "")}, status=status)


def _wanted(request: HttpRequest) -> str:
    wanted = request.POST.get("next", "")
    safe = url_has_allowed_host_and_scheme(wanted, {request.get_host()}, require_https=request.is_secure())
    return wanted if safe else "workshop"


@anyone
def locked_out(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
    """Answer somebody who has tried too often: how long to wait."""
    return render(request, "accounts/locked_out.html", status=429)


@anyone
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session on the server."""
    logout(request)
    return redirect("sign_in")


@members
@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
def my_account(request: MemberRequest) -> HttpResponse:
    """Change one's own name."""
    form = OwnNameForm(request.POST or None, initial={"shown_name": request.user.shown_name})
    if request.method == "POST" and form.is_valid():
        rename_self(person=request.user, shown_name=form.cleaned_data["shown_name"])
        messages.success(request, "Your name is saved.")
        return redirect("my_account")
    return render(request, "accounts/my_account.html", {"form": form}, status=422 if form.errors else 200)


@members
@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
def my_password(request: MemberRequest) -> HttpResponse:
    """Change one's own password; other sessions of the same person end."""
    form = OwnPasswordForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        change_own_password(person=request.user, password=form.cleaned_data["new_password1"])
        update_session_auth_hash(request, request.user)
        messages.success(request, "Your password is changed.")
        return redirect("my_account")
    return render(request, "accounts/my_password.html", {"form": form}, status=422 if form.errors else 200)


@owner_only
@require_safe
def people(request: MemberRequest) -> HttpResponse:
    """Everybody who may sign in, or could once."""
    crew = User.objects.order_by("-is_active", "shown_name")
    return render(request, "accounts/people.html", {"place": "office", "office_sheet": "people", "people": crew})


@owner_only
@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
def new_person(request: MemberRequest) -> HttpResponse:
    """Add somebody."""
    form = NewPersonForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        added = add_person(by=request.user, **form.cleaned_data)
        messages.success(request, f"{added} may sign in as {added.username}.")
        return redirect("people")
    context = {"place": "office", "office_sheet": "people", "form": form}
    return render(request, "accounts/person_new.html", context, status=422 if form.errors else 200)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a name or role, or end somebody's access."""
    row = get_object_or_404(User, pk=pk)
    now = {"shown_name": row.shown_name, "role": row.role, "is_active": row.is_active}
    form = PersonForm(request.POST if request.method == "POST" else None, initial=now)
    if request.method == "POST" and form.is_valid():
        try:
            change_person(by=request.user, person=row, **form.cleaned_data)
        except LastOwner as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{row} is saved.")
            return redirect("people")
    context = {"place": "office", "office_sheet": "people", "person": row, "form": form}
    return render(request, "accounts/person.html", context, status=422 if form.errors else 200)


@owner_only
@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
def given_password(request: MemberRequest, pk: int) -> HttpResponse:
    """Give somebody a new password; wherever they are signed in, they have to sign in again."""
    row = get_object_or_404(User, pk=pk)
    form = GivenPasswordForm(row, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        give_password(by=request.user, person=row, password=form.cleaned_data["password"])
        messages.success(request, f"{row} has a new password.")
        return redirect("people")
    context = {"place": "office", "office_sheet": "people", "person": row, "form": form}
    return render(request, "accounts/given_password.html", context, status=422 if form.errors else 200)


@anyone
@require_safe
def help_page(request: HttpRequest) -> HttpResponse:
    """How the program is meant to be used, and what it does not replace."""
    return render(request, "accounts/help.html")
