"""The straight line through the shifts against solving each drawn body anew."""

from dataclasses import asdict, replace

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.files.cache_files import keep, kept_content
from lengthwise.grading.columns import all_of, packed, packed_facts, unpacked, unpacked_facts
from lengthwise.grading.draws import stream_name, streams
from lengthwise.grading.facts import head_facts
from lengthwise.grading.growth_value import drawn_growth, head_growth
from lengthwise.grading.studied_lift import COARSE, Candidate, Refused, Studied, study
from lengthwise.grading.target import target_named
from lengthwise.grading.variation import Direction, factors, shifted, size_of, varied_body
from lengthwise.growth.law import PRIOR_MEAN
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import set_up_again
from lengthwise.mechanics.profile import Request, profile, solved

TARGET = target_named("triceps")
N_DRAW = 4


@pytest.fixture(scope="module")
def candidate():
    return Candidate("lying_barbell_extension", built_in().lifts["lying_barbell_extension"], Request())


@pytest.fixture(scope="module")
def found(candidate) -> Studied:
    out = study(Person(), candidate, TARGET.heads)
    assert isinstance(out, Studied), out
    return out


@pytest.fixture
def mean_law():
    """The coefficients that are believed before any trial, the same in every draw."""
    return np.tile(PRIOR_MEAN, (N_DRAW, 1))


def anew(candidate, found, source, draw):
    """The growth of each head in one draw, solved from its own body and technique, (n_head,)."""
    z = {s.direction: source.normal(stream_name(s.direction, found.facts.key))[draw] for s in found.shifts}
    lift = candidate.lift
    for d, size in z.items():
        if d.kind == "technique":
            lift = shifted(lift, d.of, size * size_of(d))
    body = varied_body(Person(), factors({d: s for d, s in z.items() if d.shared}))
    solved = profile(body, candidate.lift_id, lift, Request(n_pos=COARSE))
    facts = replace(found.facts, heads={**found.facts.heads, **head_facts(solved, TARGET.heads)})
    return head_growth(facts, TARGET.heads, PRIOR_MEAN[None])[0]


def test_the_straight_line_is_near_enough(candidate, found, mean_law):
    """Mean error of growth below 5 %, a fifth of the width of its interval (own choice)."""
    source = streams(N_DRAW, np.random.default_rng(11))
    line = drawn_growth(found, TARGET, mean_law, source).law
    volume = np.array([found.facts.heads[h].volume_nm for h in TARGET.heads])
    full = np.array([anew(candidate, found, source, d) @ volume / volume.sum() for d in range(N_DRAW)])
    assert np.abs(line / full - 1).mean() < 0.05, (line, full)


def test_every_direction_was_solved(found):
    assert {s.direction.kind for s in found.shifts} == {"strength", "fibre_length", "moment_arm", "technique"}
    assert all(s.sign for s in found.shifts)


def test_postures_known_before_give_the_same_answer(candidate):
    body = body_of(Person())
    fine = profile(body, candidate.lift_id, candidate.lift, Request())
    some = np.linspace(0, len(fine.capacity_kg) - 1, COARSE).round().astype(int)
    again = solved(set_up_again(fine.setting, body, some), candidate.lift_id, Request(n_pos=COARSE), fine.start.at(some))
    anew = profile(body, candidate.lift_id, candidate.lift, Request(n_pos=COARSE))
    assert again.capacity_kg == pytest.approx(anew.capacity_kg, abs=1e-6)
    assert again.heads["triceps_long"].activation == pytest.approx(anew.heads["triceps_long"].activation, abs=1e-6)


@pytest.mark.parametrize("kind", ["strength", "fibre_length", "moment_arm"])
def test_another_body_in_known_postures_gives_what_it_gives_anew(candidate, kind):
    direction = Direction(kind, "triceps" if kind == "strength" else "triceps_long+triceps_lateral")
    body, request = varied_body(Person(), factors({direction: 1.0})), Request(n_pos=COARSE)
    model = profile(body_of(Person()), candidate.lift_id, candidate.lift, request)
    some = np.arange(COARSE)
    again = solved(set_up_again(model.setting, body, some), candidate.lift_id, request, model.start, ["triceps_long"])
    anew = profile(body, candidate.lift_id, candidate.lift, request)
    assert again.working_kg == pytest.approx(anew.working_kg, abs=1e-6)
    ours, theirs = (asdict(head_facts(p, ["triceps_long"])["triceps_long"]) for p in (again, anew))
    assert ours == pytest.approx(theirs, abs=1e-6)


def test_varied_arms_are_still_the_slope_of_the_path(rng):
    """Moment arm = ∂path/∂q by central differences, also after the variation."""
    body = varied_body(Person(), factors({Direction("moment_arm", "triceps_long"): 1.0}))
    q = np.array(body.neutral)
    joint = body.position_slice["elbow_right"]
    column = body.velocity_slice["elbow_right"].start
    q[joint] = 1.0
    h = 1e-5
    ahead, behind = (body.paths((q + np.eye(len(q))[joint.start] * s * h)[None])[0] for s in (1, -1))
    arm = body.survey(q[None]).arms[0, :, column]
    pick = body.lines.of_head("triceps_long")
    assert (ahead - behind)[pick] / (2 * h) == pytest.approx(arm[pick], abs=1e-6)
    plain = body_of(Person()).survey(q[None]).arms[0, :, column]
    assert arm[pick] == pytest.approx(plain[pick] * np.exp(size_of(Direction("moment_arm", "x"))))


def test_studies_survive_being_written_and_read(found):
    refused = Refused("a", "A", "no gear")
    content = packed({"one": found, "two": refused})
    assert unpacked(content, ["two", "one", "three"]) == {"one": found, "two": refused}
    assert all_of(packed({"two": refused})) == {"two": refused}


def test_facts_survive_being_written_and_read(found):
    assert unpacked_facts(packed_facts(found.facts)) == found.facts
    assert unpacked_facts(packed_facts("too heavy")) == "too heavy"


def test_facts_that_are_cut_short_are_not_read(found):
    with pytest.raises(ValueError):
        unpacked_facts(packed_facts(found.facts)[:-8])


def test_a_damaged_file_of_studies_is_solved_again(tmp_path, found):
    file = tmp_path / "kept.npz"
    whole = packed({"one": found})
    for content in (b"", b"no archive", whole[: len(whole) // 2], whole.replace(b"span_longest", b"span_shorter")):
        keep(file, content)
        assert kept_content(file, all_of) is None


def test_random_numbers_are_spread_evenly_and_of_their_own_for_each_name():
    """Order statistics of a normal at (k + 1/2)/n: a chance read off n draws errs by about 1/n, not by 1/√n."""
    source = streams(400, np.random.default_rng(2))
    one, other = source.normal("one"), source.normal("other")
    assert np.sort(one) == pytest.approx(np.sort(other))
    assert one.mean() == pytest.approx(0, abs=1e-9)
    assert (one < 1).mean() == pytest.approx(0.8413, abs=1 / 400)
    assert abs(np.corrcoef(one, other)[0, 1]) < 0.15
    assert (one == streams(400, np.random.default_rng(2)).normal("one")).all()
