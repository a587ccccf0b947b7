"""A change is carried out on the week before as a coach would by hand; what was not asked for stays (common practice, no source)."""

from dataclasses import replace

import pytest
from carried_weeks import (
    BAR_CURL,
    BEFORE,
    CALF,
    CURL,
    DUMBBELL_CURL,
    GEAR,
    LIFTS,
    MUSCLES,
    PRESS,
    RAISE,
    SQUAT,
    asked,
    meant_for,
    offered,
    planned,
    sets_on,
    week_of,
)
from invented_weeks import muscle

from lengthwise.planning import solve
from lengthwise.planning.carried import Carried, carried_out
from lengthwise.planning.changes import changes_of
from lengthwise.planning.check import check
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.moved_days import moves_of, moves_told, on_new_days
from lengthwise.planning.question import SetsBefore, WeekQuestion
from lengthwise.planning.solve import plan
from lengthwise.planning.week import PlannedDay, Week
from lengthwise.planning.week_model import old_sets


def test_a_session_goes_whole_to_the_new_day_of_its_place_in_the_order_of_the_week():
    days = [PlannedDay(d, "gym", 50, (planned(PRESS, 3),)) for d in ("monday", "wednesday", "friday")]
    before = Week(days=tuple(days), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
    assert moves_of(before, [offered("monday"), offered("wednesday"), offered("saturday")]) == {"friday": "saturday"}
    assert moves_of(before, [offered("tuesday"), offered("thursday"), offered("friday")]) == {
        "monday": "tuesday",
        "wednesday": "thursday",
    }
    assert moves_of(before, [offered("monday"), offered("thursday")]) == {}, "another number of days is another week"
    assert moves_of(before, [offered("monday"), offered("wednesday"), offered("saturday", place="home")]) == {}
    moved = on_new_days(before, {"friday": "saturday"})
    assert [d.day for d in moved.days] == ["monday", "wednesday", "saturday"] and moved.days[2].lifts == days[2].lifts
    assert [(c.what, c.why) for c in moves_told({"friday": "saturday"})] == [
        ("Friday's lifts move to Saturday", "Friday is no training day any more")
    ]


@pytest.mark.parametrize(
    ("minutes", "left"),
    [
        (56.0, {"Lift 1": 4, "Lift 2": 4, "Lift 3": 3, "Lift 4": 3, "Lift 5": 2}),
        (49.0, {"Lift 1": 4, "Lift 2": 4, "Lift 3": 3, "Lift 4": 3}),
        (40.0, {"Lift 1": 4, "Lift 2": 4, "Lift 4": 3}),
        (30.0, {"Lift 1": 4, "Lift 2": 4}),
        (25.0, {"Lift 1": 3, "Lift 2": 3}),
    ],
)
def test_a_shorter_day_gives_up_calves_then_single_joints_then_a_set_of_each_main_lift(minutes, left):
    """The curl goes before the raise: Thursday has a curl as well."""
    question = carried_out(asked(minutes), BEFORE, Carried(trouble=INFINITE))
    found = plan(question)
    assert check(found, question) == []
    assert sets_on(found, "monday") == left and sets_on(found, "thursday") == sets_on(BEFORE, "thursday")
    told = changes_of(question, BEFORE, found, {}, {m.name: 6.0 for m in MUSCLES})
    assert told and {c.why for c in told} == {f"Monday has {minutes:.0f} minutes"}


def test_a_lift_for_a_raised_muscle_stays_beside_the_main_ones():
    raised = tuple(replace(m, priority=2.0) if m.name == "calves" else m for m in MUSCLES)
    found = plan(carried_out(asked(40.0, raised), BEFORE, Carried(trouble=INFINITE)))
    assert sets_on(found, "monday").keys() == {"Lift 1", "Lift 2", "Lift 5"}


def test_the_main_lift_of_a_raised_muscle_is_the_last_to_go():
    """The press would go before the squat: Thursday has one as well."""
    raised = tuple(replace(m, priority=2.0) if m.name == "chest" else m for m in MUSCLES)
    for muscles, left in ((MUSCLES, {"Lift 2": 2}), (raised, {"Lift 1": 2})):
        assert sets_on(carried_out(asked(13.0, muscles), BEFORE, Carried(trouble=INFINITE)).previous, "monday") == left


@pytest.mark.parametrize(("thursday", "left"), [([], {"Lift 1": 2, "Lift 9": 2}), ([4], {"Lift 1": 2, "Lift 3": 2})])
def test_a_big_muscle_keeps_its_floor_before_a_raised_small_one_keeps_its_curl(thursday, left):
    """The leg curl goes before the raised curl where Thursday has one as well, and stays where the week has no other."""
    leg_curl = meant_for(9, "hamstrings")
    legs = replace(muscle("hamstrings", 4, 10), floor=4.0)
    muscles = (*(replace(m, priority=2.0) if m.name == "biceps" else m for m in MUSCLES), legs)
    before = week_of(monday=[(PRESS, 4), (leg_curl, 4), (CURL, 3)], thursday=[(PRESS, 3), *((leg_curl, n) for n in thursday)])
    question = replace(asked(20.0, muscles), choices=(*LIFTS, leg_curl), previous=before)
    assert sets_on(carried_out(question, before, Carried(trouble=INFINITE)).previous, "monday") == left


def fixed(key, sets, day="monday", before=BEFORE, **changes):
    """The week that carries out what is fixed on a day."""
    question = replace(asked(54.0), previous=before, pinned={(day, key): sets}, trouble=INFINITE, **changes)
    question = carried_out(question, before, Carried(trouble=INFINITE))
    found = plan(question)
    assert check(found, question) == []
    return found, {c.what: c.why for c in changes_of(question, before, found, {}, {m.name: 6.0 for m in MUSCLES})}


def test_what_is_fixed_takes_the_minutes_of_small_lifts_and_no_main_one_goes_for_it():
    """A press that is fixed with a set less leaves the others; one set more of the squat costs calves."""
    more, told = fixed(SQUAT.key, 5)
    assert sets_on(more, "monday") == {"Lift 1": 4, "Lift 2": 5, "Lift 3": 3, "Lift 4": 3} and told[
        "Lift 2: 5 sets instead of 4"
    ] == ("it is fixed on Monday by hand")
    less, _ = fixed(PRESS.key, 3)
    assert sets_on(less, "monday")["Lift 1"] == 3 and sets_on(less, "monday").keys() >= {"Lift 2", "Lift 3", "Lift 4"}


def test_what_is_fixed_on_another_day_leaves_one_with_as_many_sets():
    """The curl of Monday has as many sets as are fixed, Thursday's has not; a lift that stood nowhere comes in."""
    offers = tuple(offered(d) for d in ("monday", "thursday", "saturday"))
    before = week_of(monday=[(PRESS, 4), (CURL, 3)], thursday=[(PRESS, 3), (CURL, 2)], saturday=[(SQUAT, 4)])
    found, told = fixed(CURL.key, 3, "saturday", before, days=offers)
    assert sets_on(found, "saturday") == {"Lift 2": 4, "Lift 3": 3} and sets_on(found, "monday") == {"Lift 1": 4}
    assert sets_on(found, "thursday") == {"Lift 1": 3, "Lift 3": 2}
    assert told["Lift 3 moves from Monday to Saturday"] == "it is fixed on Saturday by hand"
    found, told = fixed(BAR_CURL.key, 2, "saturday", before, days=offers)
    assert sets_on(found, "saturday") == {"Lift 2": 4, "Lift 7": 2}
    assert told["Lift 7 comes in with 2 sets"] == "it is fixed on Saturday by hand"


def test_a_raised_muscle_with_the_middle_of_its_band_gives_up_its_curl_before_others_do():
    """Fourteen sets of curls are two more than the middle of 8 to 12 without Monday's: they go, the raise stays."""
    raised = tuple(replace(m, priority=2.0, low=4.0, high=12.0) if m.name == "biceps" else m for m in MUSCLES)
    before = week_of(monday=[(PRESS, 4), (CURL, 3), (RAISE, 3)], thursday=[(BAR_CURL, 4), (DUMBBELL_CURL, 4)])
    question = replace(asked(27.0, raised), previous=before)
    left = sets_on(carried_out(question, before, Carried(trouble=INFINITE)).previous, "monday")
    assert left == {"Lift 1": 4, "Lift 4": 3}


LOST = {("monday", CURL.key): [DUMBBELL_CURL.lift, BAR_CURL.lift], ("thursday", CURL.key): [DUMBBELL_CURL.lift, BAR_CURL.lift]}


def test_a_lift_whose_equipment_is_gone_is_replaced_one_for_one_in_its_place():
    """Cables are gone: the curl's first replacement stands in its place with its sets; raises and calves have none and go; bars stay."""
    gone = LOST | {("monday", RAISE.key): [], ("monday", CALF.key): []}
    question = carried_out(asked(gear=GEAR - {"cable"}), BEFORE, Carried(instead=gone, trouble=INFINITE))
    found = plan(question)
    assert check(found, question) == []
    assert sets_on(found, "monday") == {"Lift 1": 4, "Lift 2": 4, "Lift 6": 3} and sets_on(found, "thursday") == {
        "Lift 1": 3,
        "Lift 6": 3,
    }
    told = {c.what: c.why for c in changes_of(question, BEFORE, found, {}, {m.name: 6.0 for m in MUSCLES})}
    assert told["Lift 6 comes in with 6 sets"] == "it takes the place of Lift 3"


def test_what_stands_on_the_day_already_takes_no_second_place():
    before = week_of(monday=[(PRESS, 4), (CURL, 3), (DUMBBELL_CURL, 2)])
    question = replace(asked(gear=GEAR - {"cable"}), previous=before)
    found = carried_out(question, before, Carried(instead={("monday", CURL.key): LOST["monday", CURL.key]})).previous
    assert [(x.name, x.sets) for x in found.days[0].lifts] == [("Lift 1", 4), ("Lift 7", 3), ("Lift 6", 2)]


def test_a_shorter_day_leaves_the_replacements_of_all_days_as_they_would_be():
    """Monday cannot hold what stays of it before it has given up sets; Thursday's curl is replaced all the same."""
    gone = {("monday", x.key): LOST["monday", CURL.key] if x is CURL else [] for x in (CURL, RAISE, CALF)}
    instead = {**gone, ("thursday", CURL.key): LOST["thursday", CURL.key]}
    found = plan(carried_out(asked(25.0, gear=GEAR - {"cable"}), BEFORE, Carried(instead=instead, trouble=INFINITE)))
    assert sets_on(found, "monday") == {"Lift 1": 3, "Lift 2": 3}
    assert sets_on(found, "thursday") == {"Lift 1": 3, "Lift 6": 3}


def test_a_replacement_that_takes_longer_gives_up_its_own_sets_first():
    slow = replace(DUMBBELL_CURL, rest_s=200.0)
    question = replace(asked(59.0, gear=GEAR), choices=tuple(slow if c is DUMBBELL_CURL else c for c in LIFTS))
    found = carried_out(question, BEFORE, Carried(instead={("monday", CURL.key): [slow.lift]}, trouble=INFINITE)).previous
    assert sets_on(found, "monday") == {"Lift 1": 4, "Lift 2": 4, "Lift 6": 2, "Lift 4": 3, "Lift 5": 3}


@pytest.mark.parametrize(("trouble", "stays"), [(0.0, False), (2.0, False), (50.0, True), (INFINITE, True)])
def test_a_further_change_has_to_gain_what_it_is_asked_to(trouble, stays):
    """The biceps are raised and below their band: sets for it gain more than a rule of practice, and less than 50."""
    raised = tuple(replace(m, priority=3.0, low=8.0, floor=6.0) if m.name == "biceps" else m for m in MUSCLES)
    before = week_of(monday=[(PRESS, 4), (SQUAT, 3), (CURL, 2)], thursday=[(SQUAT, 3), (CURL, 2)])
    found = plan(replace(asked(muscles=raised), previous=before, trouble=trouble))
    assert (old_sets(found) == old_sets(before)) is stays


def test_what_leaves_a_day_that_follows_hard_sets_says_so():
    """Two days running hold no more than four sets of a muscle both (common practice, no source)."""
    before = week_of(monday=[(PRESS, 5), (CURL, 3)], tuesday=[(PRESS, 5), (RAISE, 3)])
    after = week_of(monday=[(PRESS, 5), (CURL, 3)], tuesday=[(PRESS, 4), (RAISE, 2)])
    question = WeekQuestion(choices=LIFTS, days=(offered("monday"), offered("tuesday")), muscles=MUSCLES, previous=before)
    counts = {"chest": 10.0, "deltoid_middle": 3.0, "biceps": 3.0, "quadriceps": 0.0, "calves": 0.0}
    told = {c.what: c.why for c in changes_of(question, before, replace(after, muscle_sets=counts), {}, counts)}
    assert told["Lift 1: 9 sets instead of 10"] == "chest would have hard sets on Monday and Tuesday, without a day between"
    assert "without a day between" not in told["Lift 4: 2 sets instead of 3"]


def unsearched(monkeypatch):
    """From now on a search of weeks fails."""
    for name in ("improved", "improved_nearby", "begun"):
        monkeypatch.setattr(solve, name, lambda *_: pytest.fail("a week was searched"))


def test_what_a_bound_forbids_goes_alone_and_nothing_is_searched(monkeypatch):
    """Monday's session moves to Tuesday, before Wednesday's: two days running hold no more than four sets of a muscle both."""
    unsearched(monkeypatch)
    before = week_of(tuesday=[(PRESS, 4), (CURL, 4), (RAISE, 3)], wednesday=[(PRESS, 4), (CURL, 3), (CALF, 3)])
    full = week_of(tuesday=[(PRESS, 5), (CURL, 4), (RAISE, 3)], wednesday=[(PRESS, 5), (CURL, 3), (CALF, 3)])
    days = (offered("tuesday", 90.0), offered("wednesday", 90.0))
    question = WeekQuestion(choices=LIFTS, days=days, muscles=MUSCLES, previous=before, pair=False, trouble=INFINITE)
    assert old_sets(plan(question)) == old_sets(before)
    rules = replace(question.rules, most_sets=5.0)
    question = replace(question, previous=full, rules=rules)
    found = old_sets(plan(question))
    gone = {line: n - found.get(line, 0) for line, n in old_sets(full).items() if n != found.get(line, 0)}
    assert len(gone) == 1 and gone.keys() <= {("tuesday", PRESS.key), ("wednesday", PRESS.key)}
    assert check(plan(question), question) == []


def test_a_day_is_late_by_its_real_pairs_alone(monkeypatch):
    """Two lifts that rest five minutes save 350 s in each of three rounds, far more than is counted on; the day is on time with them."""
    unsearched(monkeypatch)
    a, b = (replace(c, rest_s=300.0) for c in (CURL, RAISE))
    minutes = 5 + (2 * (60 + 3 * 350) - 3 * 350) / 60
    before = week_of(monday=[(a, 3), (b, 3)])
    question = WeekQuestion(
        choices=(a, b), days=(offered("monday", minutes + 0.1),), muscles=MUSCLES, previous=before, trouble=INFINITE
    )
    found = plan(question)
    assert old_sets(found) == old_sets(before) and found.days[0].minutes == pytest.approx(minutes)


def test_a_lift_that_stands_on_the_day_takes_the_sets_where_no_other_can_come():
    """Of one family a day holds one lift for a first target: the raise of Monday takes as many sets as it may, and no other job comes in."""
    twin = replace(CURL, lift="lift_8", name="Lift 8", gear="dumbbell", practice=DUMBBELL_CURL.practice, kind=DUMBBELL_CURL.kind)
    before = week_of(monday=[(PRESS, 4), (CURL, 3), (DUMBBELL_CURL, 2)])
    question = replace(asked(gear=GEAR - {"cable"}), previous=before, choices=(*LIFTS, twin))
    names = {("monday", CURL.key): [twin.lift, DUMBBELL_CURL.lift]}
    found = carried_out(question, before, Carried(instead=names, trouble=INFINITE)).previous
    assert [(x.name, x.sets) for x in found.days[0].lifts] == [("Lift 1", 4), ("Lift 6", 4)]


@pytest.mark.parametrize(("familiar", "sets"), [(False, 2), (True, 4)])
def test_what_bears_the_body_on_one_joint_begins_with_two_sets(familiar, sets):
    """A lean-back with the knees on the floor for a leg extension leaves days of soreness where it is new (common practice, no source)."""
    extension, lean = meant_for(9, "quadriceps"), meant_for(10, "quadriceps", gear="body", familiar=familiar)
    before = week_of(monday=[(PRESS, 4), (extension, 4)])
    question = replace(asked(gear=GEAR - {"cable"} | {"body"}), previous=before, choices=(*LIFTS, extension, lean))
    found = carried_out(question, before, Carried(instead={("monday", extension.key): [lean.lift]}, trouble=INFINITE)).previous
    assert [(x.name, x.sets) for x in found.days[0].lifts] == [("Lift 1", 4), ("Lift 10", sets)]


def test_what_took_a_place_gives_way_before_what_stood():
    """A bound of sets in the week: the newcomer loses them, though a set of it is worth as much."""
    before = week_of(monday=[(PRESS, 4), (CURL, 4)], thursday=[(SQUAT, 4)])
    many = dict.fromkeys(("chest", "quadriceps", "biceps"), 4)
    done = SetsBefore(sets=10, muscles=many, counted={m: float(n) for m, n in many.items()})
    question = replace(asked(gear=GEAR - {"cable"}), previous=before, done=done, rules=replace(asked().rules, grow_part=0.0))
    found = plan(carried_out(question, before, Carried(instead={("monday", CURL.key): [BAR_CURL.lift]}, trouble=INFINITE)))
    assert sets_on(found, "monday") == {"Lift 1": 4, "Lift 7": 2} and sets_on(found, "thursday") == {"Lift 2": 4}


def test_what_a_bound_takes_is_made_up_for_on_a_day_that_may_hold_it():
    """Presses of two days running lose a set; the fly of Friday takes it, and no other muscle's lifts change."""
    fly = meant_for(9, "chest", gear="dumbbell")
    days = {"tuesday": [(PRESS, 5), (CURL, 3)], "wednesday": [(PRESS, 5), (CALF, 3)], "friday": [(fly, 3), (SQUAT, 4)]}
    offers = tuple(offered(d, 90.0) for d in days)
    rules = replace(asked().rules, most_sets=5.0)
    raised = tuple(replace(m, priority=2.0) if m.name == "chest" else m for m in MUSCLES)
    asks = dict(choices=(*LIFTS, fly), days=offers, muscles=raised, previous=week_of(**days), pair=False, rules=rules)
    found = old_sets(plan(WeekQuestion(**asks, trouble=20.0)))
    was = old_sets(week_of(**days))
    differs = {line: found.get(line, 0) - n for line, n in was.items() if found.get(line, 0) != n}
    assert found.keys() == was.keys()
    assert differs.pop(("friday", fly.key)) >= 1
    assert len(differs) == 1 and [n for (_, key), n in differs.items() if key == PRESS.key] == [-1]
