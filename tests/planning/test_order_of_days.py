"""What opens a day, where hinges stand, and what pairs come first, each on a week small enough to see through (common practice, no source)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.planning.apart import early_enough
from lengthwise.planning.assembly import week_of
from lengthwise.planning.changes import changes_of
from lengthwise.planning.check import check
from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.order import in_order
from lengthwise.planning.pairing import minutes_of, pairs_of
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.planning.shape import belongs
from lengthwise.planning.shortlist import shortlist
from lengthwise.planning.solve import plan
from lengthwise.planning.week_model import Model, add_lifts, forgiving
from lengthwise.planning.week_rows import tied_days
from lengthwise.planning.whole import model_of
from lengthwise.practice.week_lifts import Own, rest_after
from lengthwise.practice.week_lifts import practice as known_practice
from lengthwise.weeks.lifts_missed import instead_told

GYM = frozenset({"cable"})


def day(minutes, name="monday", shape="whole"):
    return DayOffer(day=name, place="gym", minutes=minutes, gear=GYM, shape=shape)


def meant_for(number, target, family="", **changes):
    made = practice([target], family=family or f"family {number}", **changes)
    return replace(lift(number, **{target: 1.0}), kind=f"kind {number}", practice=made)


def first_of(*choices, raised):
    """The lift that opens a day of these lifts where some muscles are raised."""
    muscles = tuple(muscle(m, priority=2.0 if m in raised else 1.0) for m in dict.fromkeys(c.practice.targets[0] for c in choices))
    asked = WeekQuestion(choices=choices, days=(day(120),), muscles=muscles)
    week = week_of(asked, {(i, 0): 3 for i in range(len(choices))}, 0.0, 0.0)
    assert not [fault for fault in check(week, asked) if "early" in fault]
    return week.days[0].lifts[0].lift


SQUAT = meant_for(0, "quadriceps", pattern="squat", multi=True, costly=True, staple=True)
THRUST = meant_for(1, "glutes", multi=True, staple=True)
CURL = meant_for(2, "biceps", staple=True)


def test_what_is_done_in_turn_with_the_opener_counts_before_barbell_lifts():
    own = {"multi": True, "staple": True}
    opener, row = (replace(meant_for(k, "latissimus", **own), kept=True) for k in (3, 4))
    press = replace(meant_for(5, "deltoid_anterior", pattern="overhead press", costly=True, **own), kept=True)
    fly, extension = meant_for(6, "chest"), meant_for(7, "triceps")
    choices = {c.key: c for c in (opener, row, press, fly, extension)}
    muscles = tuple(
        muscle(m, priority=2.0 if m == "latissimus" else 1.0) for m in ("latissimus", "deltoid_anterior", "chest", "triceps")
    )
    asked = WeekQuestion(choices=tuple(choices.values()), days=(day(120),), muscles=muscles)
    lifts = week_of(asked, {(i, 0): 3 for i in range(5)}, 0.0, 0.0).days[0].lifts
    assert [x.lift for x in lifts][:3] == ["lift_3", "lift_4", "lift_5"]
    turned = [replace(x, pair=1) if x.lift in ("lift_3", "lift_6") else x for x in lifts]
    assert [x.lift for x in in_order(turned, choices, asked)][:3] == ["lift_3", "lift_6", "lift_5"]


def test_a_raised_muscles_staple_opens_the_day_and_a_single_joint_lift_one_without_lifts_over_several():
    assert first_of(SQUAT, THRUST, raised=()) == "lift_0"
    assert first_of(SQUAT, THRUST, raised=("glutes",)) == "lift_1"
    assert first_of(SQUAT, CURL, raised=("biceps",)) == "lift_0"
    assert first_of(SQUAT, replace(CURL, kept=True), raised=("biceps",)) == "lift_0"
    assert first_of(meant_for(3, "calves"), replace(CURL, kept=True), raised=("biceps",)) == "lift_2"
    assert first_of(replace(SQUAT, kept=True), THRUST, raised=("glutes",)) == "lift_0"


def test_a_raised_muscles_lift_stands_before_own_lifts_for_others_that_it_does_not_tire():
    """Common practice, no source: what is wanted most is done fresh. A leg press leaves the low back to the deadlift that follows, and comes
    before it in any case but where the hinge is for the raised muscle; own squats, deadlifts from the floor, bars for what it tires and own lifts
    for the raised muscle itself keep their place.
    """
    press = meant_for(
        0, "quadriceps", family="leg_press", pattern="leg press", multi=True, staple=True, movers=frozenset({"glutes"})
    )
    hinge = replace(meant_for(1, "hamstrings", family="hip_hinge", pattern="hinge", multi=True, costly=True), kept=True)
    assert in_turn(press, hinge, raised=("quadriceps",)) == in_turn(press, hinge) == ["lift_0", "lift_1"]
    assert in_turn(press, hinge, raised=("hamstrings",)) == ["lift_1", "lift_0"]
    for before in (
        replace(hinge, lift="deadlift"),
        replace(hinge, practice=replace(hinge.practice, family="squat", pattern="squat")),
        replace(hinge, practice=replace(hinge.practice, family="hip_thrust", pattern="hip thrust", targets=("glutes",))),
        replace(meant_for(1, "quadriceps", multi=True), kept=True),
    ):
        assert in_turn(press, before, raised=("quadriceps",))[0] == before.lift
    pull = replace(meant_for(2, "latissimus", multi=True), kept=True)
    assert in_turn(press, pull, hinge, raised=("quadriceps",))[0] == "lift_0"


def test_squats_stand_before_hinges_and_lifts_on_both_legs_before_those_on_one():
    hinge = meant_for(1, "hamstrings", family="hip_hinge", multi=True, costly=True)
    squat = meant_for(0, "quadriceps", family="squat", multi=True, costly=True)
    assert first_of(replace(squat, systemic=0.5), replace(hinge, systemic=3.0), raised=()) == "lift_0"
    lunge = meant_for(2, "glutes", family="lunge", multi=True, staple=True)
    for raised in ((), ("glutes",)):
        assert first_of(meant_for(0, "quadriceps", multi=True), lunge, raised=raised) == "lift_0"
    assert first_of(meant_for(0, "quadriceps", multi=True), replace(lunge, kept=True), raised=("glutes",)) == "lift_2"


def test_a_squat_comes_before_the_hinge_that_it_is_done_in_turn_with():
    """Common practice, no source: the hinge tires the back that the squat leans on, in a pair as well."""
    hinge = meant_for(0, "hamstrings", family="hip_hinge", pattern="hinge", multi=True)
    squat = meant_for(1, "quadriceps", family="sissy", pattern="squat", multi=True)
    lifts = (replace(hinge, systemic=0.4), replace(squat, systemic=0.1))
    asked = WeekQuestion(choices=lifts, days=(day(20),), muscles=(muscle("hamstrings"), muscle("quadriceps")))
    week = week_of(asked, {(0, 0): 3, (1, 0): 3}, 0.0, 0.0)
    assert [(x.lift, x.pair) for x in week.days[0].lifts] == [("lift_1", 1), ("lift_0", 1)]
    assert not [fault for fault in check(week, asked) if "stands" in fault]


@pytest.mark.parametrize(("others", "missed"), [(0, 2.0), (1, 1.0), (2, 0.0)])
def test_a_barbell_hinge_behind_two_machine_squats_needs_a_day_of_five(others, missed):
    """The expert's row `costly_early`: squats and hinges with a bar stand in the first half of the day; squats of any kind stand before hinges."""
    hinge = meant_for(0, "hamstrings", family="hip_hinge", pattern="hinge", multi=True, costly=True)
    squats = [meant_for(k, "quadriceps", pattern=p, multi=True) for k, p in ((1, "squat"), (2, "leg press"))]
    rest = [meant_for(k, m) for k, m in ((3, "calves"), (4, "biceps"))][:others]
    choices = (hinge, *squats, *rest)
    model = Model(question=WeekQuestion(choices=choices, days=(day(120),), muscles=(muscle("hamstrings"),)), saved=(1.0,))
    add_lifts(model)
    early_enough(model, 0)
    all_there = model.programme.fixing({model.used(i, 0): 1.0 for i in range(len(choices))})
    assert maximise(all_there, Work()).point[model.soft[-1][0]] == pytest.approx(missed)


