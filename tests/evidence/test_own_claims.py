"""Claims of a coach's own: written, kept, named by a study, taken out."""

import pytest

from lengthwise.errors import DataFileError, InputError, UnknownNameError
from lengthwise.evidence.exchange import to_csv
from lengthwise.known import evidence, own_claims
from lengthwise.known.weighed_claims import weigh


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "own"))
    return tmp_path / "own"


def _filled(tmp_path, **changes: str):
    file = tmp_path / "claim.toml"
    own_claims.write_template(file)
    text = file.read_text(encoding="utf-8")
    for name in ("statement", "population", "would_change"):
        text = text.replace(f'{name} = ""', f'{name} = "Something about {name}"')
    for old, new in changes.items():
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    return file


def test_a_claim_is_written_kept_fed_by_a_study_and_taken_out(tmp_path):
    own_claims.add(_filled(tmp_path))
    assert weigh("my_claim").verdict.word == "open"
    study = evidence.library().studies[0]
    contrast = study.contrasts[0].model_copy(update={"claims": ("my_claim",)})
    mine = study.model_copy(update={"id": "MINE", "contrasts": (contrast,)})
    evidence.store_studies(evidence.check_study_text("mine.csv", to_csv([mine])), "mine.csv")
    assert [f.study.id for f in weigh("my_claim").findings] == ["MINE"]
    with pytest.raises(InputError, match="MINE bear on it"):
        own_claims.remove("my_claim")
    evidence.remove_study("MINE")
    own_claims.remove("my_claim")
    with pytest.raises(UnknownNameError):
        weigh("my_claim")
    assert own_claims.own_claims() == ()


def test_every_fault_of_a_claim_is_told_and_nothing_kept(tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text('[[claim]]\nid = "x"\nstatement = 3\nfeeds = []\nwould_change = "a"\n', encoding="utf-8")
    with pytest.raises(DataFileError) as error:
        own_claims.add(file)
    assert "statement" in str(error.value) and "population" in str(error.value)
    with pytest.raises(InputError, match="comes with Lengthwise"):
        own_claims.add(_filled(tmp_path, my_claim="rest"))
    assert own_claims.own_claims() == ()


def test_a_claim_without_studies_says_so_and_nothing_else(tmp_path):
    own_claims.add(_filled(tmp_path))
    found = weigh("my_claim")
    assert found.verdict.reason == "no study bears on it yet"
    assert [s.why for s in found.certainty.steps] == ["no study bears on it yet"]


def test_a_claim_names_itself_and_others_so_that_they_can_be_found(tmp_path):
    with pytest.raises(DataFileError, match="found 'a claim'; allowed: up to 40 letters"):
        own_claims.add(_filled(tmp_path, my_claim="a claim"))
    (tmp_path / "claim.toml").unlink()
    with pytest.raises(UnknownNameError, match="no claim is called 'rests'; did you mean rest"):
        own_claims.add(_filled(tmp_path, **{"contradicts = []": 'contradicts = ["rests"]'}))
    assert own_claims.own_claims() == ()
