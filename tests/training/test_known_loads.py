"""From a known squat, bench press and row to 22 other lifts: tests/reference/load_ratios.toml says what is usual."""

import tomllib
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from lengthwise.lifts.catalogue import built_in
from lengthwise.training import calibration as fitting
from lengthwise.training.ability import ability
from lengthwise.training.client import Client, KnownLift

TABLE = tomllib.loads((Path(__file__).parents[1] / "reference" / "load_ratios.toml").read_text(encoding="utf-8"))
RATIOS = TABLE["ratio"]
PEOPLE = {"man": (1.80, 80.0), "woman": (1.66, 62.0)}
MEDIAN, WORST = 0.12, 0.30


@cache
def told(sex: str) -> dict[str, float]:
    """What the model tells for each lift [kg], body mass counted in where the row says so."""
    known = tuple(KnownLift(lift=lift, load_kg=kg, repetitions=1) for lift, kg in TABLE["known"][sex].items())
    size = {"sex": sex, "stature_m": PEOPLE[sex][0], "mass_kg": PEOPLE[sex][1], "age_y": 30, "training": "trained"}
    client, lifts = Client.model_validate({"name": "Invented", "known_lifts": known, **size}), built_in().lifts
    body = fitting.calibrate(client.person, {k.lift: (lifts[k.lift], k) for k in known})
    found = {r["lift"]: ability(client, r["lift"], lifts[r["lift"]], "full", body) for r in RATIOS}
    return {r["lift"]: found[r["lift"]].one_rm_kg - (0 if r.get("with_body") else found[r["lift"]].moved_kg) for r in RATIOS}


def off(row: dict, sex: str) -> float:
    """How far the model is from the usual load, as a share of it."""
    return told(sex)[row["lift"]] / (row["ratio"] * TABLE["known"][sex][row["of"]]) - 1


@pytest.mark.parametrize("sex", PEOPLE)
def test_half_of_the_lifts_are_within_an_eighth(sex):
    assert float(np.median([abs(off(r, sex)) for r in RATIOS])) <= MEDIAN


@pytest.mark.parametrize(
    ("row", "sex"), [(r, s) for r in RATIOS for s in PEOPLE], ids=[f"{r['lift']} {s}" for r in RATIOS for s in PEOPLE]
)
def test_no_lift_is_far_off_or_it_is_recorded(row, sex):
    missed = row.get("found", {}).get(sex)
    if missed is None:
        assert abs(off(row, sex)) <= WORST
    else:
        assert abs(off(row, sex)) > WORST, "take `found` off"
        assert told(sex)[row["lift"]] == pytest.approx(missed, rel=0.04)


def test_there_are_at_least_twenty_lifts():
    assert len({r["lift"] for r in RATIOS}) >= 20 and not {r["lift"] for r in RATIOS} & {*TABLE["known"]["man"]}