def in_turn(*choices, raised=(), pair=False):
    """The lifts of a day in their order."""
    muscles = tuple(muscle(m, priority=2.0 if m in raised else 1.0) for m in dict.fromkeys(c.practice.targets[0] for c in choices))
    asked = WeekQuestion(choices=choices, days=(day(240),), muscles=muscles, pair=pair)
    week = week_of(asked, {(i, 0): 3 for i in range(len(choices))}, 0.0, 0.0)
    assert not [fault for fault in check(week, asked) if "stands" in fault or "early" in fault]
    return [x.lift for x in week.days[0].lifts]


def test_the_clients_own_lifts_over_several_joints_lead_and_those_of_a_raised_muscle_lead_them():
    """Common practice, no source: what is known and wanted is done fresh, bars in the first half, what is new and single-joint after."""
    press = meant_for(0, "chest", family="press_horizontal", multi=True, costly=True)
    new, own = meant_for(1, "chest", multi=True, staple=True), replace(meant_for(2, "chest", multi=True), kept=True)
    pull, curl = replace(meant_for(3, "latissimus", multi=True), kept=True), replace(meant_for(4, "hamstrings"), kept=True)
    raise_ = meant_for(5, "deltoid_middle")
    for raised in ((), ("hamstrings",), ("chest",)):
        assert in_turn(curl, new, own, raised=raised) == ["lift_2", "lift_1", "lift_4"]
    assert in_turn(replace(press, kept=True), new, pull, curl, raise_, raised=("latissimus",))[:3] == ["lift_3", "lift_0", "lift_1"]
    assert in_turn(press, new, pull, own, raise_, curl)[:4] == ["lift_2", "lift_3", "lift_0", "lift_1"]
    assert in_turn(press, replace(press, lift="lift_6", kind="other"), pull, own)[0] == "lift_0"


