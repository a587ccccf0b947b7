"""What a raised muscle's sets are made of, no two rows alike on a day, and weights that somebody has outgrown (common practice, no source)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice
from made_up_records import MAN, record

from kept_gym import share_computed
from lengthwise.planning.assembly import sets_of_point
from lengthwise.planning.check import check
from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.search import shared_out
from lengthwise.planning.solve import plan
from lengthwise.planning.week_model import forgiving
from lengthwise.planning.whole import model_of
from lengthwise.weeks.week_choices import MORE_LOAD, offer_of
from lengthwise.weeks.week_plans import plan_week

GYM = frozenset({"cable"})


def day(minutes, name="monday", shape="whole"):
    return DayOffer(day=name, place="gym", minutes=minutes, gear=GYM, shape=shape)


def meant_for(number, target, family, **changes):
    return replace(lift(number, **{target: 1.0}), kind=family, practice=practice([target], family=family, **changes))


def sets_of(week):
    return {x.lift: sum(y.sets for d in week.days for y in d.lifts if y.lift == x.lift) for d in week.days for x in d.lifts}


@pytest.mark.parametrize(("priority", "beginner", "part"), [(1.0, False, 1), (2.0, False, 2), (2.0, True, 1)])
def test_a_raised_chest_has_twice_as_many_press_sets_as_fly_sets(priority, beginner, part):
    """Flies take a third of a press's time here, so that without a rule they would fill the days."""
    press, fly = meant_for(0, "chest", "press", pattern="press", multi=True), meant_for(1, "chest", "fly", pattern="fly")
    fly = replace(fly, setup_s=0.0, set_s=20.0, rest_s=40.0)
    asked = WeekQuestion(
        choices=(press, fly),
        days=(day(40), day(40, "thursday")),
        muscles=(muscle("chest", 10, 18, priority=priority),),
        beginner=beginner,
    )
    sets = sets_of(plan(asked))
    assert sets["lift_0"] >= part * sets["lift_1"] > 0 and (part > 1 or sets["lift_0"] < 2 * sets["lift_1"])


@pytest.mark.parametrize(("beginner", "sets"), [(False, 4), (True, 2)])
def test_a_movement_that_a_raised_muscle_wants_is_no_token(beginner, sets):
    """Abductions count half of a thrust's set here, so that two of them would do for having one at all."""
    thrust = replace(meant_for(0, "glutes", "hip_thrust", multi=True), lift="hip_thrust")
    out = replace(lift(1, glutes=0.5), lift="machine_abduction", practice=practice(["glutes"], family="hip_abduction"))
    bridge = replace(meant_for(2, "glutes", "hip_hinge", multi=True), lift="hinge")
    asked = WeekQuestion(
        choices=(thrust, out, bridge),
        days=(day(22), day(22, "thursday")),
        muscles=(muscle("glutes", 8, 12, priority=2.0),),
        beginner=beginner,
    )
    assert sets_of(plan(asked))["machine_abduction"] == sets


def test_two_rows_with_the_chest_on_a_pad_share_no_day_where_another_row_will_do():
    held = [meant_for(k, "upper_back", f"row {k}", pattern="row", multi=True, chest_held=True) for k in range(2)]
    other = meant_for(2, "upper_back", "row 2", pattern="row", multi=True)
    held = [replace(c, value={"upper_back": 1.2}) for c in held]
    asked = WeekQuestion(choices=(*held, other), days=(day(60),), muscles=(muscle("upper_back", 8, 12, priority=2.0),))
    assert {x.lift for x in plan(asked).days[0].lifts} in ({"lift_0", "lift_2"}, {"lift_1", "lift_2"})


@pytest.fixture(scope="module")
def data(tmp_path_factory, computed):
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("outgrown"), computed)))
        yield


@pytest.mark.parametrize(
    ("heaviest", "gear", "wishes", "other"),
    [
        (38, "barbell", {}, "Romanian deadlift"),
        (60, "barbell", {}, ""),
        (38, None, {}, "One-leg Romanian deadlift"),
        (38, "barbell", {"liked": ["dumbbell_romanian_deadlift"]}, ""),
    ],
)
def test_dumbbells_that_somebody_has_outgrown_give_way_to_a_bar_or_to_one_side_at_a_time(data, heaviest, gear, wishes, other):
    bar = {"barbell": {"bar_kg": 20, "plates_kg": [20, 20, 10, 5, 2.5, 1.25]}} if gear else {}
    place = {"gear": {"dumbbell": {"rack_kg": [*range(4, heaviest + 1, 2)]}, **bar}, "stations": ["flat_bench", "rack"]}
    known = [{"lift": "deadlift", "load_kg": 140, "repetitions": 5, "reserve": 2}]
    client = record(
        "home", "three", **MAN, training="trained", training_years=4, known_lifts=known, wishes=wishes, places={"home": place}
    )
    offer = offer_of(client)
    assert offer.out.get("dumbbell_romanian_deadlift", "") == (other and f"{other} {MORE_LOAD}")
    assert ("dumbbell_romanian_deadlift" in {c.lift for c in offer.choices}) is not bool(other)


def test_sets_of_the_same_lifts_are_shared_out_anew():
    """Two sets of each lift where four of the better one fit: the lifts stay, their sets move, and nobody calls the week worse."""
    better, lesser = meant_for(0, "chest", "press", multi=True), replace(meant_for(1, "chest", "fly"), value={"chest": 0.3})
    model = model_of(WeekQuestion(choices=(better, lesser), days=(day(24),), muscles=(muscle("chest"),)))
    programme = forgiving(model)
    two = maximise(programme.fixing({model.sets(0, 0): 2.0, model.sets(1, 0): 2.0}), Work())
    found = shared_out(model, programme, two, Work())
    assert sets_of_point(model, two.point) == {(0, 0): 2, (1, 0): 2} and found.worth > two.worth
    assert sets_of_point(model, found.point) == {(0, 0): 4, (1, 0): 2}


def test_the_second_of_two_raised_muscles_keeps_up(data):
    """Pulldowns serve the one, and the minutes of the other were taken by what nobody raised: 10.3 sets beside 12.2."""
    wanted = {"latissimus": 2, "upper_back": 2}
    client = record("home_dumbbells", "four", **MAN, training_years=2, wishes={"priority": wanted})
    longer = client.model_copy(update={"days": tuple(d.model_copy(update={"minutes": 75.0}) for d in client.days)})
    sets = plan_week(longer).muscle_sets
    assert min(sets[m] for m in wanted) > max(n for m, n in sets.items() if m not in wanted) - 1


def test_a_raised_muscle_that_one_day_alone_may_hold_is_trained_on_it():
    """Upper and lower body on two days, as the client asked: the rule of two days left raised hamstrings without a set, and all else that trains them."""
    curl = replace(lift(0, hamstrings=1.0), practice=practice(["hamstrings"], family="knee_flexion", region="lower"))
    press = replace(lift(1, chest=1.0), practice=practice(["chest"], family="press_horizontal", region="push", multi=True))
    offers = tuple(
        DayOffer(day=d, place="gym", minutes=60.0, gear=frozenset({"cable"}), shape=shape, strict=True)
        for d, shape in (("monday", "upper"), ("tuesday", "lower"))
    )
    raised = replace(muscle("hamstrings", 8, 16), priority=2.0)
    question = WeekQuestion(choices=(curl, press), days=offers, muscles=(raised, muscle("chest", 8, 16)))
    week = plan(question)
    assert week.muscle_sets["hamstrings"] >= 4 and not check(week, question)
