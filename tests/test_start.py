"""What a command loads: its own part and no other, so that an answer starts at once. Counted in modules, never in seconds."""

import json
import subprocess
import sys

import pytest
from typer.testing import CliRunner

from lengthwise.cli import app
from lengthwise.cli.commands import COMMANDS, load
from lengthwise.core import door
from lengthwise.errors import UnknownNameError
from lengthwise.known.library import left_out

HEAVY = (
    "alembic",
    "fastapi",
    "highspy",
    "icalendar",
    "joblib",
    "matplotlib",
    "mujoco",
    "psycopg",
    "scipy",
    "sqlalchemy",
    "typst",
    "uvicorn",
)
LOADED = """
import sys
try:
    {what}
except SystemExit as end:
    assert end.code in {codes}, end.code
sys.stderr.write("\\n".join(sys.modules))
"""


def loaded(what: str, *words: str, codes: tuple[int | None, ...] = (0, None)) -> set[str]:
    """The modules that are loaded after a fresh interpreter did this, with these words on its line."""
    program = LOADED.format(what=what, codes=codes)
    done = subprocess.run([sys.executable, "-c", program, *words], capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    return set(done.stderr.splitlines())


@pytest.mark.parametrize(
    ("what", "words"),
    [
        ("from lengthwise.cli import main; main()", ("heads",)),
        ("from lengthwise.cli import main; main()", ("heads", "--json")),
        ("from lengthwise.cli import main; main()", ("--help",)),
        ("from lengthwise.cli import main; main()", ("--version",)),
        ("import lengthwise", ()),
    ],
    ids=lambda v: " ".join(v) if isinstance(v, tuple) else "",
)
def test_nothing_heavy_is_loaded_for_an_answer_that_does_not_use_it(what, words):
    found = loaded(what, *words)
    assert not found.intersection((*HEAVY, "numpy"))
    assert not {m for m in found if m.startswith("lengthwise.lifts")}, "the library of lifts is not asked for"


def test_a_lift_is_solved_without_windows_and_without_what_only_the_core_s_understudy_needs():
    found = loaded("from lengthwise.cli import main; main()", "profile", "standing_calf_raise", "--json")
    assert "mujoco" in found
    assert not found.intersection(("glfw", "highspy") if door.available() else ("glfw",))


COMPUTING = {f"lengthwise.{part}" for part in ("mechanics", "growth", "evidence", "planning", "storage", "report")}


@pytest.mark.parametrize("words", [("rank", "nonsense"), ("profile", "nonsense")], ids=" ".join)
def test_a_wrong_word_is_refused_before_what_computes_and_draws_is_loaded(words):
    found = loaded("from lengthwise.cli import main; main()", *words, codes=(2,))
    assert not found.intersection(HEAVY)
    assert not found.intersection(COMPUTING)


@pytest.mark.parametrize("name", [n for n, place in COMMANDS.items() if place.first])
def test_a_first_word_that_names_nothing_is_refused(name):
    kind = COMMANDS[name].first
    with pytest.raises(UnknownNameError, match=kind):
        CliRunner().invoke(app, [name, "nonsense", "more"], catch_exceptions=False)
    assert CliRunner().invoke(app, [name, "nonsense", "--help"]).exit_code == 0
    first = arguments_of(name)[0]
    assert first.startswith(kind), "what the list of commands says its first word is"


def arguments_of(name: str) -> list[str]:
    return [p.name for p in load(name).params if p.param_type_name == "argument"]


@pytest.mark.parametrize("name", COMMANDS)
def test_the_list_of_commands_says_what_each_command_says_itself(name):
    assert load(name).help.split("\n")[0] == COMMANDS[name].says


def test_the_version_is_the_one_that_is_installed():
    from importlib.metadata import version

    assert CliRunner().invoke(app, ["--version"]).output == f"lengthwise {version('lengthwise')}\n"


def test_a_command_that_does_not_exist_is_refused_with_the_nearest():
    done = CliRunner().invoke(app, ["raank"])
    assert done.exit_code == 2 and "Did you mean 'rank'?" in done.output


def test_an_error_of_a_process_of_its_own_is_one_object_and_an_exit_code():
    asked = [sys.executable, "-m", "lengthwise.cli", "profile", "back sqat", "--json"]
    done = subprocess.run(asked, capture_output=True, text=True, timeout=300)
    assert done.returncode == 2 and done.stdout == ""
    assert json.loads(done.stderr)["error"] == "unknown_name"


def test_the_library_is_not_parsed_to_learn_that_nobody_wrote_a_lift(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.setattr("lengthwise.known.library.library_of", lambda texts: pytest.fail("the library was parsed"))
    assert left_out() == ()


@pytest.mark.parametrize("name", COMMANDS)
def test_help_names_a_kind_of_value_in_a_word(name):
    inner = getattr(load(name), "commands", {})
    for words in ([name], *([name, part] for part in inner)):
        told = CliRunner().invoke(app, [*words, "--help"])
        assert told.exit_code == 0 and "typing." not in told.output and "Annotated" not in told.output, words
