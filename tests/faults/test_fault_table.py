"""The table of the runs judges as its command says."""

import pytest

from tests.faults.sending import Tally, doubled
from tests.faults.table import Row, summed, table

WHOLE = Row("a run", 20, 20, 20, 0, 0, 0)


@pytest.mark.parametrize(
    "row",
    [
        Row("lost", 20, 20, 19, 1, 0, 0),
        Row("doubled", 20, 20, 20, 0, 1, 0),
        Row("an error", 20, 19, 19, 0, 0, 1),
        Row("nothing acknowledged", 20, 0, 0, 0, 0, 0),
    ],
)
def test_a_run_that_fails_is_not_whole(row: Row) -> None:
    assert WHOLE.is_whole
    assert not row.is_whole


def test_the_last_line_is_the_sum() -> None:
    last = table([WHOLE, Row("another", 5, 4, 3, 1, 0, 2)]).splitlines()[-1]
    assert last.split() == ["sum", "25", "24", "23", "1", "0", "2"]
    assert summed([WHOLE, WHOLE]).tried == 40


def test_the_same_content_under_another_key_counts_as_doubled() -> None:
    entries = [["k1", 1, 2, "2026-11-25", 15], ["k2", 1, 2, "2026-11-25", 15], ["k3", 1, 2, "2026-11-24", 15]]
    assert doubled(entries, {(1, 2, "2026-11-25", 15), (1, 2, "2026-11-24", 15)}) == 1


def test_answers_are_told_apart() -> None:
    tally = Tally()
    for status in (200, 302, 422, 500, 503):
        tally.note("k", status)
    assert (len(tally.acknowledged), tally.refused, tally.errors) == (1, 2, 2)
