"""The text for a graphics processor, compiled for this processor as C++: the same answers as the core's, lift for lift.

What only a device shows (its compiler, thousands of threads) is in validation/gpu_proof.py, which is run by hand where there is one.
"""

import ctypes
import subprocess
import sys

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import build, device, door, gpu, lifts
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import together
from lengthwise.mechanics.blocks import muscles_block
from lengthwise.mechanics.profile import Request

IDS = ("cable_push_down", "leg_press", "dumbbell_row")
STANDING = """
#define ROOM 4096
#define OWN 8192
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#define __device__
#define __noinline__
#define __global__
static struct { int64_t x; } blockIdx, threadIdx, blockDim = {1}, gridDim = {1};
static unsigned long long atomicAdd(unsigned long long *at, unsigned long long by) { unsigned long long was = *at; *at += by; return was; }
"""
"""What a device's compiler knows beyond C++, for one thread."""


class OneThread:
    """A card that is this processor."""

    def __init__(self, library: str) -> None:
        self._library = ctypes.CDLL(library)

    def put(self, array):
        return np.array(array, order="C")

    def room(self, numbers):
        return np.empty(numbers)

    def address(self, held):
        return held.ctypes.data

    def get(self, held):
        return held

    def launch(self, name, threads, *words):
        told = (ctypes.c_int64(w) if isinstance(w, int) else ctypes.c_void_p(w.ctypes.data) for w in words)
        getattr(self._library, name)(*told)


@pytest.fixture(scope="module")
def card(tmp_path_factory):
    command = build.compiler()
    if command is None:
        pytest.skip("no compiler on this machine")
    folder = tmp_path_factory.mktemp("device")
    (folder / "core.cc").write_text(STANDING + device.source(), encoding="utf-8")
    flags = ("-x", "c++", "-std=c++20", "-O0", "-w", "-fPIC", "-shared")
    done = subprocess.run(
        [*command, *flags, "-o", "core.so", "core.cc", "-lm"], cwd=folder, capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stderr[:2000]
    return OneThread(str(folder / "core.so"))


@pytest.fixture(scope="module")
def pairs():
    people = (Person(), Person(sex="woman", stature_m=1.66, mass_kg=62.0))
    return [(b.block, muscles_block(b)) for b in map(body_of, people)]


@pytest.fixture(scope="module")
def tasks():
    people = (Person(), Person(sex="woman", stature_m=1.66, mass_kg=62.0))
    ids = [i for i in IDS if i in built_in().lifts]
    return [
        gpu.Task(k, together.task(body_of(p), i, built_in().lifts[i], Request(n_pos=3)).block)
        for i in ids
        for k, p in enumerate(people)
    ]


def test_the_device_text_gives_the_answers_of_the_core(card, pairs, tasks):
    found = gpu.solve(gpu.Bodies(card, pairs), tasks, 1, gpu.room_of(pairs, tasks))
    for task, answer in zip(tasks, found, strict=True):
        block, muscles = pairs[task.body]
        expected = lifts.solve(block, [(muscles, task.lift)])[0]
        assert answer.status == expected.status == lifts.SOLVED
        for name in ("q", "path", "most", "least", "activation", "active"):
            own, theirs = answer.parts[name], expected.parts[name]
            assert np.abs(own - theirs).max() <= 1e-6 * max(np.abs(theirs).max(), 1.0), name


def test_lengths_of_lines_are_the_cores_to_rounding(card, pairs):
    bodies, n_q = gpu.Bodies(card, pairs), pairs[0][0].n_q
    q = np.stack([body_of(Person()).neutral] * 2)
    length = np.empty((2, pairs[0][0].n_line))
    card.launch("paths", 2, bodies.bodies, np.array([0, 1], np.int32), 2, q, length)
    assert q.shape[1] == n_q
    for k, (block, _) in enumerate(pairs):
        assert length[k] == pytest.approx(door.paths(block, q[k : k + 1])[0], abs=1e-12)


def test_what_only_a_processor_needs_stays_out():
    text = device.source()
    assert "pthread" not in text and "lw_lifts" not in text and "lift_solve" in text


def test_without_cupy_or_a_device_the_message_says_what_to_do(monkeypatch):
    monkeypatch.setitem(sys.modules, "cupy", None)
    with pytest.raises(InputError, match="pip install cupy-cuda13x"):
        gpu.cupy()
