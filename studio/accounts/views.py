"""Signing in and out, one's own account, help."""

from typing import Any

from django.contrib import messages
from django.contrib.auth import login, logout, update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.access import MemberRequest, anyone, members
from studio.accounts.forms import OwnNameForm, OwnPasswordForm, SignInForm
from studio.accounts.services import rename_self


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


def locked_out(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
    """Answer somebody who has tried too often: how long to wait."""
    return render(request, "accounts/locked_out.html", status=429)


locked_out = anyone(locked_out)


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
        form.save()
        update_session_auth_hash(request, form.user)
        messages.success(request, "Your password is changed.")
        return redirect("my_account")
    return render(request, "accounts/my_password.html", {"form": form}, status=422 if form.errors else 200)


@anyone
@require_safe
def help_page(request: HttpRequest) -> HttpResponse:
    """How the program is meant to be used, and what it does not replace."""
    return render(request, "accounts/help.html")