def test_easy_sets_for_a_sore_joint_never_open_a_day_nor_count_as_much():
    easy = replace(THRUST, gentle=True, kept=True)
    row = meant_for(4, "upper_back", multi=True)
    assert first_of(easy, row, raised=("glutes",)) == "lift_4"
    hard = replace(meant_for(5, "glutes", multi=True), setup_s=400.0)
    asked = WeekQuestion(choices=(replace(easy, kept=False), hard), days=(day(30),), muscles=(muscle("glutes", 8, 12),))
    sets = {x.lift: x.sets for x in plan(asked).days[0].lifts}
    assert sets["lift_5"] == 4


def test_a_raised_muscles_own_lift_stands_on_two_days():
    own, other = replace(THRUST, kept=True), meant_for(6, "glutes", multi=True)
    days = (day(40), day(40, "thursday"))
    asked = WeekQuestion(choices=(own, other), days=days, muscles=(muscle("glutes", 8, 16, priority=2.0),))
    assert all("lift_1" in {x.lift for x in d.lifts} for d in plan(asked).days)


@pytest.mark.parametrize(("family", "apart"), [("hip_extension", True), ("row", False)])
def test_two_hinges_part_where_another_day_will_do(family, apart):
    hinge, second = meant_for(0, "hamstrings", "hip_hinge", multi=True), meant_for(1, "glutes", family)
    days = (day(60), day(60, "thursday"))
    found = plan(WeekQuestion(choices=(hinge, second), days=days, muscles=(muscle("hamstrings", 3, 4), muscle("glutes", 3, 4))))
    together = any({x.lift for x in d.lifts} == {"lift_0", "lift_1"} for d in found.days)
    assert found.muscle_sets["hamstrings"] >= 3 and found.muscle_sets["glutes"] >= 3
    assert not (apart and together)


def test_curls_are_paired_with_extensions_before_anything_that_saves_more_time():
    curl, extension, raise_ = meant_for(0, "biceps"), meant_for(1, "triceps"), replace(meant_for(2, "calves"), rest_s=240.0)
    muscles = tuple(muscle(m) for m in ("biceps", "triceps", "calves"))
    asked = WeekQuestion(choices=(curl, extension, raise_), days=(day(30),), muscles=muscles)
    assert pairs_of(asked, 0, {0: 3, 1: 3, 2: 3})[0] == (0, 1)


def test_own_lifts_over_several_joints_stand_alone_where_other_pairs_save_enough():
    """Common practice, no source."""
    own = replace(meant_for(0, "latissimus", multi=True), kept=True, rest_s=240.0)
    choices = (own, meant_for(1, "chest"), meant_for(2, "triceps"), meant_for(3, "calves"))
    asked = WeekQuestion(choices=choices, days=(day(50),), muscles=tuple(muscle(c.practice.targets[0]) for c in choices))
    sets = dict.fromkeys(range(4), 3)
    need = minutes_of(asked, sets, [])

    def pairs(saved):
        return pairs_of(replace(asked, days=(day(need - saved),)), 0, sets)

    assert pairs(0) == [] and len(pairs(1)) == 1 and 0 not in pairs(1)[0]
    assert any(0 in pair for pair in pairs(9))


