"""What a plan is worked out from: stages as they stand, people as they are there, and what is supposed."""

import datetime
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs.figures.activities import BOOTHS
from jobs.figures.plan.network import critical_path
from jobs.figures.plan.serial import serial_plan
from jobs.figures.todo import CommissionToDo, StageToDo
from jobs.figures.weather import OUTDOORS
from jobs.models import Commission, Stage, StageState, StageTemplate
from jobs.services.crew import add_absence, set_hours
from jobs.services.planning.crew import hands
from jobs.services.planning.problem import Asked, calendar_of
from jobs.services.planning.suppositions import (
    FIRST,
    HIRE,
    MOVE_DATE,
    ORDER,
    PAINT_OUT,
    SATURDAYS,
    SECOND_MOULD,
    SPLIT,
    TAKE_ON,
    Supposition,
)
from jobs.services.sent_out import Particulars, order
from jobs.services.stages import begin, do_step, reopen
from materials.models import Figure
from studio.accounts.models import User
from studio.office.models import House
from studio.office.queries import house
from tests.factories import make_commission, make_section
from tests.jobs.plan_life import MONDAY, gathered, owner, to_plan
from tests.jobs.sign_off_life import sent
from tests.jobs.stage_life import anybody, give_stages, make_passed, make_ready, the, work

pytestmark = pytest.mark.django_db

HOUR = datetime.timedelta(hours=1)
DAY = datetime.timedelta(days=1)


def the_stage(asked: Asked, key: str, commission: int = 0) -> StageToDo:
    return next(stage for stage in asked.commissions[commission].stages if stage.key == key)


def the_commission(asked: Asked, commission: Commission) -> CommissionToDo:
    return next(work for work in asked.commissions if work.id == str(commission.pk))


def test_stages_come_with_their_open_steps_hours_and_holds() -> None:
    pear = to_plan()
    stage = the(pear, "pattern")
    begin(by=anybody(), stage=stage, at=MONDAY - 2 * DAY)
    for step in stage.steps.select_related("stage")[:3]:
        do_step(by=anybody(), step=step, at=MONDAY - HOUR)
    asked = gathered()
    found = the_stage(asked, "pattern")
    assert (found.begun, found.crew, found.room) == (True, 2, "bay")
    assert next(step.name for step in found.steps) == "Foam closed with the barrier coat"
    assert found.hours.likely == pytest.approx(6.0), "half of the steps are done, and nothing was booked"
    # The filler dries twelve hours from seven o'clock, and the plan begins at eight.
    assert (found.held_h, found.held_why) == (pytest.approx(11.0), "plaster filler dries, at 20 °C")
    assert [stage.key for stage in asked.commissions[0].stages] == ["pattern", "mould", "cast", "finish", "crate"]


def test_what_has_passed_is_not_planned_and_what_went_back_is() -> None:
    pear = to_plan()
    make_passed(the(pear, "pattern"), MONDAY - 20 * DAY)
    assert "pattern" not in [stage.key for stage in gathered().commissions[0].stages]
    reopen(by=anybody(), stage=the(pear, "pattern"), reason="A template does not fit", at=MONDAY - DAY)
    again = the_stage(gathered(), "pattern")
    assert [step.name for step in again.steps] == ["Sealed and polished"]
    assert again.hours.likely == pytest.approx(2.0), "one step in six of twelve hours"


def test_a_signature_takes_five_working_days_or_what_is_left_until_the_answer_is_due() -> None:
    pear = to_plan()
    assert the_stage(gathered(), "pattern").sign_off_days == pytest.approx(7.0)
    make_ready(the(pear, "pattern"), MONDAY - 20 * DAY)
    ready = the_stage(gathered(), "pattern")
    assert ready.steps == ()
    assert (ready.sign_off, ready.asked, ready.sign_off_days) == ("form", False, pytest.approx(7.0))
    sent(pear, the(pear, "pattern"), at=MONDAY - 3 * DAY, answer_by=MONDAY.date() + 3 * DAY)
    asked = the_stage(gathered(), "pattern")
    assert (asked.asked, asked.sign_off_days) == (True, pytest.approx(4.0))
    late = the_stage(gathered(now=MONDAY + 9 * DAY), "pattern")
    assert late.sign_off_days == 1.0, "an answer that is overdue is reckoned with a day hence"
    Figure.objects.filter(key="sign_off_days").update(value=10)
    assert the_stage(gathered(), "finish").sign_off_days == pytest.approx(14.0)


