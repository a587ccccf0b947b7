"""The list of licences holds every distribution that is asked for, as its metadata says."""

import re
import tomllib
from importlib.metadata import metadata
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "docs" / "licences.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
LISTED = dict(re.findall(r"^\| ([a-z0-9-]+) \| (.+?) \| (?:the program|extra)", PAGE, re.MULTILINE))


def declared() -> set[str]:
    """Names of what the program and its extras ask for."""
    asked = [*PROJECT["dependencies"], *(one for extra in PROJECT["optional-dependencies"].values() for one in extra)]
    return {re.match(r"[A-Za-z0-9._-]+", one)[0].lower().replace("_", "-") for one in asked}


def test_every_declared_dependency_is_listed_and_no_other():
    assert len(declared()) > 30
    assert set(LISTED) == declared()


# What builds the docs, and what needs a graphics processor, is not installed for tests.
@pytest.mark.parametrize("name", sorted(set(LISTED) - {"mkdocs", "nbconvert", "latex2mathml", "cupy-cuda13x"}))
def test_a_licence_that_binds_whoever_passes_it_on_is_told(name):
    """The metadata of what is installed is the outside source."""
    about = metadata(name)
    said = " ".join([about.get("License-Expression") or "", *(about.get_all("Classifier") or [])])
    for word, family in (("LGPL", "LGPL"), ("Lesser General", "LGPL"), ("GNU General", "GPL"), ("MPL", "MPL")):
        if word in said:
            assert family in LISTED[name]
            assert re.search(rf"\*\*.*\b{name}\b.*{family}", PAGE)


def test_the_driver_of_a_server_is_left_to_an_extra():
    assert not [one for one in PROJECT["dependencies"] if one.startswith("psycopg")]
    assert [one for one in PROJECT["optional-dependencies"]["postgresql"] if one.startswith("psycopg")]
