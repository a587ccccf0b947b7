"""Person files: every fault at once, nothing overwritten, and no traceback whatever the file holds."""

import random
import re
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from lengthwise.body.person import Person
from lengthwise.errors import DataFileError, InputError, LengthwiseError
from lengthwise.practice.beginning import screening_of
from lengthwise.questions.answers import encode
from lengthwise.records import store
from lengthwise.records.new_client import new_client
from lengthwise.records.people import read_client, read_person
from lengthwise.records.whose import whole_client
from lengthwise.training.client import Client, StoredClient
from lengthwise.training.places import presets
from lengthwise.training.prescription import SetTarget
from lengthwise.training.stations import stations
from lengthwise.weeks.block_plans import block_csv, block_for
from lengthwise.weeks.clients import load_of

DEMO = Path(__file__).parents[2] / "demo"
CLIENTS = [DEMO / "client.toml", *sorted((DEMO / "clients").glob("*.toml"))]
BAD = """
name = "X"
age_y = 15
colour = "red"
days = [{ day = "monday", place = "gym", minutes = 5 }]
known_lifts = [{ lift = "bench pres", load_kg = 60, repetitions = 8 }]
[places.gym.gear]
barbel = {}
dumbbell = { rack_kg = [1, 2], stack_kg = [1, 2, 3] }
[sore_joints]
kneee = 10
[wishes]
priority = { trycpes = 2 }
refused = ["zzz"]
[joint_limits_deg]
shouldr_flexion = [0, 10]
elbow_flexion = [10, 0]
"""


def faults(tmp_path: Path, text: str | bytes) -> list[str]:
    file = tmp_path / "bad.toml"
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    with pytest.raises(DataFileError) as caught:
        read_client(file)
    return list(caught.value.faults)


def test_every_fault_is_told_at_once(tmp_path):
    told = "\n".join(faults(tmp_path, BAD))
    for words in (
        "age_y: found 15",
        "No plans for anyone under 18",
        "no key is called 'colour'",
        "days.0.minutes: found 5",
        "known_lifts.0.lift: no lift is called 'bench pres'; did you mean bench_press",
        "'barbel'; did you mean barbell",
        "allowed one of: bar_kg with plates_kg, rack_kg, stack_kg",
        "sore_joints.kneee",
        "'trycpes'; did you mean triceps",
        "wishes.refused.0",
        "'shouldr_flexion'; did you mean shoulder_flexion",
        "joint limit elbow_flexion: 10.0 to 0.0",
    ):
        assert words in told
    assert all(line.startswith("bad.toml: ") for line in told.splitlines())


def test_a_file_may_raise_a_part_of_the_body(tmp_path):
    file = tmp_path / "back.toml"
    file.write_text(CLIENTS[0].read_text("utf-8").replace("[wishes.priority]", "[wishes.priority]\nback = 2"), "utf-8")
    raised = read_client(file).wishes.priority
    assert raised["latissimus"] == raised["upper_back"] == 2


@pytest.mark.parametrize("age", [0, 5, 13, 17, 17.9])
def test_no_plan_for_minors(tmp_path, age):
    told = faults(tmp_path, f'name = "A"\nage_y = {age}\n')
    assert len(told) == 1 and "supervision" in told[0] and "18 to 90" in told[0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name = ", "not TOML"),
        (b'name = "\xff\xfe"', "not UTF-8"),
        ("a = " + "[" * 20000, "not TOML"),
        ("mass_kg = nan\nname = 'A'", "mass_kg"),
        (f"name = 'A'\nage_y = 0x{'f' * 6000}", "age_y"),
        ("", "name: missing"),
    ],
)
def test_files_that_are_no_records(tmp_path, text, words):
    assert words in "\n".join(faults(tmp_path, text))


def test_a_folder_and_a_missing_file(tmp_path):
    for file in (tmp_path, tmp_path / "none.toml"):
        with pytest.raises(DataFileError, match="cannot be read"):
            read_client(file)


