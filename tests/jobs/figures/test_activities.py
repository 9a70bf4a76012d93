"""From stages to what is planned: each rule of waiting, of places and of people. Common practice, no source."""

from dataclasses import replace

import pytest

from jobs.figures.activities import BAYS, BOOTHS, ToPlan, to_plan
from jobs.figures.doubts import Doubt, Doubts
from jobs.figures.plan.problem import After, Away, Resource, Stay
from jobs.figures.site import Site
from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import CommissionToDo, Outside, StageToDo, StepToDo

PERIOD_H, DAY = 1.5, 4
H, D = 60, 24 * 60


def hours(likely: float) -> ThreePoint:
    return ThreePoint(likely * 0.8, likely, likely * 1.4)


def stage(key: str, *steps: StepToDo, likely: float = 3.0, **values: object) -> StageToDo:
    usual = {"name": key.capitalize(), "section": "Base", "position": POSITIONS.index(key), "waits": "passed"}
    given = {"id": key, "key": key, "hours": hours(likely), "steps": steps or (StepToDo(1, key),), **usual, **values}
    return StageToDo(**given)  # type: ignore[arg-type]


POSITIONS = ("pattern", "mould", "cast", "metalwork", "finish", "assembly", "crate", "install")
ABLE = dict.fromkeys(POSITIONS, 4)


def planned(*stages: StageToDo, **values: object) -> ToPlan:
    return to_plan(CommissionToDo("7", "The Long Pear", stages, **values), PERIOD_H, DAY, ABLE)  # type: ignore[arg-type]


def after(plan: ToPlan, own: str) -> tuple[After, ...]:
    return next(part.activity.after for part in plan.parts if part.activity.id == own)


def parts(plan: ToPlan) -> dict[str, tuple[int, int]]:
    """Periods and people of everything that is worked."""
    return {part.activity.id: (part.activity.duration, part.people) for part in plan.parts if part.activity.duration}


def test_a_stage_is_parted_at_its_holds_and_at_the_booth() -> None:
    steps = (
        StepToDo(1, "filled"),
        StepToDo(2, "prepared", 2),
        StepToDo(3, "primer", 16, "primer hardens", in_booth=True),
        StepToDo(4, "topcoat", 24, "topcoat hardens", in_booth=True),
        StepToDo(5, "polished", 144, "hardens before wrapping"),
    )
    plan = planned(stage("finish", *steps, room="bay", likely=7.5))
    assert parts(plan) == {"finish/2": (2, 1), "finish/3": (1, 1), "finish/4": (1, 1), "finish/5": (1, 1)}
    assert after(plan, "finish/4") == (After("finish/3", 16 * H, "primer hardens"),)
    # What was sprayed keeps the booth until it can be handled; the rest is done in a bay.
    assert Stay(BOOTHS, "finish/4", "finish/4", 24 * H) in plan.stays
    assert [stay.first for stay in plan.stays if stay.resource == BAYS] == ["finish/2", "finish/5"]
    # The end waits for the last hold too.
    assert After("finish/5", 144 * H, "hardens before wrapping") in after(plan, "7/done")


def test_a_crew_shares_the_hours_and_nobody_idles_beside_it() -> None:
    assert parts(planned(stage("mould", likely=12.0, crew=2)))["mould/1"] == (4, 2)
    assert parts(planned(stage("mould", likely=1.0, crew=2)))["mould/1"] == (1, 1)
    few = to_plan(CommissionToDo("7", "", (stage("mould", likely=12.0, crew=3),)), PERIOD_H, DAY, {"mould": 1})
    assert parts(few)["mould/1"] == (8, 1)


def test_long_work_comes_in_pieces_of_two_days_at_most() -> None:
    plan = planned(stage("crate", likely=30.0))
    assert parts(plan) == {"crate/1-3": (7, 1), "crate/1-2": (7, 1), "crate/1": (6, 1)}
    assert after(plan, "crate/1") == (After("crate/1-2"),)
    assert sum(part.hours.likely for part in plan.parts) == pytest.approx(30.0)


def test_a_stage_waits_until_the_one_before_has_passed_with_hold_and_signature() -> None:
    pattern = stage("pattern", StepToDo(1, "filled", 12, "filler dries"), sign_off="form", sign_off_days=7)
    plan = planned(pattern, stage("mould"))
    assert after(plan, "mould/1") == (After("pattern/1", 12 * H + 7 * D, "filler dries, sign-off"),)
    (part,) = (part for part in plan.parts if part.activity.id == "pattern/1")
    assert [(each.why, each.minutes) for each in part.follows] == [("filler dries", 12 * H), ("sign-off", 7 * D)]


def test_a_signature_that_is_awaited_already_takes_the_rest_of_its_time() -> None:
    ready = replace(stage("pattern", sign_off="form", sign_off_days=2, begun=True), steps=())
    plan = planned(ready, stage("mould"))
    assert after(plan, "mould/1") == (After("pattern/asked", 2 * D, "sign-off"),)
    assert next(part for part in plan.parts if part.activity.id == "pattern/asked").activity.ended == 0


