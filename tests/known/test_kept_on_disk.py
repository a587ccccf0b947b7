"""What is parsed and fitted once and then read from disk: the same answer, whatever became of the file."""

import shutil
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from lengthwise import contents
from lengthwise.body.person import Person
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.exchange import to_json
from lengthwise.figure.packing import bones_file
from lengthwise.files import cache_files
from lengthwise.files.cache_files import keep, kept_content
from lengthwise.files.whole_files import DRAFT
from lengthwise.growth.fit import N_DRAW
from lengthwise.growth.observed import seen_in
from lengthwise.known import made, shipped_lifts, solids, trial_answers
from lengthwise.known.shipped_lifts import read, shipped
from lengthwise.lifts.catalogue import built_in
from lengthwise.practice import known_strength
from lengthwise.training.client import KnownLift

FEW = starter_library().studies[:6]


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """Where answers are kept, empty; an installation without answers of its own."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.setattr(cache_files, "MADE", tmp_path / "made")
    return tmp_path / "cache"


def again():
    """The library as another process would find it."""
    return shipped.__wrapped__()


def fit(studies=FEW):
    """The posterior as another process would find it."""
    return trial_answers._posterior.__wrapped__(to_json(studies))


def seen(studies=FEW):
    """What studies saw as another process would find it."""
    return trial_answers._seen.__wrapped__(to_json(studies))


def only_file(folder):
    (file,) = (f for f in folder.rglob("*") if f.is_file())
    return file


def same_lifts(a, b):
    return repr(a) == repr(b) and all(one.model_fields_set == b.lifts[i].model_fields_set for i, one in a.lifts.items())


def test_the_library_read_from_disk_is_the_one_that_was_parsed(folder, monkeypatch):
    assert same_lifts(again(), built_in())
    monkeypatch.setattr(shipped_lifts, "built_in", lambda: pytest.fail("parsed again"))
    assert same_lifts(again(), built_in())


def damaged(whole):
    """A file in four ways that a disk or a person can damage it."""
    middle = len(whole) // 2
    return (b"", whole[:middle], b"[]", whole[:middle] + bytes([whole[middle] ^ 1]) + whole[middle + 1 :])


@pytest.mark.parametrize("way", range(4))
def test_a_damaged_file_is_ignored_and_written_anew(folder, way):
    again()
    file = only_file(folder)
    whole = file.read_bytes()
    file.write_bytes(damaged(whole)[way])
    assert same_lifts(again(), built_in())
    assert file.read_bytes() == whole


def test_content_that_is_whole_but_no_library_is_parsed_again(folder):
    again()
    file = only_file(folder)
    for content in (b"[]", b'[{"x": {}}, {}]', b"{"):
        keep(file, content)
        assert kept_content(file, read) is None
        assert same_lifts(again(), built_in())


def test_where_nothing_can_be_written_the_answer_is_the_same(folder):
    folder.write_text("no folder: nothing can be kept in it")
    assert same_lifts(again(), built_in())
    assert fit().draws.shape[0] == N_DRAW


def test_who_reads_while_others_write_finds_a_whole_file(folder):
    texts = [bytes([65 + n]) * 200_000 for n in range(4)]
    keep(folder / "one", texts[0])
    with ThreadPoolExecutor(5) as pool:
        writers = [pool.submit(lambda c: [keep(folder / "one", c) for _ in range(5)], c) for c in texts]
        seen = [kept_content(folder / "one", bytes) for _ in range(50)]
        assert [w.result() for w in writers]
    assert all(one in texts for one in seen)


def test_an_installation_s_own_answers_spare_parsing_and_fitting(folder, monkeypatch):
    monkeypatch.setattr(made, "starter_library", lambda: replace(starter_library(), studies=FEW))
    made.make()
    fresh, files = fit(), {f for f in cache_files.MADE.rglob("*") if f.is_file()}
    assert len(files) == 4
    shutil.rmtree(folder)
    with monkeypatch.context() as patch:
        patch.setattr(shipped_lifts, "built_in", lambda: pytest.fail("parsed again"))
        patch.setattr(trial_answers, "fitted", lambda data: pytest.fail("fitted again"))
        patch.setattr(trial_answers, "seen_in", lambda study: pytest.fail("read again"))
        assert same_lifts(again(), built_in())
        patch.setattr(solids, "bones_file", lambda: pytest.fail("made again"))
        solids.bones.cache_clear()
        assert solids.bones() == bones_file()
        assert np.array_equal(fit().draws, fresh.draws)
        assert seen() == {s.id: seen_in(s) for s in FEW}
    assert not folder.exists()
    for file in files:
        file.write_bytes(file.read_bytes()[:-1])
    assert same_lifts(again(), built_in())
    assert np.array_equal(fit().draws, fresh.draws)
    assert seen() == {s.id: seen_in(s) for s in FEW}


def test_an_installation_that_cannot_be_written_to_answers_still(monkeypatch, tmp_path):
    monkeypatch.setattr(made, "starter_library", lambda: replace(starter_library(), studies=FEW))
    cache_files.MADE.write_text("no folder: nothing can be kept in it")
    made.make()
    assert same_lifts(again(), built_in())


def test_what_a_killed_program_left_goes_and_a_folder_that_was_deleted_is_there_again(folder):
    folder.mkdir()
    left = folder / f"{DRAFT}4194305-half.part"  # no process of Linux has a number above 4194304
    left.write_text("half")
    for content in ("one", "two"):
        keep(folder / "a", content)
        assert [f.name for f in folder.iterdir()] == ["a"]
        assert kept_content(folder / "a", bytes.decode) == content
        shutil.rmtree(folder)


def test_a_changed_file_changes_the_name(tmp_path, monkeypatch):
    monkeypatch.setattr("lengthwise.contents.files", lambda _: tmp_path)
    names = set()
    for text in ("a = 1", "a = 2"):
        (tmp_path / "part").mkdir(exist_ok=True)
        (tmp_path / "part" / "one.py").write_text(text)
        contents._hash_of.cache_clear()
        names.add(contents.hash_of({"part": (".py",)}))
    contents._hash_of.cache_clear()
    assert len(names) == 2


def test_a_fit_read_from_disk_has_the_same_bits(folder, monkeypatch):
    fresh = fit()
    monkeypatch.setattr(trial_answers, "fitted", lambda data: pytest.fail("fitted again"))
    known = fit()
    for name in ("mode", "covariance", "draws", "log_prior", "log_likelihood", "weights", "mean", "sd"):
        assert np.array_equal(getattr(fresh, name), getattr(known, name))
    assert np.array_equal(fresh.sample(50, 3), known.sample(50, 3))


def test_a_study_that_comes_or_goes_is_fitted_anew(folder, monkeypatch):
    fits = []
    real = trial_answers.fitted
    monkeypatch.setattr(trial_answers, "fitted", lambda data: fits.append(len(data.trials)) or real(data, 50))
    for studies in (FEW, FEW[1:], FEW, FEW[1:]):
        fit(studies)
    assert len(fits) == 2


def test_a_damaged_fit_is_fitted_again(folder):
    fresh = fit(FEW[:2])
    file = next(folder.glob("growth/*.npz"))
    whole = file.read_bytes()
    for content in damaged(whole):
        file.write_bytes(content)
        assert np.array_equal(fit(FEW[:2]).draws, fresh.draws)
        assert file.read_bytes() == whole


def test_fitted_strength_read_from_disk_is_what_was_fitted_and_follows_the_known_lifts(folder, monkeypatch):
    known = (KnownLift(lift="leg_extension", load_kg=50, repetitions=8),)
    fitted = known_strength._calibrated.__wrapped__(Person(), known)
    assert len(list((folder / "strength").iterdir())) == 1
    other = known_strength._calibrated.__wrapped__(Person(), (known[0].model_copy(update={"load_kg": 60}),))
    assert other.strength["vasti"] > fitted.strength["vasti"]
    monkeypatch.setattr(known_strength, "_calibration", lambda *_: pytest.fail("fitted again"))
    assert known_strength._calibrated.__wrapped__(Person(), known) == fitted
