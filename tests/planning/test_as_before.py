"""A day keeps the order and the pairs of the week before where the rules allow it (common practice, no source)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.planning.as_before import MINUTES, NOT_IN_TURN, as_before, order_changes, pairs_in
from lengthwise.planning.assembly import week_of
from lengthwise.planning.pairing import pairs_of
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.week import PlannedDay

SETS = {0: 3, 1: 3, 2: 3, 3: 3}


def question(minutes=90.0, **changes):
    """Two own lifts over several joints and two of one joint, each for a muscle of its own."""
    names = ("chest", "latissimus", "calves", "biceps")
    multi = {0: ("press", "press"), 1: ("row", "row")}
    choices = [
        replace(lift(k, **{m: 1.0}), kept=k in multi, systemic=0.2, practice=practice([m], family=multi.get(k, (m, ""))[0], pattern=multi.get(k, ("", ""))[1], multi=k in multi))
        for k, m in enumerate(names)
    ]  # fmt: skip
    day = DayOffer(day="monday", place="gym", minutes=minutes, gear=frozenset({"cable"}))
    return replace(WeekQuestion(choices=tuple(choices), days=(day,), muscles=tuple(map(muscle, names))), **changes)


def week(asked, sets=SETS):
    return week_of(asked, {(i, 0): n for i, n in sets.items()}, 0.0, 0.0)


def ids(day):
    return [x.lift for x in day.lifts]


def turned(found, order, **pairs):
    """The same week with its lifts in another order; pairs by lift."""
    (day,) = found.days
    by_id = {x.lift: replace(x, pair=pairs.get(x.lift)) for x in day.lifts}
    return replace(found, days=(replace(day, lifts=tuple(by_id[i] for i in order)),))


def test_lifts_come_as_they_came_where_the_rules_do_not_care():
    new = week(question())
    old = turned(new, ["lift_1", "lift_0", "lift_3", "lift_2"])
    assert ids(new.days[0]) != ids(old.days[0])
    again = week(question(previous=old))
    assert ids(again.days[0]) == ids(old.days[0]) and not list(order_changes(question(previous=old), old, again))


def test_an_order_that_breaks_a_rule_is_put_right_and_said():
    """Calves before the press."""
    new = week(question())
    old = turned(new, ["lift_2", "lift_1", "lift_0", "lift_3"])
    again = week(question(previous=old))
    (told,) = order_changes(question(previous=old), old, again)
    assert ids(again.days[0]) == ids(new.days[0])
    assert told.what == "Monday: its lifts come in another order" and "early" in told.why


def test_a_new_lift_comes_where_it_would_anyhow():
    asked = question()
    old = turned(week(asked, {0: 3, 1: 3, 3: 3}), ["lift_1", "lift_0", "lift_3"])
    found = week(question(previous=old)).days[0]
    assert [i for i in ids(found) if i != "lift_2"] == ids(old.days[0]) and ids(found).index("lift_2") >= 2


def test_a_lift_that_went_leaves_the_others_in_place():
    old = turned(week(question()), ["lift_1", "lift_0", "lift_3", "lift_2"])
    assert ids(week(question(previous=old), {0: 3, 1: 3, 2: 3}).days[0]) == ["lift_1", "lift_0", "lift_2"]


@pytest.mark.parametrize(("sets", "stays"), [(SETS, True), ({**SETS, 2: 6}, False)])
def test_pairs_stay_while_their_sets_are_alike(sets, stays):
    """Calves and biceps in turn, though the day has minutes enough without."""
    old = turned(week(question()), ["lift_0", "lift_1", "lift_2", "lift_3"], lift_2=1, lift_3=1)
    again = question(previous=old)
    found = week(again, sets)
    told = [x.why for x in order_changes(again, old, found)]
    assert bool(pairs_in(found.days[0])) == stays and told == ([] if stays else [NOT_IN_TURN])


def test_minutes_go_before_old_pairs():
    """One pair saves too little for the day; the old one stays beside a new one, which is said."""
    asked = question(minutes=32.0)
    assert len(pairs_of(asked, 0, SETS)) == 2
    old = turned(week(question()), ["lift_0", "lift_1", "lift_2", "lift_3"], lift_1=1, lift_2=1)
    again = question(minutes=32.0, previous=old)
    found = week(again)
    assert frozenset({("lift_1", "full"), ("lift_2", "full")}) in pairs_in(found.days[0]) and len(pairs_in(found.days[0])) == 2
    assert [x.why for x in order_changes(again, old, found)] == [MINUTES]


def test_a_first_week_is_left_as_it_is():
    day = PlannedDay("monday", "gym", 30.0, week(question()).days[0].lifts)
    assert as_before(question(), day) is day
