"""Work is done once, can be stopped, and outlives the worker that does it."""

import datetime
import subprocess
from typing import Any

import pytest
from django.utils import timezone
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from studio.tasks import kinds, queue, running
from studio.tasks.models import Work, WorkState
from studio.tasks.reporting import Failed, Report
from tests.factories import make_person

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _own_kinds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kinds, "_HANDLERS", {})


def queued(**about: Any) -> Work:
    return queue.enqueue(
        kind="test", title="Count the shells", about=about, page="/commissions/", by=make_person("office")
    )


def in_hand(work: Work, *, worker: str = "elsewhere:1", attempts: int = 1, silent_for: int = 0) -> None:
    Work.objects.filter(pk=work.pk).update(
        state=WorkState.RUNNING,
        worker=worker,
        attempts=attempts,
        heartbeat=timezone.now() - datetime.timedelta(seconds=silent_for),
    )


def test_it_is_done_once_and_its_result_is_kept() -> None:
    seen = []

    def count(work: Work, report: Report) -> dict[str, int]:
        report(40, "Counting")
        seen.append(Work.objects.get(pk=work.pk).progress)
        return {"shells": work.about["of"]}

    kinds.register("test", count)
    work = queued(of=7)
    running.perform(work.pk)
    running.perform(work.pk)
    work.refresh_from_db()
    assert seen == [400]
    assert (work.state, work.result, work.progress, work.attempts) == ("done", {"shells": 7}, 1000, 1)


def test_a_refusal_is_shown_as_it_is_and_a_fault_is_not() -> None:
    def refuse(work: Work, report: Report) -> dict[str, int]:
        raise Failed("The file holds no triangles.")

    def break_off(work: Work, report: Report) -> dict[str, int]:
        raise ZeroDivisionError("secret detail")

    kinds.register("test", refuse)
    refused = queued()
    running.perform(refused.pk)
    kinds.register("test", break_off)
    broken = queue.enqueue(kind="test", title="T", about={}, page="/", by=refused.started_by)
    running.perform(broken.pk)
    refused.refresh_from_db()
    broken.refresh_from_db()
    assert (refused.state, refused.problem) == ("failed", "The file holds no triangles.")
    assert (broken.state, broken.problem) == ("failed", running.BROKE_OFF)


def test_work_that_waits_stops_at_once_and_work_in_hand_at_its_next_report() -> None:
    def stopped_midway(work: Work, report: Report) -> dict[str, int]:
        queue.cancel(work=work)
        report(50, "More")
        raise AssertionError("the report let it go on")

    kinds.register("test", stopped_midway)
    waiting = queued()
    queue.cancel(work=waiting)
    running.perform(waiting.pk)
    going = queue.enqueue(kind="test", title="T", about={}, page="/", by=waiting.started_by)
    running.perform(going.pk)
    waiting.refresh_from_db()
    going.refresh_from_db()
    assert waiting.state == going.state == "cancelled"
    assert waiting.attempts == 0


def test_silent_work_waits_again_and_is_queued_again() -> None:
    work = queued()
    DBTaskResult.objects.filter(pk=work.queued_as).update(status=TaskResultStatus.RUNNING)
    in_hand(work, silent_for=31)
    assert queue.requeue_stale() == 1
    work.refresh_from_db()
    assert (work.state, work.worker, work.progress) == ("waiting", "", 0)
    assert [str(queued.pk) for queued in DBTaskResult.objects.all()] == [work.queued_as]


def test_work_whose_worker_still_beats_is_left_alone() -> None:
    work = queued()
    in_hand(work, silent_for=29)
    assert queue.requeue_stale() == 0
    in_hand(work, worker=running.worker_name())
    assert queue.requeue_stale() == 0


def test_work_of_a_process_that_is_gone_is_taken_up_at_once() -> None:
    child = subprocess.Popen(["true"])
    child.wait()
    work = queued()
    in_hand(work, worker=f"{running.worker_name().rpartition(':')[0]}:{child.pid}")
    assert queue.requeue_stale() == 1


def test_the_third_death_is_the_last() -> None:
    work = queued()
    in_hand(work, attempts=3, silent_for=60)
    queue.requeue_stale()
    work.refresh_from_db()
    assert (work.state, work.problem) == ("failed", queue.DIED)


def test_work_that_the_queue_lost_is_queued_again() -> None:
    work = queued()
    assert queue.requeue_stale() == 0
    DBTaskResult.objects.all().delete()
    Work.objects.filter(pk=work.pk).update(created_at=timezone.now() - datetime.timedelta(minutes=1))
    assert queue.requeue_stale() == 1
    assert DBTaskResult.objects.filter(status=TaskResultStatus.READY).count() == 1


def test_what_a_silent_worker_says_late_no_longer_counts() -> None:
    def taken_over(work: Work, report: Report) -> dict[str, int]:
        in_hand(work, worker="elsewhere:2", attempts=2)
        return {"late": 1}

    kinds.register("test", taken_over)
    work = queued()
    running.perform(work.pk)
    work.refresh_from_db()
    assert (work.state, work.worker, work.result) == ("running", "elsewhere:2", {})
