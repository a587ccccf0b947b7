"""The words for the two halves of a lift say which way it goes: a lift that turns another's way round cannot share its words."""

import tomllib
from importlib.resources import files

from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.expression import evaluate
from lengthwise.training.joint_reach import SCALE

CLEAR_DEG = 10.0
"""An angle that changes by less does not say which way a lift goes."""
ALIKE = frozenset({"ulnar_deviation"})
"""Here the weight goes up whichever way the hand tilts, so the words are the other's."""


def way(lift):
    """From where to where each angle goes that clearly changes [deg]."""
    names = {**SCALE, **{k: s.default for k, s in lift.setup.items()}}
    first, *_, last = sorted(lift.motion.keys, key=lambda posture: float(posture["at"]))
    change = {a: evaluate(last[a], names) - evaluate(first[a], names) for a in first if a != "at" and a in last}
    return {a: degrees for a, degrees in change.items() if abs(degrees) > CLEAR_DEG and not a.startswith("pelvis_")}


def inherited():
    """Each lift that begins as another, with it."""
    for file in files("lengthwise.lifts").joinpath("data").iterdir():
        if file.name.endswith(".toml"):
            for lift_id, table in tomllib.loads(file.read_text(encoding="utf-8")).get("lift", {}).items():
                if "inherits" in table:
                    yield lift_id, table["inherits"]


def test_a_lift_that_goes_the_other_way_has_words_of_its_own():
    lifts, turned = all_lifts().lifts, 0
    for child, parent in inherited():
        own, other = way(lifts[child]), way(lifts[parent])
        main = max(own.keys() & other.keys(), key=lambda a: (abs(own[a]), a), default=None)
        if child not in ALIKE and main and own[main] * other[main] < 0 and lifts[child].ranges:
            turned += 1
            assert lifts[child].ranges["long"].cue != lifts[parent].ranges["long"].cue, child
    assert turned > 5
