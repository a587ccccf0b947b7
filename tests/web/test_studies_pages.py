"""Studies of one's own: checked without storing, stored, fetched, taken out; asked of the application itself."""

from pathlib import Path
from time import sleep

import pytest
from here import HERE
from starlette.testclient import TestClient

from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.exchange import parse_csv, parse_json, to_csv
from lengthwise.known import evidence as actions
from lengthwise.records.accounts import add_account
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.web.app import create_app

FORM = {
    "study": "OWN", "year": "2024", "source": "Own gym report", "title": "long against short", "muscle": "triceps", "measure": "thickness",
    "unit": "mm", "arm": "long", "arm_n": "20", "arm_change": "3.1", "arm_sd": "1.4", "versus": "short", "versus_n": "20",
    "versus_change": "2.0", "versus_sd": "1.5", "claims": "long_length", "obtained": "invented",
}  # fmt: skip
ROWS = [{"study": "OWN", "arm": "long", "muscle": "triceps", "obtained": "read"}]


@pytest.fixture
def client(own_folder) -> TestClient:
    return TestClient(create_app({"testserver"}), client=HERE)


def a_file() -> str:
    """Two studies of the starter set under other names."""
    some = [s.model_copy(update={"id": f"MINE{i}"}) for i, s in enumerate(starter_library().studies[:2])]
    return to_csv(some)


def test_check_only_tells_and_stores_nothing(client: TestClient):
    told = client.post("/evidence/add-study", data={**FORM, "do": "check"})
    assert told.status_code == 200
    assert "Sound; nothing was stored yet" in told.text
    assert "risk of bias not judged" in told.text
    assert 'value="Own gym report"' in told.text
    wrong = client.post("/evidence/add-study", data={**FORM, "year": "soon", "arm_n": "x", "do": "check"})
    assert wrong.status_code == 200
    assert "year: found &#39;soon&#39;" in wrong.text
    assert "n: found &#39;x&#39;" in wrong.text
    assert actions.own_studies() == ()


def test_a_checked_file_is_stored_by_its_button(client: TestClient):
    told = client.post("/evidence/import", data={"do": "check"}, files={"file": ("mine.csv", a_file())})
    assert "MINE0, MINE1 have no problems" in told.text
    assert actions.own_studies() == ()
    token = told.text.split('name="token" value="')[1].split('"')[0]
    stored = client.post("/evidence/import", data={"do": "store", "token": token})
    assert "Stored: MINE0, MINE1." in stored.text
    assert [s.id for s in actions.own_studies()] == ["MINE0", "MINE1"]


def test_a_checked_study_says_what_it_would_change_before_it_is_stored(client: TestClient):
    told = client.post("/evidence/add-study", data={**FORM, "do": "check"})
    asks = "/evidence/effect" + told.text.split('hx-get="/evidence/effect')[1].split('"')[0]
    effect = client.get(asks)
    for _ in range(100):
        if "What adding this would change" in effect.text:
            break
        sleep(0.2)
        effect = client.get(asks)
    assert "What adding this would change" in effect.text
    assert "0 clients with a saved week were checked" in effect.text
    assert actions.own_studies() == ()


@pytest.mark.parametrize(("name", "content", "told"), [
    ("mine.txt", b"x", "unknown layout"), ("mine.csv", b"\xff\xfe", "not UTF-8"), ("mine.json", b"{", "not JSON"),
    ("mine.csv", b"x" * 900_001, "holds more than 900000 bytes"), ("mine.csv", b"study,arm\n", "&#39;muscle&#39; is missing"),
])  # fmt: skip
def test_a_file_that_cannot_be_read_is_told(client: TestClient, name: str, content: bytes, told: str):
    answer = client.post("/evidence/import", data={"do": "store"}, files={"file": (name, content)})
    assert answer.status_code == 422
    assert told in answer.text
    assert "Nothing was stored" in answer.text


def test_studies_are_fetched_and_taken_out(client: TestClient):
    assert client.post("/evidence/add-study", data={**FORM, "do": "store"}).status_code == 200
    own = client.get("/evidence/studies/own.csv")
    assert "attachment" in own.headers["content-disposition"]
    assert [s.id for s in parse_csv(own.text).studies] == ["OWN"]
    every = parse_json(client.get("/evidence/studies/all.json").text)
    assert len(every.studies) == len(starter_library().studies) + 1
    listed = client.get("/evidence/studies").text
    assert 'aria-label="Remove OWN">Remove<' in listed  # what is read out holds what is seen (WCAG 2.2, 2.5.3)
    gone = client.post("/evidence/studies/remove", data={"study": "OWN"})
    assert "Removed: OWN." in gone.text
    assert actions.own_studies() == ()
    assert client.post("/evidence/studies/remove", data={"study": "OWN"}).status_code == 404


