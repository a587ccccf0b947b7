"""A week that was saved is read with all that it said: loads, pairs and warm-up stand on its sheet as they were planned."""

import json
from dataclasses import fields

import pytest

from lengthwise.errors import DataFileError
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import prescribed, with_loads
from lengthwise.quantities import load as in_words
from lengthwise.questions.answering.sheets import week_paper
from lengthwise.questions.answers import encode
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.week_answer import read_week

CLIENT = Client.model_validate(
    {
        "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 63, "age_y": 42, "training": "trained", "training_years": 4,
        "days": [{"day": "monday", "place": "gym", "minutes": 60}], "places": {"gym": {"preset": "full_gym"}},
        "known_lifts": [
            {"lift": "leg_press", "load_kg": 120, "repetitions": 10, "reserve": 2},
            {"lift": "dumbbell_bench_press", "load_kg": 18, "repetitions": 10, "reserve": 2},
        ],
    }
)  # fmt: skip


def planned(lift, **more):
    return PlannedLift(
        lift=lift, range="full", name=lift, sets=3, repetitions=(8, 12), reserve=2.0, rest_s=120.0, muscle=lift, **more
    )


def week():
    lifts = (planned("leg_press", pair=1), planned("dumbbell_bench_press", pair=1), planned("leg_press_calf_raise"))
    bare = Week(days=(PlannedDay("monday", "gym", 50.0, lifts),), weekly_sets={}, muscle_sets={"chest": 3.0}, value=0.0, gap=0.0)
    return with_loads(bare, Loading(CLIENT, CLIENT, easy=False))


def saved(tmp_path, made):
    (tmp_path / "week.json").write_text(json.dumps(encode(made)), encoding="utf-8")
    return read_week(tmp_path / "week.json")


def test_a_saved_week_reads_back_as_it_was(tmp_path):
    made = week()
    for before, after in zip(made.days[0].lifts, saved(tmp_path, made).days[0].lifts, strict=True):
        for f in fields(PlannedLift):
            if f.name != "name":  # the library's own
                assert getattr(after, f.name) == getattr(before, f.name), f.name


def test_the_sheet_of_a_saved_week_prints_its_loads_pairs_and_warm_up(tmp_path):
    made = week()
    for one in (made, saved(tmp_path, made)):
        rows = week_paper(CLIENT, one).content["days"][0]["lifts"]
        for row, x in zip(rows, made.days[0].lifts, strict=True):
            assert in_words(x.load_kg, x.gear, "kg") in row["load"], row["name"]
            assert all(f"{n} × {in_words(kg, x.gear, 'kg')}" in (row["warm_up"] or "") for kg, n in x.warm_up)
            assert all(kg < x.load_kg for kg, _ in x.warm_up)
        assert [bool(r["pair"]) for r in rows] == [True, True, False]


def test_warm_up_is_the_same_in_a_week_and_for_a_lift_alone_and_counts_both_hands():
    """What both hands hold decides whether rising sets are worth it; common practice, no source."""
    for x in week().days[0].lifts:
        alone = prescribed(
            x.lift, SetTarget(repetitions=x.repetitions, place="gym", load_kg=x.load_kg), Loading(CLIENT, CLIENT, False)
        )
        assert tuple((w.load_kg, w.repetitions) for w in alone.warm_up) == x.warm_up
    assert len(week().days[0].lifts[1].warm_up) == 3  # 18 kg in each hand


@pytest.mark.parametrize(
    "spoilt",
    [{"warm_up": 5}, {"warm_up": [1]}, {"load_kg": "heavy"}, {"repetitions": [8]}, {"method": "magic"}, {"range": "sideways"}],
)
def test_a_spoilt_week_is_told_as_one(tmp_path, spoilt):
    answer = encode(week())
    answer["days"][0]["lifts"][0] |= spoilt
    (tmp_path / "week.json").write_text(json.dumps(answer), encoding="utf-8")
    with pytest.raises(DataFileError, match="not a week"):
        read_week(tmp_path / "week.json")
