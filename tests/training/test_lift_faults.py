"""Every lift has two to four common faults, each with how it looks, what it changes and one cue; the model says what a cut range loses."""

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.known.lift_faults import told_faults
from lengthwise.known.lifts import all_lifts, profile_lift
from lengthwise.mechanics.profile import Request
from lengthwise.training.faults import described, faults_of


def test_every_lift_has_two_to_four_faults_in_whole_sentences():
    lifts = all_lifts()
    for lift_id in lifts.lifts:
        found = faults_of(lift_id, lifts.family[lift_id])
        assert 2 <= len(found) <= 4, lift_id
        assert len({f.name for f in found}) == len(found)
        for f in found:
            assert all(text.endswith(".") and text[0].isupper() for text in (f.look, f.changes, f.cue)), (lift_id, f.name)
            assert "_" not in f.name + f.look + f.changes + f.cue


def test_a_fault_is_told_only_of_lifts_that_can_have_it():
    """Nobody's hips leave the bench on the floor, nobody's shoulders roll off a pad that is not there; exceptions name real lifts."""
    lifts = all_lifts()
    for family, faults in described()[0].items():
        own = {i for i in lifts.lifts if lifts.family[i] == family}
        assert all((f.only | f.but) <= own and not (f.only and f.but) for f in faults), family
    told = {
        i: {f.name for f in faults_of(i, lifts.family[i])}
        for i in ("floor_press", "bench_press", "spider_curl", "seated_calf_raise")
    }
    by_hinge = {
        i: " ".join(f.name + f.cue for f in faults_of(i, "hip_hinge")) for i in lifts.lifts if lifts.family[i] == "hip_hinge"
    }
    assert "hands" not in by_hinge["good_morning"] and "mid-shin" not in by_hinge["block_deadlift"], (
        "the bar lies on the back, or on blocks"
    )
    assert "hips leave the bench" in told["bench_press"] - told["floor_press"]
    assert "shoulders roll off the pad" not in told["spider_curl"] and "knees bend to help" not in told["seated_calf_raise"]


def test_a_lift_of_ones_own_without_a_known_family_has_none():
    assert faults_of("my_lift", "my_family") == ()


def test_the_model_says_what_a_cut_range_loses():
    """Of the squat the long half holds a good part of the thigh's tension, and the fibres are shorter without it."""
    found = profile_lift(body_of(Person()), "back_squat", Request(n_pos=11))
    cut = next(f for f in told_faults(found) if f.name == "cut short at the top third")
    assert "In the model" in cut.model and "instead of" in cut.model
    head = found.heads["vastus_lateralis"]
    assert head.fibre_length[: len(head.fibre_length) // 2].max() > head.fibre_length[len(head.fibre_length) // 2 :].max()
    assert all(not f.model for f in told_faults(found) if f.name == "knees fall in")
