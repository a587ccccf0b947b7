"""What a user can ask, from the command line to the stored file."""

import json

import pytest

from command_line import run
from lengthwise.errors import InputError
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.exchange import parse_csv, to_csv
from lengthwise.known import evidence as actions

KEYS = {"k", "estimate", "se", "ci", "tau2", "i2", "q", "prediction", "convention"}


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture
def ask():
    return lambda *words, typed="": run(*map(str, words), typed=typed)


@pytest.fixture
def table(bcg, tmp_path):
    y, v, columns, _ = bcg
    rows = [f"{a},{b},{s} {i},{x}" for i, (a, b, s, x) in enumerate(zip(y, v, columns["source"], columns["ablat"], strict=True))]
    path = tmp_path / "bcg.csv"
    path.write_text("\n".join(["yi,vi,study,ablat", *rows]), encoding="utf-8")
    return path


@pytest.mark.parametrize(("method", "test", "key"), [
    ("fe", "z", "FE"), ("dl", "z", "DL"), ("pm", "z", "PM"), ("reml", "z", "REML"), ("reml", "hk", "REML_KH"),
])  # fmt: skip
def test_pool_of_a_table_matches_metafor(ask, table, bcg, method, test, key):
    e = bcg[3][key]
    found = json.loads(ask("pool", "--file", table, "--method", method, "--test", test, "--json").stdout)
    assert set(found) >= KEYS
    assert [found["k"], found["estimate"], found["se"], *found["ci"], found["tau2"], found["q"]] == pytest.approx(
        [e[k] for k in ("k", "b", "se", "ci_lb", "ci_ub", "tau2", "Q")], abs=3e-5
    )
    assert found["i2"] == pytest.approx(e["I2"], abs=1e-3)
    assert len(found["prediction"]) == 2


def test_clustered_table_is_three_levels(ask, worked, tmp_path):
    c, expected = worked("school_calendar")
    path = tmp_path / "calendar.csv"
    rows = [f"{y},{v},{s:g},{d:g}" for y, v, s, d in zip(c["yi"], c["vi"], c["study"], c["district"], strict=True)]
    path.write_text("\n".join(["yi,vi,study,cluster", *rows]), encoding="utf-8")
    e, robust = expected["three_level_REML"], expected["clubSandwich_CR2"]
    found = json.loads(ask("pool", "--file", path, "--json").stdout)
    assert [found["estimate"], found["se"], found["tau2_between"], found["tau2_within"]] == pytest.approx(
        [e["b"], e["se"], *e["sigma2"]], abs=1e-6
    )
    assert [found["robust"]["se"], found["robust"]["df"]] == pytest.approx([robust["se"], robust["df"]], abs=1e-5)
    knapp = json.loads(ask("pool", "--file", path, "--test", "hk", "--json").stdout)
    assert knapp["se"] == pytest.approx(robust["se"], abs=1e-6)


def test_moderator_and_pictures(ask, table, bcg, tmp_path):
    got = ask("pool", "--file", table, "--moderator", "ablat", "--figure", "--to", tmp_path / "out", "--json")
    found = json.loads(got.stdout)
    assert found["regression"]["estimate"] == pytest.approx(bcg[3]["metareg_ablat_REML"]["b"], abs=1e-4)
    names = {"bcg_forest.png", "bcg_funnel.png", "bcg_leave_one_out.png", "bcg_cumulative.png", "bcg_dose_response.png"}
    assert {p.name for p in (tmp_path / "out").iterdir()} == names


def test_a_pool_says_what_makes_it_shaky(ask, table, bcg):
    found = json.loads(ask("pool", "--file", table, "--prior-scale", "0.5", "--json").stdout)
    expected = bcg[3]
    assert found["asymmetry"]["p"] == pytest.approx(expected["egger_lm"]["p"])
    assert found["trim_and_fill"]["estimate"] == pytest.approx(expected["trimfill_REML_L0"]["b"], abs=1e-5)
    assert found["leave_one_out"]["estimate"] == pytest.approx(expected["leave1out_REML"]["estimate"], abs=1e-5)
    assert found["bayesian"]["mean"] == pytest.approx(found["estimate"], abs=0.02)


@pytest.mark.parametrize("name", starter_library().claims)
def test_every_claim_can_be_pooled(ask, name):
    found = json.loads(ask("pool", name, "--json").stdout)
    assert set(found) >= {*KEYS, "certainty", "directions", "would_change"}
    assert ask("pool", name, "--without-memory").returncode == 0