def _paths(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(p for k, v in inner for p in _paths(v, (*path, k)))]


ODD: list[Any] = [
    -1, 0, 1e308, float("nan"), float("inf"), "", "x" * 5000, "🏋\u202e", True, [], [[]], {}, {"a": {"b": []}}, [1, "a"], date(1, 1, 1), 10**30, -(10**30)
]  # fmt: skip


def _spoilt(table: dict[str, Any], rng: random.Random) -> dict[str, Any]:
    """A record with one to three values replaced, removed or renamed."""
    for _ in range(rng.randint(1, 3)):
        path = rng.choice([p for p in _paths(table) if p])
        holder = table
        for key in path[:-1]:
            holder = holder[key]
        how = rng.random()
        if how < 0.6:
            holder[path[-1]] = rng.choice(ODD)
        elif how < 0.8:
            del holder[path[-1]]
        elif isinstance(holder, dict):
            holder[rng.choice(["odd", "naem", "", "a.b", "é" * 200])] = holder.pop(path[-1])
    return table


def test_500_malformed_files_give_a_clear_error_and_no_traceback(tmp_path):
    """Fuzz: 400 spoilt records and 100 spoilt texts. Each is read, or refused with file, key and what was found."""
    rng, refused = random.Random(6), 0
    texts = [file.read_text(encoding="utf-8") for file in CLIENTS]
    for i in range(500):
        text = rng.choice(texts)
        if i < 400:
            data = tomli_w.dumps(_spoilt(tomllib.loads(text), rng)).encode()
        else:
            raw = bytearray(text.encode())
            for _ in range(rng.randint(1, 8)):
                raw[rng.randrange(len(raw))] = rng.randrange(256)
            data = bytes(raw)
        file = tmp_path / "fuzz.toml"
        file.write_bytes(data)
        try:
            assert isinstance(read_client(file), Client)
        except DataFileError as error:
            refused += 1
            assert error.faults and all("fuzz.toml: " in f and len(f) < 1200 for f in error.faults), error.faults
    assert refused > 300


def test_any_reader_of_a_person_survives_the_same(tmp_path):
    rng = random.Random(7)
    file = tmp_path / "fuzz.toml"
    for _ in range(60):
        file.write_text(tomli_w.dumps(_spoilt(tomllib.loads(CLIENTS[0].read_text(encoding="utf-8")), rng)), encoding="utf-8")
        try:
            read_person(file)
        except LengthwiseError as error:
            assert "fuzz.toml" in str(error)


def test_a_person_file_and_a_client_file_give_a_body(tmp_path):
    file = tmp_path / "p.toml"
    file.write_text('sex = "woman"\nstature_m = 1.68\nmass_kg = 64\nage_y = 33\ntraining = "trained"\n', encoding="utf-8")
    wanted = Person(sex="woman", stature_m=1.68, mass_kg=64, age_y=33, training="trained")
    known = read_person(DEMO / "client.toml")
    assert read_person(file) == wanted == known.model_copy(update={"strength": wanted.strength})
    assert known.strength, "its known lifts count"
    assert read_person(None) == Person()


def test_the_template_is_valid_and_never_written_over(tmp_path):
    file = new_client(tmp_path / "new" / "ada.toml", 'Ada "the" \\ Ünal')
    assert read_client(file).name == 'Ada "the" \\ Ünal'
    before = file.read_bytes()
    with pytest.raises(InputError, match="already exists"):
        new_client(file, "Other")
    assert file.read_bytes() == before and list(file.parent.iterdir()) == [file]


def test_the_template_names_usual_places_and_stations(tmp_path):
    text = new_client(tmp_path / "ada.toml", "Ada").read_text(encoding="utf-8")
    assert set(presets()) <= set(re.findall(r"\w+", text)) >= set(stations())
    file = tmp_path / "places.toml"
    garage = text.replace('# preset = "garage_rack"', 'preset = "garage_rack"').replace("# [places.gym]\n", "[places.gym]\n", 1)
    file.write_text(garage.replace("lever = {}", ""), encoding="utf-8")
    assert {"rack", "flat_bench"} <= set(read_client(file).places["gym"].stations or ())