def test_a_shape_that_was_asked_for_keeps_work_for_a_raised_muscle_on_its_days():
    curl = practice(["hamstrings"], family="knee_flexion", region="lower")
    raised = [muscle("hamstrings", priority=2.0)]
    assert belongs(curl, "upper", raised) and not belongs(curl, "upper", raised, strict=True)


def test_the_lying_leg_curl_is_not_offered_beside_the_seated_one_unless_it_is_the_clients_own():
    seated, lying = (
        replace(meant_for(k, "hamstrings", "knee_flexion"), lift=i) for k, i in ((0, "seated_leg_curl"), (1, "lying_leg_curl"))
    )
    muscles, days = [muscle("hamstrings")], [day(60)]

    def offered(*choices, keep=()):
        return {c.lift for c in shortlist(choices, muscles, days, keep)}

    assert offered(seated, lying) == {"seated_leg_curl"}
    assert offered(lying) == {"lying_leg_curl"}
    assert offered(seated, lying, keep=("lying_leg_curl",)) == {"seated_leg_curl", "lying_leg_curl"}


def test_a_beginner_is_offered_no_lunge_where_a_leg_press_or_a_goblet_squat_stands():
    """Common practice, no source: what balances itself is learned sooner. A barbell squat, an odd lift or easy sets are no such lift."""
    lunge = meant_for(0, "glutes", family="lunge", multi=True, staple=True)
    press = meant_for(1, "quadriceps", family="leg_press", pattern="leg press", multi=True, staple=True)
    odd, easy = replace(press, practice=replace(press.practice, staple=False)), replace(press, gentle=True)
    bar = replace(press, practice=replace(press.practice, pattern="squat", costly=True))

    def offered(*choices, keep=(), beginner=True):
        return {c.lift for c in shortlist(choices, [muscle("glutes"), muscle("quadriceps")], [day(60)], keep, beginner=beginner)}

    assert offered(lunge, press) == {"lift_1"}
    assert all(offered(lunge, other) == {"lift_0", "lift_1"} for other in (odd, easy, bar))
    assert offered(lunge, press, beginner=False) == offered(lunge, press, keep=("lift_0",)) == {"lift_0", "lift_1"}


@pytest.mark.parametrize(("priority", "there"), [(1.0, False), (2.0, True)])
def test_raised_glutes_have_a_thrust_and_a_lift_for_the_outer_part(priority, there):
    squat = meant_for(0, "glutes", multi=True)
    thrust, spread = (
        replace(meant_for(k, "glutes"), lift=i, setup_s=300.0, value={"glutes": 0.2})
        for k, i in ((1, "hip_thrust"), (2, "machine_abduction"))
    )
    asked = WeekQuestion(
        choices=(squat, thrust, spread), days=(day(60), day(60, "thursday")), muscles=(muscle("glutes", 4, 8, priority=priority),),
        rules=replace(default_rules(), fill=0.0, least_lifts_a_day=0.0, near_gap=1e-4),
    )  # fmt: skip
    here = {x.lift for d in plan(asked).days for x in d.lifts}
    assert ({"hip_thrust", "machine_abduction"} <= here) is there


def test_push_days_have_a_raise_to_the_side_and_calves_two_days():
    """Common practice, no source. Not where the shoulder is sore; calves on more where they are raised."""
    choices = (
        replace(meant_for(0, "chest", region="push", multi=True), setup_s=30.0),
        replace(
            meant_for(1, "deltoid_middle", region="push"),
            lift="dumbbell_lateral_raise",
            setup_s=400.0,
            value={"deltoid_middle": 0.2},
        ),
        *(replace(meant_for(k, "calves", family="calf"), kind="calf") for k in (2, 3)),
    )
    calf = {"lift_2", "lift_3"}
    days = tuple(day(60, name, "push") for name in ("monday", "wednesday", "friday", "saturday"))
    rules = replace(default_rules(), fill=0.0, fill_least=0.0, least_lifts_a_day=0.0, near_gap=1e-4)

    def found(calves=1.0, **sore):
        muscles = (muscle("chest"), replace(muscle("deltoid_middle", 2, 4), floor=2.0), muscle("calves", 10, 12, priority=calves))
        week = plan(WeekQuestion(choices=choices, days=days, muscles=muscles, rules=rules, **sore))
        return [{x.lift for x in d.lifts} for d in week.days]

    assert sum("dumbbell_lateral_raise" in here for here in found()) == 2, "a lift stands on two days at most"
    assert sum("dumbbell_lateral_raise" in here for here in found(joint_nm={"shoulder": 50.0})) < 2
    assert [sum(bool(calf & here) for here in found(calves)) for calves in (1.0, 2.0)] == [2, 3]


