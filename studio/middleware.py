"""What every response carries besides what Django's own middleware adds."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from studio.link_paths import PREFIX

GetResponse = Callable[[HttpRequest], HttpResponse]


def private_pages(get_response: GetResponse) -> GetResponse:
    """Keep pages of signed-in people out of every cache, so that Back after signing out shows nothing."""

    def respond(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        if request.user.is_authenticated and "Cache-Control" not in response:
            response["Cache-Control"] = "no-store"
        response["Permissions-Policy"] = "camera=(self), geolocation=(), microphone=()"
        return response

    return respond


def held_pages(get_response: GetResponse) -> GetResponse:
    """Keep whatever a link opens, refusals and faults too, out of caches, of search engines, and of the referrer."""

    def respond(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        if request.path.startswith(PREFIX):
            response["Cache-Control"] = "no-store"
            response["X-Robots-Tag"] = "noindex, nofollow"
            response.headers.setdefault("Referrer-Policy", "no-referrer")
        return response

    return respond
