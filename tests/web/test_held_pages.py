"""Whatever a link opens, whole: its headers, its silence about the house, and that looking changes nothing."""

import re
from html import unescape

import pytest
from django.apps import apps
from django.http import HttpResponse

from jobs.models import Link, Snag, StageMove
from studio.accounts.models import Role, User
from tests.web.opened import STRANGER, Studio
from tests.web.pages import Page
from tests.web.test_headers import POLICY, rows

pytestmark = pytest.mark.django_db
SCANNERS = ("Mozilla/5.0 (compatible; mail scanner)", "curl/8.5.0", "python-requests/2.32.0", "")
ELSEWHERE = re.compile(r"""(?:href|src|action|poster|data)\s*=\s*["']?\s*(?:https?:)?//|url\(\s*["']?(?:https?:)?//""")


def answers(studio: Studio) -> dict[str, HttpResponse]:
    client = studio.browser(STRANGER)
    found = {address.path: client.get(address.path) for address in studio.each_held()}
    assert len(found) >= 7
    assert {answer.status_code for answer in found.values()} == {200}
    return found


def is_page(answer: HttpResponse) -> bool:
    return answer.headers["Content-Type"].startswith("text/html")


def test_every_answer_is_kept_from_caches_search_engines_and_the_referrer(studio: Studio) -> None:
    for path, answer in answers(studio).items():
        posts = is_page(answer) and "<form" in answer.content.decode()
        assert answer.headers["Cache-Control"] == "no-store", path
        assert answer.headers["X-Robots-Tag"] == "noindex, nofollow", path
        # Where a form posts, the browser must send its origin, or the form is refused; never the path with its token.
        wanted = {"strict-origin"} if posts else {"no-referrer", "strict-origin"}
        assert answer.headers["Referrer-Policy"] in wanted, path
        assert answer.headers["X-Content-Type-Options"] == "nosniff", path
        policy = {part.strip() for part in answer.headers["Content-Security-Policy"].split(";")}
        assert policy >= POLICY, path


def test_refusals_below_a_token_carry_the_same(studio: Studio) -> None:
    client = studio.browser(STRANGER, enforce_csrf_checks=True)
    (form,) = [address for address in studio.each_held() if address.route.endswith("sign-off/")][:1]
    refused = {
        404: client.get("/l/never-made/"),
        403: client.post(form.path),
        405: studio.browser(STRANGER).put(form.path),
    }
    for status, answer in refused.items():
        assert answer.status_code == status
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
        assert answer.headers["Referrer-Policy"] in ("no-referrer", "strict-origin")


def test_no_page_leads_into_the_house_or_fetches_from_elsewhere(studio: Studio) -> None:
    pages = {path: answer for path, answer in answers(studio).items() if is_page(answer)}
    assert pages
    for path, answer in pages.items():
        text = answer.content.decode()
        assert not ELSEWHERE.search(text), path
        assert "<script" not in text, path
        leads = {address.split("/")[1] for address in Page(text, path).addresses}
        assert leads == {"l", "static"}, path
        # Whoever only reads needs no cookie.
        assert "<form" in text or not answer.cookies, path


def test_looking_and_scanning_change_nothing(studio: Studio) -> None:
    # A calendar is fetched by programs alone, and that it was fetched is noted; nothing else changes by that either.
    places = [address.path for address in studio.each_held() if not address.path.endswith("calendar.ics")]
    client, before = studio.browser(STRANGER), rows()
    for agent in SCANNERS * 3:
        for path in places:
            assert client.get(path, headers={"User-Agent": agent}).status_code == 200
            assert client.head(path, headers={"User-Agent": agent}).status_code == 200
    assert rows() == before


def test_a_part_of_a_page_is_refused_or_tells_no_more_than_the_page(studio: Studio) -> None:
    client = studio.browser(STRANGER)
    for path, answer in answers(studio).items():
        if is_page(answer):
            part = client.get(path, headers={"HX-Request": "true"})
            assert words(part) <= words(answer), path


def words(answer: HttpResponse) -> set[str]:
    return set(
        re.findall(r"[\w'’-]+", unescape(re.sub(r"<input[^>]*csrf[^>]*>|<[^>]+>", " ", answer.content.decode())))
    )


def test_no_maker_snag_or_reason_is_named(studio: Studio) -> None:
    makers = list(User.objects.filter(role=Role.BENCH))
    inside = [*(person.shown_name for person in makers), *(person.shown_name.split()[0] for person in makers)]
    inside += [*Snag.objects.values_list("what", flat=True), *StageMove.objects.values_list("reason", flat=True)]
    telling = {text for text in inside if len(text) > 3}
    assert len(telling) > 10
    for path, answer in answers(studio).items():
        text = unescape(answer.content.decode(errors="replace"))
        assert [each for each in telling if re.search(rf"\b{re.escape(each)}\b", text)] == [], path


def test_no_token_is_kept_anywhere(studio: Studio) -> None:
    tokens = {address.values["token"] for address in studio.each_held()}
    assert len(tokens) == 6
    assert Link.objects.count() > 3
    for value in kept():
        assert not [token for token in tokens if token in value]


def kept() -> list[str]:
    """Every row of every table, written out."""
    return [repr(list(model._base_manager.values_list())) for model in apps.get_models()]
