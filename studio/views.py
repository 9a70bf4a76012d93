"""The pages that belong to no room: faults and refusals."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """400."""
    return render(request, "errors/400.html", status=400)


def refused(request: HttpRequest, exception: Exception) -> HttpResponse:
    """403."""
    return render(request, "errors/403.html", status=403)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """404."""
    return render(request, "errors/404.html", status=404)


def fault(request: HttpRequest) -> HttpResponse:
    """500: a page that needs neither database nor session, since either may be what failed."""
    return render(None, "errors/500.html", status=500)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """403 of a form that came without its token: most often a page left open too long."""
    return render(request, "errors/403_csrf.html", status=403)
