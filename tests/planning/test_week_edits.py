"""Edits by hand conserve: no set is ever lost unsaid, and a change can be taken back."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_up_records import record

from kept_gym import share_computed
from lengthwise.days import monday_of
from lengthwise.errors import InputError
from lengthwise.records import store
from lengthwise.records.kept_weeks import keep_week, week_of
from lengthwise.records.past import Past
from lengthwise.training.client import KnownLift
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.swap_taken import take_swap
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_edit import Edit, edit_week, week_from_text, week_text
from lengthwise.weeks.week_plans import Changes, plan_week

KETTLEBELLS = {"gear": {"kettlebell": {"rack_kg": [4, 8, 12, 16, 20, 24]}}}
CLIENT = record("home_dumbbells", "three", places={"home_dumbbells": KETTLEBELLS})
DAYS = ("monday", "wednesday", "friday")
YEARS = 520
"""Weeks of ten years, one edit a week, in runs of twenty."""


@pytest.fixture(scope="module")
def planned(tmp_path_factory, computed):
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("edits"), computed)))
        yield plan_week(CLIENT), offer_of(CLIENT)


def total(week):
    return sum(x.sets for d in week.days for x in d.lifts)


def names(week, day):
    return [(x.lift, x.range) for d in week.days if d.day == day for x in d.lifts]


def test_a_lift_dragged_onto_its_own_lift_adds_its_sets(planned):
    week, offer = planned
    twice = next(x for x in week.days[0].lifts if (x.lift, x.range) not in names(week, "friday"))
    added = edit_week(CLIENT, offer, week, Edit(do="add", lift=twice.lift, to="friday", sets=3)).week
    moved = edit_week(CLIENT, offer, added, Edit(do="move", day="monday", lift=twice.lift, to="friday"))
    there = next(x for x in moved.week.days[2].lifts if x.lift == twice.lift)
    assert there.sets == 3 + twice.sets and total(moved.week) == total(added)
    assert f"3 and {twice.sets} sets are now {there.sets}" in moved.said[0]


@pytest.mark.parametrize(("lift", "why"), [("bench_press", "barbell"), ("cable_row", "cable")])
def test_a_lift_fixed_by_hand_that_cannot_be_done_is_refused_with_the_reason(planned, lift, why):
    with pytest.raises(InputError, match=f"cannot stand on Monday: .*{why}"):
        plan_week(CLIENT, Changes(last=planned[0], fixed={("monday", lift): 3}))


def test_a_change_can_be_taken_back(planned):
    week, offer = planned
    before = edit_week(CLIENT, offer, week, Edit()).week
    lift = before.days[0].lifts[0]
    assert (
        total(edit_week(CLIENT, offer, before, Edit(do="remove", day="monday", lift=lift.lift)).week) == total(before) - lift.sets
    )
    back = edit_week(CLIENT, offer, week_from_text(week_text(before)), Edit()).week
    assert back.days == before.days and back.muscle_sets == before.muscle_sets


def test_looking_changes_nothing_and_says_nothing(planned):
    week, offer = planned
    seen = edit_week(CLIENT, offer, week, Edit())
    assert [d.lifts for d in seen.week.days] == [d.lifts for d in week.days]
    assert seen.week.gap == week.gap and seen.said == ()


def test_loads_planned_from_the_log_are_those_that_are_kept_and_asked_for_alone(planned):
    done = next(x for d in planned[0].days for x in d.lifts if x.lift == "kettlebell_goblet_squat")
    past = Past(known=(KnownLift(lift=done.lift, load_kg=20, repetitions=14, reserve=0, day=date.today()),))
    told = past.of(CLIENT)
    week = plan_week(CLIENT, past=past)
    seen = edit_week(CLIENT, offer_of(told), week, Edit(), past)
    assert [d.lifts for d in seen.week.days] == [d.lifts for d in week.days]
    assert [d.lifts for d in edit_week(CLIENT, planned[1], week, Edit()).week.days] == [d.lifts for d in week.days]
    alone = load_of(CLIENT, done.lift, SetTarget(), told)
    there = {(x.load_kg, x.repetitions, x.guess) for d in week.days for x in d.lifts if x.lift == done.lift}
    assert there == {(alone.load_kg, alone.repetitions, False)}


def test_a_swap_keeps_the_sets(planned):
    week, offer = planned
    old = week.days[0].lifts[0]
    new = next(c.lift for c in offer.choices if all(c.lift != x.lift for x in week.days[0].lifts))
    swapped = edit_week(CLIENT, offer, week, Edit(do="swap", day="monday", lift=old.lift, to=new))
    assert total(swapped.week) == total(week) and "takes the place of" in swapped.said[0]


def test_a_swap_for_another_muscle_says_which_one_loses_its_sets(planned):
    week, offer = planned
    old, there = week.days[0].lifts[0], {x.lift for x in week.days[0].lifts}
    meant = {*next(c for c in offer.choices if c.lift == old.lift).practice.targets}
    for new in {c.lift: c for c in offer.choices if c.lift not in there}.values():
        told = edit_week(CLIENT, offer, week, Edit(do="swap", day="monday", lift=old.lift, to=new.lift)).said[1:]
        assert told or meant & {*new.practice.targets}, new.lift
        assert all(f"{new.name} hardly works what {old.name} does: " in s for s in told)


ONE = st.tuples(
    st.sampled_from(["move", "sets", "remove", "add", "swap", "look"]),
    st.sampled_from(DAYS),
    st.sampled_from(DAYS),
    st.integers(0, 30),
    st.integers(1, 9),
)


@settings(max_examples=YEARS // 20, deadline=None, derandomize=True)
@given(st.lists(ONE, max_size=20))
def test_no_set_is_lost_unsaid(planned, edits):
    week, offer = planned
    for do, day, to, which, sets in edits:
        here = names(week, day)
        lift = offer.choices[which % len(offer.choices)].lift if do == "add" or not here else here[which % len(here)][0]
        before, to = total(week), offer.choices[(which + sets) % len(offer.choices)].lift if do == "swap" else to
        try:
            now = edit_week(CLIENT, offer, week, Edit(do=do, day=day, lift=lift, to=to, sets=sets))
        except InputError:
            continue
        own = next((x.sets for d in week.days if d.day == day for x in d.lifts if x.lift == lift), 0)
        kept = {"move": before, "swap": before, "look": before}
        assert total(now.week) == {**kept, "remove": before - own, "add": before + sets, "sets": before - own + sets}[do]
        assert now.said or do in ("add", "look") or (do == "move" and day == to)
        back = edit_week(CLIENT, offer, week_from_text(week_text(week)), Edit()).week
        assert [(d.day, x.lift, x.sets) for d in back.days for x in d.lifts] == [
            (d.day, x.lift, x.sets) for d in week.days for x in d.lifts
        ]
        week = now.week


def test_an_edit_solves_and_plans_nothing_so_that_it_is_answered_at_once(planned, monkeypatch):
    week, offer = planned
    for computing in (
        "lengthwise.mechanics.profile.solved",
        "lengthwise.weeks.week_plans.plan",
        "lengthwise.known.lift_facts.in_threads",
    ):
        monkeypatch.setattr(computing, lambda *_, **__: pytest.fail("an edit computes nothing anew"))
    day = week.days[0]
    assert edit_week(CLIENT, offer, week, Edit(do="remove", day=day.day, lift=day.lifts[0].lift)).week.days[0].lifts != day.lifts


@pytest.fixture
def kept(planned, own_folder):
    """The planned week kept for three weeks running, in a store of its own."""
    store.release()
    number, first = store.save_client(CLIENT), monday_of(date.today()) + timedelta(weeks=1)
    for k in range(3):
        keep_week(number, first + timedelta(weeks=k), planned[0])
    yield number, first
    store.release()


def lifts_of(number, monday):
    return {x.lift for d in week_of(number, monday).week.days for x in d.lifts}


@pytest.mark.parametrize(("span", "weeks"), [("week", 1), ("block", 3)])
def test_a_swap_is_taken_into_the_week_or_the_whole_block(planned, kept, span, weeks):
    (week, offer), (number, first) = planned, kept
    old = week.days[0].lifts[0]
    new = next(c.lift for c in offer.choices if c.lift not in lifts_of(number, first))
    taken = take_swap(number, CLIENT, old.lift, new, first, span=span)
    assert [t.monday for t in taken] == [first + timedelta(weeks=k) for k in range(weeks)]
    for t in taken:
        assert total(t.week) == total(week) and "takes the place of" in t.said[0]
    changed = [old.lift not in lifts_of(number, first + timedelta(weeks=k)) for k in range(3)]
    assert changed == [True] * weeks + [False] * (3 - weeks)
    with pytest.raises(InputError, match="no saved week from"):
        take_swap(number, CLIENT, old.lift, new, first, span="week")
