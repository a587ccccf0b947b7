"""Lifts drawn at three positions, each made once."""

from functools import cache

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.figure.scene import Scene, scene_of
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import Setting, set_up

COMMON = ("back_squat", "bench_press", "pull_up", "incline_dumbbell_curl", "romanian_deadlift", "standing_calf_raise")


@cache
def set_lift(lift: str) -> Setting:
    return set_up(body_of(Person()), built_in().lifts[lift], np.linspace(0, 1, 3))


@cache
def drawn(lift: str) -> Scene:
    return scene_of(set_lift(lift), 3)