def test_programs_check_fetch_and_take_out(client: TestClient):
    faults = client.post("/api/studies/check", json={"rows": ROWS}).json()
    assert faults["studies"] == []
    assert any("year" in f for f in faults["faults"])
    assert client.post("/api/studies/check", json={"rows": [{"colour": "red"}]}).status_code == 422
    client.post("/evidence/add-study", data={**FORM, "do": "store"})
    assert [s["id"] for s in client.get("/api/studies").json()["studies"]] == ["OWN"]
    assert client.delete("/api/studies/OWN").json() == {"studies": [], "remarks": []}
    assert client.delete("/api/studies/OWN").status_code == 404


def test_a_table_sent_as_a_file_is_bounded(client: TestClient):
    rows = "yi,vi,study\n" + "0.1,0.1,a\n" * 201
    assert "201 rows; allowed 200" in client.post("/evidence/pool", files={"file": ("long.csv", rows)}).text
    assert "holds more than 200000 bytes" in client.post("/evidence/pool", data={"text": "x" * 200_001}).text
    assert "no table yet" in client.post("/evidence/pool", data={"text": " "}).text
    small = client.post("/evidence/pool", files={"file": ("two.csv", "yi,vi,study\n0.1,0.1,a\n0.3,0.1,b\n")})
    assert small.status_code == 200
    assert "two.csv: 2 effects" in small.text


def test_trials_are_bounded(client: TestClient):
    row = '[[comparison]]\ntrial = "X"\nhead = "soleus"\na = {{ lift = "back_squat", setup = {{ depth_deg = {} }} }}\nb = {{ lift = "hip_thrust" }}\nobserved = 1.0\n'
    many = "".join(row.format(60 + k / 10) for k in range(201))
    told = client.post("/evidence/trials", files={"file": ("many.toml", many)})
    assert "holds 201 comparisons; allowed 200" in told.text
    assert "different arms; allowed 60" in told.text
    assert "not TOML" in client.post("/evidence/trials", files={"file": ("bad.toml", "[[")}).text
    assert (
        "finite number" in client.post("/evidence/trials", files={"file": ("nan.toml", row.format(60).replace("1.0", "nan"))}).text
    )
    assert "this one is gone" in client.get("/evidence/trials?file=" + "0" * 32).text


def test_what_changes_the_evidence_is_a_coach_s(client: TestClient, tmp_path: Path):
    save_client(Client(name="Mara Lindqvist"))
    add_account("Coach", "a long enough word")
    add_account("Pupil", "a long enough word", "client", "Mara")
    client.post("/sign-in", data={"name": "Pupil", "password": "a long enough word", "next": "/evidence"})
    assert "Add a study" not in client.get("/evidence").text
    for path in ("/evidence/add-study", "/evidence/studies", "/evidence/studies/own.csv", "/evidence/pool", "/api/studies"):
        assert client.get(path).status_code == 403, path
    assert client.post("/evidence/pool", data={"text": "yi"}).status_code == 403
    assert client.delete("/api/studies/T01").status_code == 403
    assert client.get("/evidence/trials").status_code == 200


def test_a_claim_is_written_kept_and_taken_out(client):
    """The whole way on the page: a fault is told and nothing kept, then it stands among the claims, then it is gone."""
    bad = client.post("/evidence/own-claims", data={"text": '[[claim]]\nid = "mine"\n'})
    assert bad.status_code == 422 and "Nothing was changed" in bad.text and "statement" in bad.text
    text = (
        '[[claim]]\nid = "mine"\nstatement = "A grows more than B"\npopulation = "adults"\nfeeds = []\nwould_change = "a trial"\n'
    )
    assert "Saved: mine" in client.post("/evidence/own-claims", data={"text": text}).text
    assert "A grows more than B" in client.get("/evidence").text
    assert "Removed: mine" in client.post("/evidence/own-claims/remove", data={"claim": "mine"}).text