def test_a_claim_can_be_pooled_in_another_way(ask):
    found = json.loads(ask("pool", "long_length", "--method", "dl", "--test", "hk", "--json").stdout)
    assert found["basis"] == "studies, one effect a study" and "DerSimonian" in found["convention"]
    assert found["bayesian"]["prior"].startswith("flat for the mean")


def test_claims_are_listed_and_printed(ask, tmp_path):
    listed = json.loads(ask("claims", "--json").stdout)["claims"]
    assert [c["id"] for c in listed] == list(starter_library().claims)
    assert ask("claims", "--report", tmp_path / "page.html").returncode == 0
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert page.count("<section") == len(listed) and "from memory" in page and "What to see" in page


ERRORS = [
    (("pool", "long_lenght"), "unknown_name", 2, "long_length"),
    (("pool",), "bad_input", 2, "name a claim, or a table"),
    (("pool", "long_length", "--method", "remll"), "unknown_name", 2, "reml"),
    (("pool", "tempo", "--method", "dl"), "bad_input", 2, "cannot be pooled differently"),
    (("pool", "--file", "nowhere.csv"), "bad_file", 3, "cannot be read"),
    (("study", "check", "study.txt"), "bad_file", 3, "cannot be read"),
]


@pytest.mark.parametrize(("words", "kind", "code", "says"), ERRORS, ids=[" ".join(e[0]) for e in ERRORS])
def test_errors_are_objects_with_exit_codes(ask, words, kind, code, says):
    got = ask(*words, "--json")
    assert got.returncode == code and got.stdout == ""
    found = json.loads(got.stderr)
    assert set(found) == {"error", "message", "asked", "allowed"}
    assert found["error"] == kind and says in found["message"]
    assert ask(*words).returncode == code


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("yi,study\n1,a\n", "column 'vi' is missing"),
        ("yi,vi,study\n", "the table has no rows"),
        ("yi,vi,study\n1,0,a\n", "row 2, vi: found 0; allowed: above 0"),
        ("yi,vi,study\nx,1,a\n", "row 2, yi: found 'x'"),
        ("yi,vi,study\n1,nan,a\n", "row 2, vi: found 'nan'"),
        ("yi,vi,study\n1,1,\n", "row 2, study: is empty"),
    ],
)
def test_bad_tables_are_explained(ask, tmp_path, text, says):
    path = tmp_path / "t.csv"
    path.write_text(text, encoding="utf-8")
    got = ask("pool", "--file", path, "--json")
    assert got.returncode == 3 and says in json.loads(got.stderr)["message"]


def test_repeated_studies_without_clusters_count_as_clusters(ask, tmp_path):
    path = tmp_path / "t.csv"
    path.write_text("yi,vi,study\n1,1,a\n2,1,a\n3,1,b\n", encoding="utf-8")
    assert "count as one cluster" in json.loads(ask("pool", "--file", path, "--json").stdout)["warnings"][0]


def one_study(**changes: str) -> str:
    study = next(s for s in starter_library().studies if s.id == "T06")
    text = to_csv([study]).replace("T06", "S06")
    for old, new in changes.items():
        text = text.replace(old, new)
    return text


def test_import_export_and_use(ask, tmp_path):
    path = tmp_path / "mine.csv"
    path.write_text(one_study(), encoding="utf-8")
    before = json.loads(ask("pool", "long_length", "--json").stdout)["n_study"]
    assert ask("study", "import", path).returncode == 0
    assert json.loads(ask("pool", "long_length", "--json").stdout)["n_study"] == before + 1
    for kind in ("csv", "json"):
        assert ask("study", "export", tmp_path / f"out.{kind}").returncode == 0
        assert ask("study", "check", tmp_path / f"out.{kind}").returncode == 0
    assert parse_csv((tmp_path / "out.csv").read_text(encoding="utf-8")).studies == actions.own_studies()
    assert ask("study", "import", path).returncode == 0
    assert len(actions.own_studies()) == 1, "the same id replaces itself"


def test_a_bad_file_stores_nothing(ask, tmp_path, own_folder):
    path = tmp_path / "mine.csv"
    path.write_text(one_study(**{"3.9": "0"}), encoding="utf-8")
    got = ask("study", "import", path, "--json")
    assert got.returncode == 3 and "percent_sd" in json.loads(got.stderr)["message"]
    assert not own_folder.exists()
    path.write_text(one_study(long_length="longer"), encoding="utf-8")
    assert "no claim is called 'longer'" in ask("study", "import", path).stderr
    assert not own_folder.exists()


