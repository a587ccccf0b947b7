"""Bodies made with a graphics processor: the bytes that the processor makes. What needs a device is skipped where none is."""

import io

import pytest

from command_line import run
from lengthwise.core import gpu, whole_lifts
from lengthwise.errors import InputError
from lengthwise.known.population_answers import Making, make_population
from lengthwise.populations import on_device
from lengthwise.populations.arrow import arrow
from lengthwise.populations.body_table import body_file


def missing() -> str:
    """Why no device can be asked; nothing where one can."""
    try:
        gpu.cupy()
    except InputError as error:
        return str(error)
    return ""


@pytest.fixture
def card(monkeypatch):
    """A device that nothing is asked of."""
    monkeypatch.setattr(on_device, "first_device", object)


def by_processor(_card, bodies, tasks, brief):
    """What a device answers, from the processor."""
    return [whole_lifts.solve(bodies[t.body][0], [(bodies[t.body][1], t.lift)], brief=brief)[0] for t in tasks]


def leaves_all(card, bodies, tasks, brief):
    return [whole_lifts.CoreAnswer(whole_lifts.LEFT, a.parts, a.told, a.basis) for a in by_processor(card, bodies, tasks, brief)]


def test_bodies_that_are_solved_together_have_their_own_files_in_order(card, wanted, monkeypatch):
    monkeypatch.setattr(gpu, "solve", by_processor)
    monkeypatch.setattr(on_device, "AT_ONCE", 2)
    made = dict(on_device.body_files(wanted, [4, 0, 7]))
    assert list(made) == [4, 0, 7]
    assert made == {n: body_file(wanted, n, 1) for n in made}


def test_what_a_device_leaves_is_finished_by_other_solvers(card, wanted, monkeypatch):
    monkeypatch.setattr(gpu, "solve", leaves_all)
    found, expected = (
        arrow().parquet.read_table(io.BytesIO(f)) for f in (dict(on_device.body_files(wanted, [1]))[1], body_file(wanted, 1, 1))
    )
    for name in ("lift", "head", "reason"):
        assert found[name].to_pylist() == expected[name].to_pylist()
    for name in ("working_kg", "peak_activation", "loaded_length"):
        assert found[name].to_numpy() == pytest.approx(expected[name].to_numpy(), rel=1e-3, abs=1e-4, nan_ok=True)


@pytest.mark.skipif(bool(missing()), reason=f"no graphics processor: {missing()}")
def test_processes_that_share_a_device_make_the_bytes_that_the_processor_makes(tmp_path):
    shared, alone = tmp_path / "shared", tmp_path / "alone"
    for folder, more in ((shared, {"device": "gpu", "workers": 2}), (alone, {})):
        make_population(Making(folder=folder, people=30, lifts=("cable_push_down",), n_pos=3, **more))
    assert [f.read_bytes() for f in sorted(shared.rglob("*.parquet"))] == [f.read_bytes() for f in sorted(alone.rglob("*.parquet"))]


@pytest.mark.skipif(bool(missing()), reason=f"no graphics processor: {missing()}")
def test_a_device_makes_the_bytes_that_the_processor_makes(wanted):
    made = dict(on_device.body_files(wanted, list(range(4))))
    assert made == {n: body_file(wanted, n, 1) for n in made}


@pytest.mark.skipif(not missing(), reason="a graphics processor is there")
def test_without_a_device_the_command_says_what_is_missing_and_makes_nothing(tmp_path):
    done = run("population", "make", "--people", "2", "--device", "gpu", "--to", str(tmp_path / "people"))
    assert done.returncode == 2 and ("lengthwise[gpu]" in done.stderr or "no graphics processor" in done.stderr)
    assert not (tmp_path / "people").exists()


@pytest.mark.parametrize(
    ("more", "said"),
    [({"device": "tpu"}, "allowed: cpu or gpu"), ({"device": "gpu", "cluster": "tcp://10.0.0.5:8786"}, "without --cluster")],
)
def test_a_device_that_cannot_be_asked_is_refused(tmp_path, more, said):
    with pytest.raises(InputError, match=said):
        make_population(Making(folder=tmp_path / "none", people=2, **more))