def test_a_sample_is_shown_while_the_stage_goes_on() -> None:
    steps = (StepToDo(1, "filled", 16, "hardens"), StepToDo(2, "painted", 24, "hardens"))
    plan = planned(stage("finish", *steps, sign_off="sample", sign_off_days=7), stage("crate"))
    assert set(after(plan, "crate/1")) == {After("finish/2", 24 * H, "hardens"), After("finish/1", 7 * D, "sign-off")}


def test_a_hold_that_runs_is_waited_out_and_work_in_hand_goes_on() -> None:
    steps = (StepToDo(3, "taken out"), StepToDo(4, "joined", 16, "strips cure"))
    held = planned(stage("cast", *steps, begun=True, held_h=30.5, held_why="cast cures"))
    assert after(held, "cast/4") == (After("cast/held", round(30.5 * H), "cast cures"),)
    assert held.in_hand == ()
    assert planned(stage("cast", *steps, begun=True)).in_hand == ("cast/4",)


def test_casts_queue_on_their_mould_until_each_has_cured() -> None:
    steps = (StepToDo(1, "gel coat", 2), StepToDo(2, "laid", 24, "cures"), StepToDo(3, "joined", 16, "strips cure"))
    plan = planned(stage("mould"), stage("cast", *steps, cast_steps=steps, casts=3))
    assert plan.places == (Resource("mould cast", 1),)
    assert [stay for stay in plan.stays if stay.resource == "mould cast"] == [
        Stay("mould cast", own, own, 24 * H) for own in ("cast/c2.2", "cast/c1.2", "cast/c0.2")
    ]
    assert after(plan, "cast/c1.2") == (After("mould/1"),)
    assert {link.activity for link in after(plan, "7/done")} >= {"cast/c2.3", "cast/c1.3", "cast/c0.3"}


def test_a_cast_that_cures_keeps_the_mould_from_the_next() -> None:
    steps = (StepToDo(1, "laid", 24, "cures"), StepToDo(2, "joined"))
    cast = stage("cast", steps[1], cast_steps=steps, casts=2, taken=4, begun=True, held_h=10, held_why="cures")
    plan = planned(stage("mould", begun=True), cast)
    assert Stay("mould cast", "cast/held", "cast/held", 10 * H) in plan.stays
    # The one in hand waits for its own cure alone; the next needs the mould put right.
    assert after(plan, "cast/c1.2") == (After("cast/held", 10 * H, "cures"),)
    assert after(plan, "cast/c0.1") == (After("mould/1"),)
    assert next(part.what for part in plan.parts if part.activity.id == "cast/c0.1") == "cast 6 of 6"


def test_finishing_begins_with_the_first_cast_and_goes_on_with_the_last() -> None:
    cast = stage("cast", casts=2, cast_steps=(StepToDo(1, "cast"),))
    finish = stage("finish", StepToDo(1, "filled", 16), StepToDo(2, "painted"), waits="begun")
    plan = planned(cast, finish)
    assert after(plan, "finish/1") == (After("cast/c1.1"),)
    assert {link.activity for link in after(plan, "finish/2")} == {"finish/1", "cast/c1.1", "cast/c0.1"}
    # Of a single cast there is nothing to begin with before it is out.
    assert after(planned(replace(cast, casts=1), finish), "finish/1") == (After("cast/1"),)


def test_what_begins_at_any_time_runs_beside_once_the_form_is_settled_and_ends_after() -> None:
    cast = stage("cast", StepToDo(1, "laid", 24, "cures"), StepToDo(2, "joined"))
    metal = stage("metalwork", StepToDo(1, "cut"), StepToDo(2, "welded"), StepToDo(3, "set in"), waits="")
    plan = planned(stage("pattern", sign_off="form", sign_off_days=7), stage("mould"), cast, metal)
    assert after(plan, "metalwork/2") == (After("pattern/1", 7 * D, "sign-off"),)
    assert set(after(plan, "metalwork/3")) == {After("metalwork/2"), After("cast/2")}


def test_the_whole_waits_for_every_section_and_a_section_for_the_whole() -> None:
    other = {"section": "Crown"}
    plan = planned(
        stage("finish"),
        stage("finish", id="f2", **other),
        stage("assembly", section=""),
        stage("crate"),
        stage("crate", id="c2", **other),
    )
    assert set(after(plan, "assembly/1")) == {After("finish/1"), After("f2/1")}
    assert after(plan, "crate/1") == after(plan, "c2/1") == (After("assembly/1"),)


def test_delivery_comes_after_everything_and_before_it_is_stood_up() -> None:
    plan = planned(stage("crate"), stage("install", section="", sign_off="installed"), is_delivered=True)
    assert after(plan, "7/delivery") == (After("crate/1"),)
    assert after(plan, "install/1") == (After("7/delivery"),)
    # Nothing waits for the signature on what is done.
    assert all("sign-off" not in link.why for link in after(plan, "7/done"))
    alone = planned(stage("crate"), is_delivered=True)
    assert After("7/delivery") in after(alone, "7/done")


