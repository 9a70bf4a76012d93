"""A test must find the rows that migrations made, whatever ran before it."""

import pytest


def empties_database(item: pytest.Item) -> bool:
    marker = item.get_closest_marker("django_db")
    return "live_server" in item.fixturenames or bool(marker and marker.kwargs.get("transaction"))


def test_tests_that_empty_the_database_come_after_all_that_use_it(request: pytest.FixtureRequest) -> None:
    users = [item for item in request.session.items if item.get_closest_marker("django_db")]
    emptying = [empties_database(item) for item in users]
    assert emptying == sorted(emptying), users[emptying.index(True)].nodeid
