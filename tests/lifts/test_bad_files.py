"""Faults of a lift file: every one is reported at once, with file, key, value and what is allowed."""

import copy
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lengthwise.errors import DataFileError
from lengthwise.lifts.catalogue import built_in, catalogue

GOOD = """
[lift.test_curl]
name = "Test curl"
gear = "dumbbell"
sides = "both"
posture = "standing"
targets = ["biceps_long"]
prime_movers = ["biceps_long"]
how = "Bend the elbows."
[lift.test_curl.setup]
lean_deg = { default = 0, min = -10, max = 10, unit = "deg" }
[lift.test_curl.motion]
keys = [{ at = 0, elbow_flexion = 10 }, { at = 1, elbow_flexion = 130, pelvis_tilt = "lean_deg" }]
[lift.test_curl.resistance]
kind = "free_weight"
at = ["grip"]
[[lift.test_curl.supports]]
points = ["heel", "toes"]
[lift.test_curl.ranges]
long = { start = 0, end = 0.5, cue = "the first half" }
short = { start = 0.5, end = 1, cue = "the second half" }
"""


def faults(text: str) -> list[str]:
    with pytest.raises(DataFileError) as caught:
        catalogue({"mine": text})
    return list(caught.value.faults)


def test_the_good_file_is_good():
    assert catalogue({"mine": GOOD}).lifts["test_curl"].name == "Test curl"


BAD = [
    ("an unknown gear", 'gear = "dumbbell"', 'gear = "anvil"', "gear: found 'anvil'; allowed barbell"),
    ("an unknown head", 'targets = ["biceps_long"]', 'targets = ["bicep"]', "targets: found 'bicep'; allowed such as biceps"),
    ("no target", 'targets = ["biceps_long"]', "targets = []", "targets: found []"),
    ("an unknown mover", 'prime_movers = ["biceps_long"]', 'prime_movers = ["arm"]', "prime_movers: found 'arm'"),
    ("an unknown key", 'how = "Bend', 'colour = "red"\nhow = "Bend', "colour: found 'red'; there is no such key here"),
    ("a missing key", 'posture = "standing"\n', "", "posture: is missing"),
    ("an unknown posture", 'posture = "standing"', 'posture = "floating"', "posture: found 'floating'"),
    ("sides that are not", 'sides = "both"', 'sides = "left"', "sides: found 'left'"),
    ("a name too short", 'name = "Test curl"', 'name = "X"', "name: found 'X'"),
    ("a wrong type", 'name = "Test curl"', "name = 7", "name: found 7"),
    ("an unknown angle", "elbow_flexion = 10", "elbow_bend = 10", "found 'elbow_bend'; allowed such as elbow_flexion"),
    ("phases that do not rise", "at = 1,", "at = 0,", "must rise from 0 to 1; found [0.0, 0.0]"),
    ("a key without phase", "{ at = 0, ", "{ ", "every key needs `at`"),
    ("an expression with an unknown name", '"lean_deg"', '"tilt_deg + 2"', "uses 'tilt_deg'; allowed"),
    ("a default out of range", "default = 0, min = -10", "default = 40, min = -10", "default 40.0 must lie between"),
    ("an unknown unit", 'unit = "deg"', 'unit = "furlong"', "unit: found 'furlong'"),
    ("an unknown resistance", 'kind = "free_weight"', 'kind = "magnet"', "resistance: found"),
    ("a cable without its pulley", 'kind = "free_weight"', 'kind = "cable"', "resistance.x_cm: is missing"),
    ("an unknown landmark", 'at = ["grip"]', 'at = ["fist"]', "resistance.at: found 'fist'"),
    ("an unknown contact", 'points = ["heel", "toes"]', 'points = ["hoof"]', "supports.0.points: found 'hoof'"),
    ("a range too short", "end = 0.5, cue", "end = 0.1, cue", "must span at least 0.2"),
    ("no supports", 'points = ["heel", "toes"]', "points = []", "points: found []"),
    ("an inheritance from nobody", 'name = "Test curl"', 'inherits = "nobody"\nname = "Test curl"', "inherits: found 'nobody'"),
    ("a table that is no lift", "[lift.test_curl]\n", "[exercise.a]\nb = 1\n[lift.test_curl]\n", "exercise: found a table"),
    ("not TOML", "[lift.test_curl]\n", "[lift.test_curl\n", "not TOML"),
    ("a negative cue", 'cue = "the first half"', 'cue = ""', "cue: found ''"),
]


@pytest.mark.parametrize(("what", "old", "new", "message"), BAD, ids=[b[0] for b in BAD])
def test_a_fault_names_file_key_value_and_what_is_allowed(what, old, new, message):
    assert old in GOOD
    found = faults(GOOD.replace(old, new, 1))
    assert any(f.startswith("mine.toml: ") and message in f for f in found), found


def test_all_faults_come_at_once():
    text = GOOD.replace('gear = "dumbbell"', 'gear = "anvil"').replace('at = ["grip"]', 'at = ["fist"]')
    text += text.replace("test_curl", "other").replace("elbow_flexion = 10", "elbow = 10")
    assert len(faults(text)) == 5


def test_an_id_that_exists_is_refused():
    text = GOOD.replace("test_curl", "back_squat")
    with pytest.raises(DataFileError, match="this id already exists"):
        catalogue({"mine": text}, built_in())


def test_a_variant_inherits_and_changes():
    text = GOOD + '[lift.variant]\ninherits = "test_curl"\nname = "Variant curl"\n[lift.variant.resistance]\neach = true\n'
    found = catalogue({"mine": text}).lifts
    assert found["variant"].resistance.each and not found["test_curl"].resistance.each
    assert found["variant"].motion == found["test_curl"].motion


TABLE = tomllib.loads(GOOD)["lift"]["test_curl"]


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_random_damage_never_escapes_the_error_family(data):
    """A value of the table is replaced by junk: the file loads or gives a DataFileError, nothing else."""
    import tomli_w

    table = copy.deepcopy(TABLE)
    node, parent, key = table, None, None
    while isinstance(node, dict | list) and len(node) and data.draw(st.booleans() if parent is not None else st.just(True)):
        keys = list(node) if isinstance(node, dict) else list(range(len(node)))
        parent, key = node, data.draw(st.sampled_from(keys))
        node = parent[key]
    junk = st.one_of(
        st.integers(-(10**6), 10**6), st.floats(allow_nan=True), st.text(max_size=12), st.booleans(), st.just([]), st.just({})
    )
    parent[key] = data.draw(junk)
    try:
        catalogue({"mine": tomli_w.dumps({"lift": {"test_curl": table}})})
    except DataFileError as error:
        assert error.faults and all(f.startswith("mine.toml: ") for f in error.faults)