@pytest.mark.parametrize(("kind", "meant"), [("bench", "flat_bench"), ("squat_rack", "rack"), ("dip_bars", "dip_bars")])
def test_a_station_under_gear_is_told_where_it_belongs(tmp_path, kind, meant):
    file = new_client(tmp_path / "ada.toml", "Ada")
    file.write_text(file.read_text(encoding="utf-8").replace("lever = {}", f"lever = {{}}\n{kind} = {{}}"), encoding="utf-8")
    with pytest.raises(DataFileError, match=f'no gear but a station; write it in .places.gym. as stations = ."{meant}"'):
        read_client(file)


@pytest.mark.parametrize("name", ["", " ", "a\nb = 1", "x" * 81])
def test_names_that_cannot_be(tmp_path, name):
    with pytest.raises(InputError, match="printable"):
        new_client(tmp_path / "a.toml", name)
    assert not list(tmp_path.iterdir())


def test_six_invented_clients_are_valid_and_say_that_they_are_invented():
    assert len(CLIENTS) == 6
    for file in CLIENTS:
        assert "invented" in file.read_text(encoding="utf-8").splitlines()[0].casefold()
        assert read_client(file).name.endswith("(invented)")


def test_a_record_survives_being_written_and_read():
    for file in CLIENTS:
        client = read_client(file)
        assert Client.model_validate_json(client.model_dump_json()) == client


def test_find_client_asks_what_keeps_clients(monkeypatch):
    kept = StoredClient(1, Client(name="Kept"))
    monkeypatch.setattr(store, "holds_clients", lambda: True)
    monkeypatch.setattr(store, "named_client", lambda asked: kept)
    assert whole_client("Kept") is kept
    monkeypatch.setattr(store, "holds_clients", lambda: False)
    with pytest.raises(InputError, match="no client is called 'Other'"):
        whole_client("Other")


def test_no_loads_before_a_clinician_was_seen():
    samira = read_client(DEMO / "clients" / "samira.toml")
    with pytest.raises(InputError, match="see a clinician first"):
        block_for(samira)
    with pytest.raises(InputError, match="see a clinician first"):
        load_of(samira, "goblet_squat", SetTarget())


def test_a_block_as_answer_and_as_table():
    client = read_client(DEMO / "clients" / "tomasz.toml")
    block = block_for(client, ["bench_press:4", "dumbbell_lateral_raise:2:long"], 4)
    answer = encode(block)
    assert [len(row["weeks"]) for row in answer["lifts"]] == [4, 4]
    assert answer["lifts"][0]["weeks"][0]["sets"] == 4 and answer["lifts"][1]["prescription"]["range"] == "long"
    assert all(rule["claim"] for rule in answer["rules"])
    lines = block_csv(block).splitlines()
    assert len(lines) == 1 + 2 * 4 and lines[0].startswith("lift,name,range,week")


def test_blocks_need_lifts_that_can_be_read():
    ines = read_client(DEMO / "clients" / "ines.toml")
    with pytest.raises(InputError, match="--lift"):
        block_for(ines)
    with pytest.raises(InputError, match="LIFT:SETS"):
        block_for(ines, ["goblet_squat:many"])
    with pytest.raises(InputError, match="none of the places"):
        block_for(ines, ["bench_press"])
    assert block_for(ines, ["goblet_squat"]).reserve[0] >= 5


def test_moderate_effort_stays_away_from_failure():
    """A heart disease, active, moderate effort: go, but with five in reserve."""
    henrik = read_client(DEMO / "clients" / "henrik.toml")
    assert screening_of(henrik).answer == "go"
    assert load_of(henrik, "leg_press", SetTarget()).reserve >= 5