def test_work_that_is_out_holds_its_stage_until_the_morning_after_it_is_due() -> None:
    pear = to_plan(keys=("pattern", "mould"))
    stage = the(pear, "mould")
    due = MONDAY.date() + 9 * DAY
    particulars = Particulars(
        what="Steel frames", firm="Quay Street Steel", stage=stage, ordered_on=MONDAY.date(), due_back=due,
        out_on=None, back_on=None, agreed_minor=10_000, charged_minor=None,
    )  # fmt: skip
    order(by=owner(), commission=pear, particulars=particulars, currency="GBP")
    found = the_stage(gathered(), "mould")
    assert (found.held_h, found.held_why) == (pytest.approx(10 * 24), "Steel frames, Quay Street Steel")


def test_a_signature_may_take_less_or_more_as_the_studio_says() -> None:
    to_plan(keys=("pattern", "mould", "metalwork", "finish"))

    def doubts(asked: Asked, why: str) -> set[tuple[int, int]]:
        links = [link for part in asked.parts.values() for link in part.activity.after]
        return {(link.sooner, link.later) for link in links if link.why.endswith(why)}

    # Five working days of a week of five, two at the least and twelve at the most.
    assert doubts(gathered(), "sign-off") == {(3 * 7 * 1440 // 5, 7 * 7 * 1440 // 5)}
    Figure.objects.filter(key__in=("sign_off_least", "sign_off_most")).update(value=5)
    assert doubts(gathered(), "sign-off") == {(0, 0)}
    Figure.objects.filter(key="sign_off_days").update(value=8)
    assert doubts(gathered(), "sign-off") == {(3 * 7 * 1440 // 5, 0)}, "a likely one above the most is the most"
    assert doubts(gathered(), "cures") <= {(0, 0)}


def test_outdoor_work_is_stopped_by_winter_as_the_studio_says() -> None:
    pear = to_plan(keys=("crate",))
    give_stages(pear, None, ("install",))
    Stage.objects.filter(commission=pear, section=None).update(allowed_minutes=600)

    def lost(asked: Asked) -> int:
        place = next(each for each in asked.problem.resources if each.id == OUTDOORS)
        return sum(away.end - away.start for away in place.away)

    asked = gathered()
    assert the_stage(asked, "install").hours.likely == pytest.approx(10.0)
    on_it = [stay.first for stay in asked.problem.stays if stay.resource == OUTDOORS]
    assert on_it == [own for own, part in asked.parts.items() if part.key == "install"]
    # Two winters lie within the plan's two years; a quarter more time is one quarter of a day lost in five.
    winter = [day for day in asked.days.days if day.month in (11, 12, 1, 2, 3)]
    assert lost(asked) == pytest.approx(len(winter) * 4 / 5, rel=0.02)
    Figure.objects.filter(key="winter_allowance").update(value=1)
    assert lost(gathered()) == pytest.approx(len(winter) * 4 / 2, rel=0.02)
    assert all(gathered().weather[OUTDOORS])
    # Where there is no winter, none comes in the chances either.
    Figure.objects.filter(key="winter_allowance").update(value=0)
    assert lost(gathered()) == 0
    assert not any(gathered().weather[OUTDOORS])


def test_several_sections_may_be_outdoors_at_once() -> None:
    to_plan(sections=("Base", "Top"), keys=("crate",))
    StageTemplate.objects.filter(key="crate").update(room=OUTDOORS)
    asked = gathered()
    stays = [stay for stay in asked.problem.stays if stay.resource == OUTDOORS]
    (place,) = (each for each in asked.problem.resources if each.id == OUTDOORS)
    assert {asked.parts[stay.first].section for stay in stays} == {"Base", "Top"}
    assert place.capacity == len(stays), "there is room outdoors for all there is"
    assert {away.units for away in place.away} == {len(stays)}, "and winter stops all of it"
    assert {away.units for course in asked.weather[OUTDOORS] for away in course} == {len(stays)}


def test_everything_is_read_in_as_many_queries_however_many_commissions() -> None:
    to_plan()
    with CaptureQueriesContext(
        connection,
    ) as few:
        gathered()
    for number in range(3):
        to_plan(f"Acorn {number}", sections=("Nut", "Cup"))
    with CaptureQueriesContext(connection) as many:
        gathered()
    assert len(many) == len(few)
    assert len(few) < 40


def test_people_are_there_by_their_hours_and_away_by_their_absence() -> None:
    to_plan()
    ines, jory = User.objects.get(username="ines"), User.objects.get(username="jory")
    set_hours(by=owner(), person=ines, version=0, hours=[7.5, 7.5, 7.5, 3.75, 0, 0, 0], stages=())
    first = MONDAY.date() + 7 * DAY
    add_absence(by=owner(), person=jory, first=first, last=first + DAY, reason="leave")
    days = calendar_of(house(), MONDAY.date())
    by_name = {hand.name: hand for hand in hands(days, house())}
    # Half of Thursday and Friday, and no weekend at all, are Ines's; a week has twenty periods.
    assert [hand.is_there(period) for hand in [by_name["Ines Varga"]] for period in (11, 13, 14, 19, 20)] == [
        True, True, False, False, True,
    ]  # fmt: skip
    assert [by_name["Jory Penhale"].is_there(period) for period in (19, 20, 27, 28)] == [True, False, False, True]
    assert by_name["Jory Penhale"].does("finish")


def test_public_holidays_are_days_off() -> None:
    House.objects.filter(pk=1).update(country="GB", region="ENG")
    days = calendar_of(house(), datetime.date(2026, 3, 30)).days
    # Good Friday and Easter Monday of 2026: 3 and 6 April.
    assert datetime.date(2026, 4, 3) not in days
    assert datetime.date(2026, 4, 6) not in days
    assert datetime.date(2026, 4, 7) in days


def supposed(kind: str, **values: Any) -> Supposition:
    return Supposition(kind, f"suppose {kind}", **values)


def test_painting_out_frees_the_booth_and_takes_the_paint_shops_days() -> None:
    pear = to_plan()
    plain = gathered()
    out = gathered(supposed(PAINT_OUT, commission=str(pear.pk)))
    assert any(stay.resource == BOOTHS for stay in plain.problem.stays)
    assert not any(stay.resource == BOOTHS for stay in out.problem.stays)
    (sent,) = [step.sent for step in the_stage(out, "finish").steps if step.sent]
    assert sent.days == 10
    assert the_stage(out, "finish").hours.likely < the_stage(plain, "finish").hours.likely


def test_hiring_and_saturdays_bring_hands_and_days() -> None:
    to_plan()
    monday = MONDAY.date().isoformat()
    hired = gathered(supposed(HIRE, day=monday, weeks=3, people=2))
    assert [hand.name for hand in hired.crew][-2:] == ["Hired 1", "Hired 2"]
    assert [hired.crew[-1].is_there(period) for period in (0, 59, 60)] == [True, True, False]
    saturdays = gathered(supposed(SATURDAYS, day=monday, weeks=2))
    worked = [day for day in saturdays.days.days[:14] if day.weekday() == 5]
    assert worked == [MONDAY.date() + 5 * DAY, MONDAY.date() + 12 * DAY]
    assert all(hand.is_there(20) for hand in saturdays.crew)
    friday = MONDAY.date() + 4 * DAY
    add_absence(by=owner(), person=User.objects.get(username="jory"), first=friday, last=friday, reason="")
    again = gathered(supposed(SATURDAYS, day=monday, weeks=2))
    assert [hand.is_there(20) for hand in again.crew] == [True, False], "away on Friday, and not in on Saturday"


def test_a_second_mould_takes_its_own_laying_up_and_lets_two_cure_at_once() -> None:
    pear = to_plan()
    pear.sections.update(pulls=4)
    again = gathered(supposed(SECOND_MOULD, commission=str(pear.pk), section="Base"))
    stages = again.commissions[0].stages
    assert [stage.name for stage in stages if stage.beside] == ["One more mould"]
    assert (the_stage(again, "cast").casts, the_stage(again, "cast").moulds) == (4, 2)
    # There is one pattern: the second mould is laid up when the first is off it, and every other cast waits for it.
    first, second = (the(pear, "mould"), next(stage for stage in stages if stage.beside))
    begins = next(part.activity for part in again.parts.values() if part.stage == second.id)
    assert {again.parts[link.activity].stage for link in begins.after} == {f"s{first.pk}"}
    waiting = [
        part.what
        for part in again.parts.values()
        if part.key == "cast" and any(again.parts[link.activity].stage == second.id for link in part.activity.after)
    ]
    assert waiting == ["cast 2 of 4", "cast 4 of 4"]


def test_a_split_mould_is_used_piece_by_piece_and_takes_no_more_hours() -> None:
    pear = to_plan()
    pear.sections.update(pulls=3, pieces=2)
    plain, split = gathered(), gathered(supposed(SPLIT, commission=str(pear.pk), section="Base"))
    moulds = [
        {each.id: each.capacity for each in asked.problem.resources if each.id.startswith("mould")}
        for asked in (plain, split)
    ]
    own = f"mould s{the(pear, 'cast').pk}"
    assert moulds == [{own: 1}, {f"{own}.1": 1, f"{own}.2": 1}]
    worked = [sum(part.hours.likely for part in asked.parts.values()) for asked in (plain, split)]
    assert worked[0] == pytest.approx(worked[1])
    # It is for pulls to overlap: with all hands the last is out sooner.
    ends = [max(times.earliest_end for times in critical_path(asked.problem).values()) for asked in (plain, split)]
    assert ends[1] <= ends[0]
    done = [serial_plan(asked.problem).makespan for asked in (plain, split)]
    assert done[1] <= done[0]


def test_one_may_be_put_first_and_a_date_may_move() -> None:
    pear, acorns = to_plan(), to_plan("Six Acorns", needed_by=MONDAY.date() + 30 * DAY)
    first = gathered(supposed(FIRST, commission=str(pear.pk)))
    assert the_commission(first, pear).weight > the_commission(first, acorns).weight
    later = gathered(supposed(MOVE_DATE, commission=str(acorns.pk), day=(MONDAY.date() + 60 * DAY).isoformat()))
    assert (the_commission(later, acorns).due or 0) > (the_commission(first, acorns).due or 0)


def test_a_site_has_its_days_and_they_may_move() -> None:
    pear = to_plan(keys=("crate",), needed_by=MONDAY.date() + 40 * DAY)
    Commission.objects.update(
        site_from=MONDAY.date() + 14 * DAY,
        site_until=MONDAY.date() + 18 * DAY,
        site_shut=[(MONDAY.date() + 16 * DAY).isoformat()],
    )
    asked = gathered()
    work = the_commission(asked, pear)
    # Whole weeks of five days in quarters: the window opens with the third and ends with it, before what is needed.
    assert (work.site.opens, work.due) == (40, 60)
    assert [(away.start, away.end) for away in work.site.shut] == [(48, 52)]
    assert asked.problem.by_id[f"{pear.pk}/delivery"].release == 40, "nobody drives it, yet it has to get there"
    until = (MONDAY.date() + 25 * DAY).isoformat()
    moved = the_commission(gathered(supposed(MOVE_DATE, commission=str(pear.pk), site_until=until)), pear)
    assert (moved.site.opens, moved.due, moved.promise.needed_by) == (40, 80, pear.needed_by)


def test_a_site_without_days_of_its_own_may_be_given_some() -> None:
    pear = to_plan(keys=("crate",))
    give_stages(pear, None, ("install",))
    delivery = f"{pear.pk}/delivery"
    assert delivery not in gathered().problem.by_id, "nobody drives it, and its site takes it on any day"
    opens = (MONDAY.date() + 14 * DAY).isoformat()
    moved = gathered(supposed(MOVE_DATE, commission=str(pear.pk), site_from=opens))
    assert moved.problem.by_id[delivery].release == 40
    begins = next(part.activity for part in moved.parts.values() if part.key == "install")
    assert [link.activity for link in begins.after] == [delivery]


def test_two_stages_may_change_their_order() -> None:
    pear, acorns = to_plan(), to_plan("Six Acorns", sections=("Nut",))
    finish, pattern = the(pear, "finish"), the(acorns, "pattern", "Nut")
    asked = gathered(supposed(ORDER, earlier=f"s{finish.pk}", later=f"s{pattern.pk}"))
    first = next(part for part in asked.parts.values() if part.stage == f"s{pattern.pk}")
    waits = {link.activity for link in asked.problem.by_id[first.activity.id].after}
    assert waits == {own for own, part in asked.parts.items() if part.stage == f"s{finish.pk}"}


def test_an_enquiry_brings_the_stages_it_would_be_given() -> None:
    to_plan()
    enquiry = make_commission("Tide Lantern")
    make_section(enquiry, "Foot")
    estimate = {
        "hours": [["Foot", "pattern", 4, 6, 9], ["Foot", "mould", 3, 5, 8], ["Foot", "cast", 2, 4, 5],
                  ["Foot", "finish", 3, 4, 8], ["", "install", 6, 6, 6]],
        "moulds": {"Foot": 1}, "casts": {"Foot": 2}, "services": [],
    }  # fmt: skip
    asked = gathered(supposed(TAKE_ON, commission=str(enquiry.pk), estimate=estimate))
    taken = the_commission(asked, enquiry)
    assert [stage.key for stage in taken.stages] == ["pattern", "mould", "cast", "finish", "install"]
    assert next(stage.casts for stage in taken.stages if stage.key == "cast") == 2
    assert sum(stage.hours.likely for stage in taken.stages) == pytest.approx(19 + 6)


def test_work_in_hand_goes_on_where_it_is() -> None:
    pear = to_plan()
    work(the(pear, "pattern"), MONDAY - 5 * DAY, steps=4)
    Stage.objects.update(hold_until=None)
    asked = gathered()
    begun = next(part for part in asked.parts.values() if part.key == "pattern")
    assert asked.problem.by_id[begun.activity.id].pinned == 0
    assert the(pear, "pattern").state == StageState.IN_HAND
