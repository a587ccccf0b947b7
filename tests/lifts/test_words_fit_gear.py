"""What is said of a lift names the gear that it is done with: nobody lets a bar slide who holds dumbbells."""

import re

import pytest

from lengthwise.lifts.catalogue import built_in
from lengthwise.training.faults import faults_of
from lengthwise.training.stations import needed

WORDS = {
    "bar": r"\b(bar|barbell)\b",
    "dumbbell": r"\bdumbbells?\b",
    "kettlebell": r"\bkettlebells?\b",
    "cable": r"\b(cable|rope|pulley|stack)s?\b",
    "band": r"\bbands?\b",
    "machine": r"\b(machine|sled|stack|pad)s?\b",
    "plate": r"\bplates?\b",
}
OWN = {
    "barbell": {"bar"},
    "ez_bar": {"bar"},
    "guided_bar": {"bar"},
    "chains": {"bar"},
    "dumbbell": {"dumbbell"},
    "kettlebell": {"kettlebell"},
    "cable": {"cable", "bar"},
    "band": {"band"},
    "lever": {"machine"},
    "plate_lever": {"machine", "plate"},
    "sled": {"machine", "plate"},
    "plate": {"plate"},
    "body": set(),
}
AT = {
    "bar_to_hang": {"bar"},
    "rack": {"bar"},
    "dip_bars": {"bar", "machine"},
    "preacher_pad": {"machine"},
    "back_extension_bench": {"machine"},
    "wheel": {"bar", "plate"},
    "wobble_board": {"machine"},
}
"""What stands there besides: pads to lean on, a bar to hang from."""
OFFERED = r"when it gets easy|makes it harder|helps?\b|\bif\b|\buse\b|or dumbbells|\badded\b"
"""A sentence that offers other gear may name it."""
FURNITURE = {
    "seated_dumbbell_calf_raise": {"plate"},
    "stiff_leg_deadlift": {"plate"},
    "horizontal_leg_press": {"plate"},
    "lat_pulldown": {"machine"},
    "one_arm_pulldown": {"machine"},
    "machine_pullover": {"bar"},
    "machine_tibialis_raise": {"bar"},
    "glute_bridge": {"plate"},
    "push_up_hands_raised": {"bar"},
    "push_up_table": {"bar"},
    "band_push_down": {"bar"},
}
"""A plate under the feet, plates on the bar, a plate to press, the pad over the thighs, the bar of a machine or one to lean on."""


def told_of(lift_id):
    lifts = built_in()
    lift = lifts.lifts[lift_id]
    yield from (lift.how, lift.spotting or "", *(r.cue for r in lift.ranges.values()), *(c.text for c in lift.cautions))
    for fault in faults_of(lift_id, lifts.family[lift_id]):
        yield from (fault.look, fault.changes, fault.cue)


@pytest.mark.parametrize("lift_id", sorted(built_in().lifts))
def test_no_word_names_gear_that_is_not_there(lift_id):
    there = OWN[built_in().lifts[lift_id].gear] | FURNITURE.get(lift_id, set())
    there = there.union(*(AT.get(s, set()) for s in needed(lift_id)))
    for text in told_of(lift_id):
        for sentence in re.split(r"(?<=[.;])\s", text):
            if not re.search(OFFERED, sentence, re.I):
                strange = [gear for gear, word in WORDS.items() if gear not in there and re.search(word, sentence, re.I)]
                assert not strange, f"{sentence!r} names {strange}"


def test_such_a_word_would_be_found():
    """The sentence that a coach read of dumbbells."""
    assert re.search(WORDS["bar"], "let the bar slide down the thighs") and "bar" not in OWN["dumbbell"]
