"""The whole library: it loads, every lift can be done and makes sense to an anatomist, every head has its lifts.

What an anatomist expects ("common practice", in each lift's file) is compared with what the model shows; what disagrees is recorded in
tests/reference/lift_findings.toml and explained in docs/limits_lifts.md.
"""

import tomllib
from collections import Counter
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.known.lift_audits import AuditRow, agreement, audit_lifts
from lengthwise.lifts.catalogue import bound_of, built_in, gear
from lengthwise.lifts.motion import move

RECORDED = Path(__file__).parents[1] / "reference" / "lift_findings.toml"
UNTRAINED_HEADS = {"toe_extensors", "toe_flexors"}
"""Lines that balance the foot; no coach trains them by name."""


NEVER_LOADED_LONG = {
    "coracobrachialis",
    "deep_hip_rotators",
    "gracilis",
    "levator_scapulae",
    "pectoralis_minor",
    "supraspinatus",
}
"""Heads that no lift naming them as target works at a fifth of their strength in the upper third of their span: see docs/limits_lifts.md."""


@pytest.fixture(scope="module")
def rows() -> list[AuditRow]:
    return audit_lifts(n_pos=9, jobs=1)


def test_there_are_at_least_180_lifts_of_every_gear():
    lifts = built_in().lifts
    assert len(lifts) >= 180
    assert {lift.gear for lift in lifts.values()} == set(gear())
    assert {lift.posture for lift in lifts.values()} >= {
        "standing",
        "seated",
        "lying",
        "inclined",
        "kneeling",
        "hanging",
        "chest_supported",
    }
    assert {lift.sides for lift in lifts.values()} == {"both", "one"}


def test_names_and_aliases_find_one_lift_each():
    called = Counter(
        n.casefold().replace("-", "_").replace(" ", "_")
        for i, lift in built_in().lifts.items()
        for n in {i, *(x.casefold().replace("-", "_").replace(" ", "_") for x in (lift.name, *lift.aliases))}
    )
    assert [n for n, k in called.items() if k > 1] == []


def test_every_trainable_head_has_four_lifts_and_one_without_a_gym():
    targets = Counter(h for lift in built_in().lifts.values() for h in lift.targets)
    at_home = Counter(h for lift in built_in().lifts.values() if lift.gear in ("body", "band") for h in lift.targets)
    for head in set(anatomy.heads()) - UNTRAINED_HEADS:
        assert targets[head] >= 4, head
        assert at_home[head] >= 1, head


def test_every_trainable_head_is_the_main_target_of_four_lifts_and_one_without_a_gym():
    lifts = built_in().lifts.values()
    main = Counter(lift.targets[0] for lift in lifts)
    at_home = Counter(lift.targets[0] for lift in lifts if lift.gear in ("body", "band"))
    assert [h for h in anatomy.trainable() if main[h] < 4] == []
    assert [h for h in anatomy.trainable() if not at_home[h]] == []


def test_every_trainable_head_is_loaded_long_by_a_lift_of_its_own(rows):
    """One whose main target it is."""
    own = {built_in().lifts[r.lift_id].targets[0] for r in rows if built_in().lifts[r.lift_id].targets[0] in r.long}
    assert set(anatomy.trainable()) - own == set(anatomy.trainable()) & NEVER_LOADED_LONG


def test_every_head_trained_only_with_others_has_a_reason():
    assert all(reason.strip() for reason in anatomy.trained_with_others().values())
    assert set(anatomy.trainable()) | set(anatomy.trained_with_others()) == set(anatomy.heads())


def test_every_trainable_head_is_loaded_long_by_some_lift_that_targets_it(rows):
    """A fifth of its strength or more in the upper third of its span; the heads that no lift loads so are known and explained."""
    long = {h for r in rows for h in r.long}
    assert set(anatomy.heads()) - UNTRAINED_HEADS - long == NEVER_LOADED_LONG
    assert not NEVER_LOADED_LONG & set(anatomy.trainable())


def test_files_stay_short_enough_to_read():
    folder = files("lengthwise.lifts").joinpath("data")
    assert [f.name for f in folder.iterdir() if f.name.endswith(".toml") and len(f.read_text().splitlines()) > 410] == []


def test_every_lift_can_be_done_within_reach(rows):
    assert [f.text for r in rows for f in r.findings if f.kind in ("cannot be done", "beyond range")] == []


def test_expected_prime_movers_lead_in_95_of_100(rows):
    agree, of = agreement(rows)
    assert agree / of >= 0.95, f"{agree} of {of}"


def test_disagreements_are_the_recorded_ones(rows):
    """Both ways: a new one is a defect, a vanished one must leave the list."""
    recorded = {k: set(v) for k, v in tomllib.loads(RECORDED.read_text())["finding"].items()}
    found: dict[str, set[str]] = {}
    for row in rows:
        for finding in row.findings:
            text = finding.text.split(" was expected")[0] if finding.kind == "prime mover" else ""
            found.setdefault(finding.kind.replace(" ", "_"), set()).add(f"{row.lift_id} {text}".strip())
    assert found == recorded


@pytest.mark.parametrize("lift_id", ["split_squat", "forward_lunge", "reverse_lunge", "walking_lunge"])
@pytest.mark.parametrize("person", [Person(stature_m=1.80, mass_kg=80), Person(sex="woman", stature_m=1.66, mass_kg=62)])
def test_the_rear_knee_nearly_touches_the_floor_in_a_lunge(lift_id, person):
    """As their texts cue it: the front of the knee a finger to a hand's breadth above the floor; common practice."""
    body, lift = body_of(person), built_in().lifts[lift_id]
    low = body.places(move(body, lift, np.array([0.0])).q, ["knee_front_left"])[0][0, 0, 2]
    assert 0.005 < low < 0.06


def test_what_can_be_added_depends_on_where_the_load_sits():
    """A plate hugged to the chest is less than what hangs from a belt; gear.toml."""
    lifts = built_in().lifts
    assert bound_of(lifts["back_extension_45"]).most_for(80) == pytest.approx(24)
    assert bound_of(lifts["back_extension_45"]).most_for(120) == 25
    assert bound_of(lifts["parallel_bar_dip"]).most_for(80) == 60
