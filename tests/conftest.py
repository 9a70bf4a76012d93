"""What every test has: fast password hashing, no bare numbers in pages, and a way to run the database half alone."""

import shutil
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.template import Context, base, defaulttags

from studio.bootstrap import IN_CI, library, program
from studio.fonts import WEIGHTS

# What a test may need of the machine: how to see that it is there, and its name in a sentence.
NEEDS = {
    "chromium": (program("chromium"), "Chromium"),
    "libatomic": (library("libatomic.so.1"), "libatomic (package libatomic1), which drives Chromium"),
    "pdftoppm": (program("pdftoppm"), "pdftoppm (package poppler-utils)"),
}
# A root user has no sandbox, a test machine no graphics, and no test may reach the network.
FLAGS = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-sync", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-dev-shm-usage"),
)
PAGES = Path(__file__).resolve().parent / "pages"
DATABASE_FIXTURES = {"db", "transactional_db", "live_server"}
NOT_RUN = pytest.StashKey[list[str]]()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--database-half", action="store_true", help="run only the tests that use the database")


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "needs(name, …): the test runs what conftest.NEEDS says of each name")
    config.stash[NOT_RUN] = []
    # Workers start after this has run in the process that starts them, and find the fonts built.
    if not all((settings.FONT_DIR / f"SourceSansPro-{weight}.woff2").exists() for weight in WEIGHTS):
        subprocess.run([sys.executable, "manage.py", "fonts"], cwd=settings.BASE_DIR, check=True, capture_output=True)
    # The real hasher is slow on purpose; the suite makes hundreds of people.
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


def missing_need(item: pytest.Item) -> str | None:
    """The first thing the test needs that this machine does not have."""
    wanted = [NEEDS[name] for marker in item.iter_markers("needs") for name in marker.args]
    return next((words for is_present, words in wanted if not is_present()), None)


def uses_database(item: pytest.Item) -> bool:
    """Whether another database could change what the test finds: how pages look in a browser it cannot."""
    if item.path.is_relative_to(PAGES):
        return False
    return item.get_closest_marker("django_db") is not None or bool(
        DATABASE_FIXTURES & set(getattr(item, "fixturenames", ()))
    )


def empties_database(item: pytest.Item) -> bool:
    """Whether the test commits for real, so that every table is emptied after it, rows of migrations included."""
    marker = item.get_closest_marker("django_db")
    committing = {"transactional_db", "live_server"} & set(getattr(item, "fixturenames", ()))
    return bool(committing) or bool(marker and marker.kwargs.get("transaction"))


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    kept, left_out = [], []
    for item in items:
        lack = missing_need(item)
        if config.getoption("--database-half") and not uses_database(item):
            left_out.append(item)
        elif lack and not IN_CI:
            left_out.append(item)
            config.stash[NOT_RUN].append(f"not run: {item.nodeid}: no {lack}")
        else:
            kept.append(item)
    # pytest gathers the tests of one browser, wherever the first of them stands; those that empty tables go last.
    items[:] = sorted(kept, key=empties_database)
    if left_out:
        config.hook.pytest_deselected(items=left_out)


def pytest_runtest_setup(item: pytest.Item) -> None:
    lack = missing_need(item)
    if lack:
        pytest.fail(f"this machine has no {lack}, and nothing may be left out here", pytrace=False)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    output = getattr(session.config, "workeroutput", None)
    if output is not None:
        output["not_run"] = session.config.stash[NOT_RUN]


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any, error: object) -> None:
    # Every worker collects the whole suite, so each sends the same list.
    for line in getattr(node, "workeroutput", {}).get("not_run", []):
        if line not in node.config.stash[NOT_RUN]:
            node.config.stash[NOT_RUN].append(line)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    lines = terminalreporter.config.stash[NOT_RUN]
    if lines:
        terminalreporter.section(f"{len(lines)} not run")
        for line in lines:
            terminalreporter.write_line(line)


@pytest.fixture(autouse=True, scope="session")
def _no_bare_number_in_a_page() -> Any:
    """A page or document that prints a float or Decimal without a formatting filter fails its test."""
    render = base.render_value_in_context

    def checked(value: object, context: Context) -> str:
        if isinstance(value, float | Decimal):
            raise AssertionError(f"the template prints {value!r} bare; pass it through a formatting filter")
        return str(render(value, context))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(base, "render_value_in_context", checked)
        patch.setattr(defaulttags, "render_value_in_context", checked)
        yield


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """Debian's own Chromium."""
    return {**browser_type_launch_args, "executable_path": shutil.which("chromium"), "args": list(FLAGS)}