def test_a_crash_while_writing_leaves_the_old_file(tmp_path, own_folder, monkeypatch):
    path = tmp_path / "mine.csv"
    path.write_text(one_study(), encoding="utf-8")
    actions.store_studies(actions.check_studies(path), str(path))
    old = actions.studies_file().read_bytes()

    def fail(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr("os.replace", fail)
    path.write_text(one_study(S06="S07"), encoding="utf-8")
    with pytest.raises(InputError, match="cannot be written: disk full"):
        actions.store_studies(actions.check_studies(path), str(path))
    assert actions.studies_file().read_bytes() == old
    assert [p.name for p in own_folder.iterdir()] == ["studies.json"]


ANSWERS = [
    "S01", "2024", "A journal 1:1", "", "curls", "parallel", "8", "3", "adults", "both", "n", "long; short", "biceps brachii",
    "", "MRI volume", "cm3", "read", "20", *[""] * 6, "10", "6", "20", *[""] * 6, "6", "5", "long_length", "long", "short", "n",
]  # fmt: skip


def test_a_study_is_added_step_by_step(ask):
    got = ask("study", "add", typed="\n".join(ANSWERS) + "\n")
    assert got.returncode == 0, got.stdout
    study = actions.own_studies()[0]
    assert (study.id, study.outcomes[0].percent_sd, study.contrasts[0].claims) == ("S01", 6.0, ("long_length",))


def test_an_impossible_answer_is_asked_for_again(ask):
    at = ANSWERS.index("2024")
    got = ask("study", "add", typed="\n".join([*ANSWERS[:at], "last year", "24", *ANSWERS[at:]]) + "\n")
    assert got.returncode == 0
    assert "found 'last year'" in got.stdout and "greater than or equal to 1900" in got.stdout


def test_a_study_with_a_fault_is_not_added(ask, own_folder):
    typed = [("100" if a == "10" else a) for a in ANSWERS]
    got = ask("study", "add", typed="\n".join(typed) + "\n")
    assert got.returncode == 3 and "100% in 8 weeks is beyond belief" in got.stderr
    assert not own_folder.exists()


def test_check_without_a_file_lists_what_is_hard_to_believe(ask):
    remarks = json.loads(ask("study", "check", "--json").stdout)["remarks"]
    assert any("T16" in r and "unusually fast" in r for r in remarks)


def test_a_study_of_one_s_own_is_taken_out_again(ask, own_folder, tmp_path):
    path = tmp_path / "mine.csv"
    path.write_text(to_csv([starter_library().studies[0].model_copy(update={"id": "MINE"})]), encoding="utf-8")
    assert ask("study", "import", path).returncode == 0
    assert json.loads(ask("study", "remove", "MINE", "--json").stdout) == {"removed": "MINE"}
    assert actions.own_studies() == ()
    assert ask("study", "remove", "MINE").returncode == 2


def test_a_table_out_of_bounds_is_told(ask, tmp_path):
    path = tmp_path / "large.csv"
    path.write_text("yi,vi,study\n1e12,1,a\n1,1e-12,b\n", encoding="utf-8")
    told = ask("pool", "--file", path)
    assert told.returncode == 3
    assert "row 2, yi: found '1e12'; allowed: a number within ±1e+09" in told.stderr
    assert "row 3, vi: found 1e-12; allowed: above 0, and at least 1e-09" in told.stderr


def test_moderators_that_leave_nothing_over_are_told(ask, tmp_path):
    path = tmp_path / "exact.csv"
    path.write_text("yi,vi,study,x\n0,1,a,0\n0,7,b,1\n0,0.5,c,0\n", encoding="utf-8")
    told = ask("pool", "--file", path, "--test", "hk", "--moderator", "x")
    assert told.returncode == 2
    assert "meet every study exactly" in told.stderr
    assert ask("pool", "--file", path, "--moderator", "x").returncode == 0


def test_the_command_lists_verdict_grade_and_reasons(ask):
    found = json.loads(ask("claims", "--next", "--json").stdout)["claims"]
    values = [c["next_trial"]["value"] for c in found]
    assert values == sorted(values, reverse=True)
    assert {c["verdict"] for c in found} <= {"supported", "against", "equivalent", "open"}
    assert all(c["grade"] in ("high", "moderate", "low", "very low") for c in found)
