"""Own lifts: begun, checked, kept only when they pass, and a wrong file takes nothing else with it."""

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import DataFileError, InputError, UnknownNameError
from lengthwise.files.folders import own_folder
from lengthwise.known import lifts
from lengthwise.known.library import left_out, library_of
from lengthwise.known.toml_text import lift_toml
from lengthwise.lifts.catalogue import built_in
from lengthwise.records import own_lifts
from lengthwise.records.store import save_client
from lengthwise.training.client import Client, KnownLift


@pytest.fixture(autouse=True)
def _own_data(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


@pytest.fixture(scope="module")
def body():
    return body_of(Person())


def test_every_built_in_lift_written_as_a_text_is_the_same_lift():
    for lift_id, lift in built_in().lifts.items():
        own = lift.model_copy(update={"aliases": []})
        found = library_of((("x", lift_toml(f"my_{lift_id}", own)),))
        assert found.faults == {}
        assert found.catalogue.lifts[f"my_{lift_id}"] == own


def test_a_lift_like_another_is_kept_and_asked_for_by_name(body):
    text = own_lifts.text_like("incline dumbbell curl", "My curl")
    assert own_lifts.keep_text(body, text) == ("my_curl",)
    assert lifts.all_lifts().find("My curl") == "my_curl"
    assert [(f.stem, f.lifts, f.faults) for f in own_lifts.list_own()] == [("my_curl", (("my_curl", "My curl"),), ())]
    same, own = (lifts.profile_lift(body, i, own_lifts.Request()) for i in ("incline_dumbbell_curl", "my_curl"))
    assert own.sticking_kg == pytest.approx(same.sticking_kg)


def test_faults_are_told_at_once_and_nothing_is_kept(body):
    text = own_lifts.template_of("My curl").replace('gear = "dumbbell"', 'gear = "anvil"').replace('"brachialis"]', '"brachiales"]')
    with pytest.raises(DataFileError) as told:
        own_lifts.keep_text(body, text)
    assert "anvil" in str(told.value) and "brachiales" in str(told.value)
    assert own_lifts.list_own() == ()


def test_a_wrong_file_is_left_out_and_told_and_the_rest_stays(body):
    own_lifts.keep_text(body, own_lifts.template_of("My curl"))
    folder = own_folder()
    (folder / "broken.toml").write_text("[lift.x\n")
    (folder / "strange.toml").write_bytes(b"\xff\xfe\x00")
    (folder / "twice.toml").write_text(own_lifts.template_of("My curl"))
    assert "my_curl" in lifts.all_lifts().lifts and "back_squat" in lifts.all_lifts().lifts
    told = "\n".join(left_out())
    assert "broken.toml: not TOML" in told and "strange.toml: not UTF-8" in told and "this id already exists" in told
    assert own_lifts.keep_text(body, own_lifts.template_of("Another curl")) == ("another_curl",)


def test_a_change_takes_the_place_of_its_own_file_alone(body):
    own_lifts.keep_text(body, own_lifts.template_of("My curl"))
    own_lifts.keep_text(body, own_lifts.template_of("Another curl"))
    changed = own_lifts.template_of("My curl").replace("default = 28", "default = 30")
    with pytest.raises(DataFileError, match="this id already exists"):
        own_lifts.keep_text(body, changed)
    own_lifts.keep_text(body, changed, "my_curl")
    assert lifts.all_lifts().lifts["my_curl"].setup["stance_cm"].default == 30
    with pytest.raises(DataFileError, match="this id already exists"):
        own_lifts.keep_text(body, own_lifts.template_of("Another curl"), "my_curl")


def test_a_lift_that_a_record_names_stays(body):
    own_lifts.keep_text(body, own_lifts.template_of("My curl"))
    save_client(Client(name="Ada", known_lifts=(KnownLift(lift="my_curl", load_kg=10, repetitions=8),)))
    with pytest.raises(InputError, match="Ada: my_curl"):
        own_lifts.remove_own("my_curl")
    with pytest.raises(InputError, match="Ada: my_curl"):
        own_lifts.keep_text(body, own_lifts.template_of("Other name"), "my_curl")
    save_client(Client(name="Ada"))
    own_lifts.remove_own("my_curl")
    assert "my_curl" not in lifts.all_lifts().lifts
    with pytest.raises(UnknownNameError, match="no file of own lifts"):
        own_lifts.remove_own("my_curl")


@pytest.mark.parametrize("name", ["", "ab", 'a "quoted" name', "Back squat", "two\nlines"])
def test_a_name_that_gives_no_lift_is_refused(name):
    with pytest.raises(InputError):
        own_lifts.template_of(name)