def test_a_raised_chest_has_an_incline_press_and_says_where_it_has_none():
    """Common practice, no source."""
    flat = meant_for(0, "chest", multi=True)
    incline = replace(meant_for(1, "chest", multi=True), lift="incline_dumbbell_press", setup_s=300.0, value={"chest": 0.2})
    for priority, here in ((1.0, False), (2.0, True)):
        rules = replace(default_rules(), fill=0.0, least_lifts_a_day=0.0, near_gap=1e-4)
        days, muscles = (day(60), day(60, "thursday")), (muscle("chest", 4, 8, priority=priority),)
        found = plan(WeekQuestion(choices=(flat, incline), days=days, muscles=muscles, rules=rules))
        assert ("incline_dumbbell_press" in {x.lift for d in found.days for x in d.lifts}) is here


def test_a_guessed_lift_is_a_rival_of_a_known_one_that_does_the_same():
    """Common practice, no source: curls are curls wherever the arm lies, raises to the side are raises; rear raises are not."""
    own = Own(known=("barbell_curl", "dumbbell_lateral_raise"))
    assert all(
        own.rivalled(i) for i in ("incline_dumbbell_curl", "dumbbell_curl", "machine_preacher_curl", "cable_lateral_raise_low")
    )
    assert not any(
        own.rivalled(i) for i in ("barbell_curl", "bent_over_rear_raise", "hammer_curl", "rope_push_down", "bench_press")
    )


def test_a_known_lift_left_out_names_what_does_its_work():
    curls = replace(meant_for(0, "biceps"), lift="incline_dumbbell_curl", name="Incline curl")
    asked = WeekQuestion(choices=(curls,), days=(day(60),), muscles=(muscle("biceps"),))
    week = week_of(asked, {(0, 0): 4}, 0.0, 0.0)
    assert instead_told("barbell_curl", week, asked) == "4 sets of Incline curl do its work"
    full = replace(asked, days=(replace(asked.days[0], minutes=week.days[0].minutes),))
    assert "no room" in instead_told("back_squat", week, full)
    assert "room" not in instead_told("back_squat", week, asked), "most of the hour is free"


def test_lifts_that_went_for_one_reason_are_told_in_one_line():
    old = WeekQuestion(choices=tuple(meant_for(k, "chest") for k in range(3)), days=(day(120),), muscles=(muscle("chest"),))
    before, after = (week_of(old, {(i, 0): 3 for i in there}, 0.0, 0.0) for there in ((0, 1, 2), (2,)))
    none = "there is no machine"
    told = [(c.what, c.why) for c in changes_of(old, before, after, {"lift_0": none, "lift_1": none}, {})]
    assert told == [("Lift 0 and Lift 1 are left out", none)]
    assert changes_of(old, before, after, {"lift_0": none}, {})[0].what == "Lift 0 is left out"


def test_a_beginners_tied_days_are_not_ordered_as_well():
    """Ordered by what they cost, tied days and the one between would have to cost the same, which hardly any week does."""
    lifts = tuple(replace(meant_for(k, f"m{k}", multi=True), systemic=0.2 + 0.1 * k) for k in range(4))
    days = tuple(day(60, name) for name in ("monday", "wednesday", "friday"))
    asked = WeekQuestion(choices=lifts, days=days, muscles=tuple(muscle(f"m{k}", 3, 6) for k in range(4)), beginner=True)
    model, here = model_of(asked), {0: (0, 1), 1: (2, 3), 2: (0, 1)}
    held = {model.sets(i, d): 3.0 * (i in here[d]) for i, d in model.slots}
    held |= {model.used(i, d): float(i in here[d]) for i, d in model.slots}
    assert tied_days(asked) == [(0, 2)] and maximise(forgiving(model).fixing(held), Work()).found


@pytest.mark.parametrize(
    ("lift_id", "reserve", "rest"), [("back_squat", 5, 120), ("band_row", 5, 90), ("band_curl", 5, 60), ("band_row", 2, 150)]
)
def test_easy_sets_rest_short(lift_id, reserve, rest):
    """Ninety seconds are plenty after a set that leaves five (common practice, no source)."""
    assert rest_after(known_practice(lift_id), 150.0, reserve, False) == rest
