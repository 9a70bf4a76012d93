"""A holder's browser against a real server: what it sends on, and what the server keeps.

The referrer follows the W3C's Referrer Policy. A form posted from a page with ``no-referrer`` comes with a null
origin and is refused, which is why pages with a form have ``strict-origin``.
"""

import sqlite3
import urllib.error
import urllib.request
import zipfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request

from tests.real_server import RealStudio, Server, real_studio


class Sent:
    """A studio whose commissioner holds two links, and two servers of it."""

    def __init__(self, studio: RealStudio) -> None:
        self.studio = studio
        self.tokens: dict[str, str] = studio.ask("links")
        self.servers: list[Server] = [studio.serve().wait(), studio.serve().wait()]

    def address(self, kind: str, server: int = 0) -> str:
        end = "sign-off/" if kind == "sign_off" else ""
        return f"{self.servers[server].address}/l/{self.tokens[kind]}/{end}"


@pytest.fixture(scope="module")
def held() -> Iterator[Sent]:
    with real_studio(debug=True) as studio:
        yield Sent(studio)


@pytest.fixture
def holder(browser: Browser) -> Iterator[Page]:
    """A phone on which no script runs."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    yield context.new_page()
    context.close()


class Asked:
    """What a page asks for; a font is asked for by its stylesheet, and names that."""

    def __init__(self, page: Page) -> None:
        self._requests: list[Request] = []
        page.on("request", lambda request: self._requests.append(request))

    def referrers(self) -> list[str]:
        """Where the browser said that it came from, for everything that it asked for."""
        asked = [request for request in self._requests if request.resource_type != "font"]
        return [request.all_headers().get("referer", "") for request in asked]


def test_no_request_from_the_progress_page_tells_its_address(held: Sent, holder: Page) -> None:
    asked = Asked(holder)
    holder.goto(held.address("progress"))
    assert holder.locator("h1").inner_text() == "Where it stands"
    holder.locator("a:has(img)").click()
    holder.wait_for_url("**/full.jpg")
    found = asked.referrers()
    assert len(found) > 5
    assert set(found) == {""}


def test_an_answer_is_taken_and_its_form_tells_no_more_than_the_origin(held: Sent, holder: Page) -> None:
    asked = Asked(holder)
    answers: list[int] = []
    holder.on(
        "response", lambda response: answers.append(response.status) if response.request.method == "POST" else None
    )
    holder.goto(held.address("sign_off"))
    holder.get_by_label("Approve", exact=False).first.check()
    holder.get_by_label("Name", exact=False).first.fill("R. Osei")
    holder.get_by_label("role", exact=False).first.fill("Head gardener")
    holder.locator("main form button").click()
    assert answers == [302]
    assert "R. Osei" in holder.locator("main").inner_text()
    assert {each.removesuffix("/") for each in asked.referrers()} == {"", held.servers[0].address}


def test_looking_is_noted_for_a_browser_and_for_nobody_else(held: Sent, holder: Page) -> None:
    def opened() -> int:
        with closing(sqlite3.connect(held.studio.folder / "mouldwright.sqlite3", timeout=20)) as database:
            sql = "SELECT COUNT(*) FROM jobs_link WHERE last_opened_at IS NOT NULL"
            return int(database.execute(sql).fetchone()[0])

    address = held.address("unread")
    before = opened()
    with urllib.request.urlopen(address, timeout=20) as answer:  # noqa: S310 - our own address
        assert answer.status == 200
    assert opened() == before
    holder.goto(address)
    assert opened() == before + 1


def test_no_token_stays_in_log_database_or_backup(held: Sent, tmp_path: Path) -> None:
    for kind in held.tokens:
        for end in ("nowhere", "photos/9/full.jpg"):
            with pytest.raises(urllib.error.HTTPError):
                urllib.request.urlopen(held.address(kind) + end, timeout=20)  # noqa: S310 - our own address
    held.studio.run("manage.py", "backup", str(tmp_path / "all.zip"))
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        kept = {name: archive.read(name) for name in archive.namelist()}
    kept |= {str(path): path.read_bytes() for path in held.studio.folder.rglob("*") if path.is_file()}
    logs = [content for name, content in kept.items() if name.endswith(".log")]
    assert any(b"Not Found: /l/\xe2\x80\xa6/" in log for log in logs)
    assert [name for name, content in kept.items() if name.endswith("sqlite3")]
    for token in held.tokens.values():
        assert [name for name, content in kept.items() if token.encode() in content] == []


def test_guesses_are_counted_across_servers(held: Sent) -> None:
    statuses = []
    for number in range(60):
        address = f"{held.servers[number % 2].address}/l/guess-{number}/"
        try:
            urllib.request.urlopen(address, timeout=20)  # noqa: S310 - our own address
        except urllib.error.HTTPError as refused:
            statuses.append(refused.code)
            refused.close()
    assert statuses[0] == 404
    assert statuses[-2:] == [429, 429]