def test_what_is_delivered_and_stood_up_keeps_to_the_days_of_its_site() -> None:
    site = Site(40, (Away(44, 48, 1),))
    stages = (stage("crate"), stage("install", section="", likely=6.0))
    plan = planned(*stages, is_delivered=True, site=site)
    assert plan.places == (Resource("site 7", 1, site.shut),)
    delivery = next(part.activity for part in plan.parts if part.activity.id == "7/delivery")
    assert (delivery.release, delivery.after) == (40, (After("crate/1"),))
    # Standing it up is in quarters of a day, so that it stops before a day on which the site takes nothing.
    on_site = [stay.first for stay in plan.stays if stay.resource == "site 7"]
    assert on_site == ["7/delivery", "install/1-4", "install/1-3", "install/1-2", "install/1"]


def test_work_goes_out_after_what_stands_before_it_and_takes_its_own_time() -> None:
    out = Outside("galvanising", 7)
    plan = planned(stage("metalwork", StepToDo(1, "welded"), StepToDo(2, "set in", sent=out)))
    assert after(plan, "metalwork/2") == (After("metalwork/1", 7 * D, "galvanising"),)
    milled = planned(stage("pattern", StepToDo(1, "carved", sent=Outside("milling", 10))))
    assert after(milled, "pattern/1") == (After("pattern/sent", 10 * D, "milling"),)


def test_what_others_take_is_in_doubt_and_a_cure_is_not() -> None:
    doubts = Doubts(signature=Doubt(3 * D, 10 * D), firm=(0.1, 0.5))
    pattern = stage("pattern", StepToDo(1, "filled", 12, "filler dries"), sign_off="form", sign_off_days=2)
    metal = stage("metalwork", StepToDo(1, "welded"), StepToDo(2, "set in", sent=Outside("galvanising", 10)))
    out = stage("cast", StepToDo(1, "laid", 24, "cures"), begun=True, held_h=48, held_why="bent", is_out=True)
    plan = to_plan(CommissionToDo("7", "", (pattern, metal, out)), PERIOD_H, DAY, ABLE, doubts)
    by_why = {link.why: (link.sooner, link.later) for part in plan.parts for link in part.activity.after if link.hold}
    assert by_why == {
        # A signature of two days is not given three days sooner; the filler keeps its time.
        "filler dries, sign-off": (2 * D, 10 * D),
        "galvanising": (1 * D, 5 * D),
        "bent": (round(4.8 * H), 24 * H),
        "cures": (0, 0),
    }


def test_pieces_of_a_mould_are_used_by_themselves_where_it_is_split() -> None:
    steps = (StepToDo(1, "gel coat", 2), StepToDo(2, "laid", 24, "cures"), StepToDo(3, "joined", 16, "strips cure"))
    cast = stage("cast", *steps, cast_steps=steps, casts=2, mould_pieces=2, apart=True, likely=6.0)
    plan = planned(cast)
    assert plan.places == (Resource("mould cast.1", 1), Resource("mould cast.2", 1))
    laid = ["cast/c1.p1.2", "cast/c1.p2.2", "cast/c0.p1.2", "cast/c0.p2.2"]
    assert [(stay.resource, stay.first, stay.hold) for stay in plan.stays] == [
        (f"mould cast.{own[9]}", own, 24 * H) for own in laid
    ]
    # Joined when both are out, and in the same hours as otherwise.
    assert after(plan, "cast/c1.3") == (After(laid[0], 24 * H, "cures"), After(laid[1], 24 * H, "cures"))
    assert sum(part.hours.likely for part in plan.parts) == pytest.approx(6.0)
    assert next(part.what for part in plan.parts if part.activity.id == laid[3]) == "cast 2 of 2, piece 2 of 2"
    # What is in hand was begun in both at once, and one that holds keeps both.
    held = planned(replace(cast, begun=True, held_h=5, held_why="cures", taken=1))
    assert [(stay.resource, stay.first) for stay in held.stays if "c0" not in stay.first] == [
        (mould, own) for own in ("cast/held", "cast/c1.2") for mould in ("mould cast.1", "mould cast.2")
    ]


def test_a_long_cast_keeps_its_mould_from_its_first_piece_of_work_on() -> None:
    steps = (StepToDo(1, "laid", 24, "cures"), StepToDo(2, "joined"))
    plan = planned(stage("cast", *steps, cast_steps=steps, casts=2, likely=60.0))
    assert Stay("mould cast", "cast/c1.1-2", "cast/c1.1", 24 * H) in plan.stays


def test_every_other_cast_waits_for_a_second_mould_and_nothing_else_does() -> None:
    second = stage("mould", id="again", beside=True, waits="")
    steps = (StepToDo(1, "laid", 24, "cures"), StepToDo(2, "joined"))
    cast = stage("cast", *steps, cast_steps=steps, casts=2, moulds=2, second_mould="again")
    plan = planned(second, cast)
    assert after(plan, "cast/c1.1") == ()
    assert after(plan, "cast/c0.1") == (After("again/1"),)
    assert plan.places == (Resource("mould cast", 2),)
