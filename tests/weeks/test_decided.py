"""What a decision changed is told line by line, before and after, and nothing else is."""

from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.training.accepted_changes import changed_client
from lengthwise.training.client import Client
from lengthwise.training.proposal import Change
from lengthwise.weeks.decided import changed_lines

CLIENT = Client.model_validate(
    {
        "name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 30, "training": "trained",
        "wishes": {"liked": ["bench_press"]},
    }
)  # fmt: skip


def week(sets, chest):
    lift = PlannedLift(lift="bench_press", range="full", name="Barbell bench press", sets=sets, repetitions=(6, 10), reserve=2.0)
    return Week(
        days=(PlannedDay("monday", "gym", 50.0, (lift,)),), weekly_sets={}, muscle_sets={"chest": chest}, value=0.0, gap=0.0
    )


def test_more_sets_a_swap_and_a_joint_are_told_before_and_after():
    changes = (
        Change(muscle="chest", sets=2.0),
        Change(lift=("bench_press", "full"), to=("floor_press", "full")),
        Change(joint="shoulder"),
    )
    after = changed_client(CLIENT, changes, {"chest": 9.0})
    lines = {x.what: (x.before, x.after) for x in changed_lines(CLIENT, after, week(3, 9.0), week(4, 11.2))}
    assert lines["Sets a week for chest"] == ("8 to 16, as usual", "10 to 12")
    assert lines["Barbell bench press"] == ("liked", "refused")
    assert lines["Shoulder"] == ("not named sore", "sore, spared")
    assert lines["Counted sets for chest"] == ("9", "11.2")
    assert lines["Sets of Barbell bench press"] == ("3", "4")


def test_nothing_is_told_where_nothing_changed():
    assert changed_lines(CLIENT, CLIENT, week(3, 9.0), week(3, 9.0)) == ()
    assert changed_lines(CLIENT, CLIENT, None, None) == ()
