"""Predictions on record: registered trials, their format, and that what cannot be predicted says why."""

from datetime import date

import pytest

from lengthwise.errors import DataFileError
from lengthwise.growth.upcoming import known_upcoming, read_upcoming
from lengthwise.known.trial_answers import expected_of
from lengthwise.questions.answers import encode

OWN = """
[[trial]]
registry = "XX00000001"
title = "invented: extension at long against short length"
obtained = "read"
heads = ["vastus_lateralis"]
measure = "MRI volume"
n = 20
a = { name = "long", done = "leg_extension knee_flexion=100..65" }
b = { name = "short", done = "leg_extension knee_flexion=65..30" }
"""


def test_every_known_entry_can_be_checked_and_is_predicted_or_says_why():
    answer = expected_of(known_upcoming(), date(2026, 11, 29))
    assert encode(answer)["dated"] == "2026-11-29"
    for entry, told in zip(known_upcoming(), answer.trials, strict=True):
        assert entry.obtained == "memory" or (entry.read_at.startswith("https://") and entry.read_on)
        assert (told.predicted is None) == bool(told.why_not)
    pulldown = next(t for t in answer.trials if t.trial.registry == "NCT07360236")
    assert pulldown.predicted.low < pulldown.predicted.mean < pulldown.predicted.high
    assert 0 < pulldown.a_grows_more < 1


def test_a_trial_of_three_arms_has_each_of_its_comparisons_and_what_was_expected_stays():
    told = [t for t in expected_of(known_upcoming(), date(2030, 1, 1)).trials if t.trial.registry == "NCT07379385"]
    most, some, rest = (t.predicted.mean for t in told)
    assert most == pytest.approx(some + rest, abs=0.5), "30 less 6 sets is 18 less 6 and 30 less 18"
    assert all(r.dated == "2026-11-29" and r.low <= r.mean <= r.high for t in told for r in t.trial.on_record)


def test_a_file_of_one_s_own():
    (told,) = expected_of(read_upcoming("registered.toml", OWN), date(2026, 11, 29)).trials
    assert told.predicted.mean > 0
    assert told.a_grows_more > 0.75


@pytest.mark.parametrize(("old", "new", "says"), [
    ("vastus_lateralis", "vastus", "the body has none called vastus"),
    ('done = "leg_extension knee_flexion=65..30"', 'done = ""', "or the reason why"),
    ('"XX00000001"', '"soon"', "registry"),
    ("n = 20", 'n = 20\non_record = [{ dated = "2026-11-29", mean = 9, low = 1, high = 2, a_grows_more = 0.9 }]', "must rise"),
])  # fmt: skip
def test_faults_of_an_entry_are_told(old, new, says):
    with pytest.raises(DataFileError, match=says):
        read_upcoming("own.toml", OWN.replace(old, new))
