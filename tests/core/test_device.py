"""The text for a graphics processor, compiled for this processor and run as one warp: the answers of the core, bit for bit.

What only a device shows (its compiler, thousands of threads) is in validation/gpu_proof.py, which is run by hand where there is one.
"""

import sys

import numpy as np
import pytest
from one_warp import PLATFORM, TURNS, OneWarp

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import build, device, door, gpu, whole_lifts
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import together
from lengthwise.mechanics.blocks import muscles_block
from lengthwise.mechanics.profile import Request
from lengthwise.populations.adults import draw
from lengthwise.populations.differing import body_of_adult

IDS = ("cable_push_down", "leg_press", "bench_dip", "band_rotation")
PEOPLE = (Person(), Person(sex="woman", stature_m=1.66, mass_kg=62.0))


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("device")


@pytest.fixture(scope="module", params=TURNS)
def card(request, folder):
    if build.compiler() is None or not PLATFORM:
        pytest.skip("no compiler, or another machine than Linux on x86-64")
    return OneWarp(folder, request.param)


@pytest.fixture(scope="module")
def pairs():
    return [(b.block, muscles_block(b)) for b in map(body_of, PEOPLE)]


@pytest.fixture(scope="module")
def tasks():
    bodies = [body_of(p) for p in PEOPLE]
    return [
        gpu.CardTask(k, together.task(b, i, built_in().lifts[i], Request(n_pos=3)).block) for i in IDS for k, b in enumerate(bodies)
    ]


def alone(pairs, task):
    block, muscles = pairs[task.body]
    return whole_lifts.solve(block, [(muscles, task.lift)])[0]


def same_bits(answer, expected):
    return answer.status == expected.status and all(answer.parts[n].tobytes() == a.tobytes() for n, a in expected.parts.items())


def test_a_warp_gives_the_answers_of_the_core_bit_for_bit(card, pairs, tasks):
    for task, answer in zip(tasks, gpu.solve(card, pairs, tasks), strict=True):
        assert answer.status == whole_lifts.SOLVED
        assert same_bits(answer, alone(pairs, task))


def test_in_brief_it_carries_back_what_is_told_of_whole_lifts_alone(card, pairs, tasks):
    for task, answer in zip(tasks[:2], gpu.solve(card, pairs, tasks[:2], brief=True), strict=True):
        expected = alone(pairs, task)
        assert set(answer.parts) == {"fact", "effort", "slope", "law", "first", "reach", "told"} and answer.basis is None
        assert all(a.tobytes() == expected.parts[n].tobytes() for n, a in answer.parts.items())


def test_a_lift_that_fails_says_so_as_on_the_processor(card):
    adult = body_of_adult(draw(1, 5))
    pairs, ids = [(adult.block, muscles_block(adult))], ("frog_bridge", "standing_leg_curl", "push_up_knees", "leg_extension")
    some = [gpu.CardTask(0, together.task(adult, i, built_in().lifts[i], Request(n_pos=3)).block) for i in ids]
    expected = [(a.status, a.told["missed"]) for a in (alone(pairs, t) for t in some)]
    assert {status for status, _ in expected} == {whole_lifts.MISSED, whole_lifts.UNHELD, whole_lifts.LEFT, whole_lifts.SOLVED}
    assert [(a.status, a.told["missed"]) for a in gpu.solve(card, pairs, some)] == expected


def test_lengths_of_lines_are_the_cores_bit_for_bit(card, pairs):
    q = np.stack([body_of(Person()).neutral] * 2)
    length = np.empty((2, pairs[0][0].n_line))
    gpu.lengths(card, gpu.Bodies(card, pairs), np.array([0, 1], np.int32), 2, q, length)
    for k, (block, _) in enumerate(pairs):
        assert length[k].tobytes() == door.paths(block, q[k : k + 1])[0].tobytes()


def test_both_libraries_make_the_same_bits(pairs, tasks, monkeypatch):
    if "wide" not in build.variants() or not door._has_wide():
        pytest.skip("this machine runs the portable library alone")
    wide = [alone(pairs, t) for t in tasks]
    portable = door.loaded("portable")
    monkeypatch.setattr(door, "_core", lambda: portable)
    for task, expected in zip(tasks, wide, strict=True):
        assert same_bits(alone(pairs, task), expected)


def test_what_only_a_processor_needs_stays_out():
    text = device.source()
    assert "pthread" not in text and "lw_lifts" not in text and "lift_hold" in text


def test_without_cupy_or_a_device_the_message_says_what_to_do(monkeypatch):
    monkeypatch.setitem(sys.modules, "cupy", None)
    with pytest.raises(InputError, match=r"pip install 'lengthwise\[gpu\]'"):
        gpu.cupy()
