"""Muscles and heads by the names that gyms use (common usage, no source)."""

import re

import pytest

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import called, groups, in_full, own_name, plain, search_words
from lengthwise.errors import UnknownNameError
from lengthwise.grading.sentences import spoken
from lengthwise.grading.target import target_named
from lengthwise.training.client import Wishes

LAST = ("upper", "middle", "lower", "long", "short", "clavicular", "sternal", "costal")
"""No name of a muscle ends so in an atlas, where the part stands first."""
SAID = {
    "lateral deltoid": "deltoid_middle",
    "Side delts": "deltoid_middle",
    "rear delt": "deltoid_posterior",
    "front delt": "deltoid_anterior",
    "upper chest": "pectoralis_major_clavicular",
    "lower chest": "pectoralis_major_costal",
    "lats": "latissimus",
    "traps": "trapezius",
    "upper traps": "trapezius_upper",
    "mid traps": "trapezius_middle",
    "hamstring": "hamstrings",
    "quad": "quadriceps",
    "calf": "calves",
    "abs": "abdominals",
    "glute max": "glutes",
    "long head of the triceps": "triceps_long",
    "short head of biceps": "biceps_short",
}


@pytest.mark.parametrize(("said", "meant"), SAID.items())
def test_a_gym_word_is_the_muscle_or_head_meant(said: str, meant: str) -> None:
    assert target_named(said).name == meant


@pytest.mark.parametrize("name", [*anatomy.muscles(), *anatomy.heads()])
def test_every_name_of_ours_means_itself(name: str) -> None:
    assert called(name).heads == anatomy.muscles().get(name, (name,))


@pytest.mark.parametrize("head", anatomy.heads())
def test_a_head_is_found_by_what_people_read_everywhere(head: str) -> None:
    """Upper gluteus maximus and long head of the triceps, as atlases write them, not gluteus maximus upper; named twice where words differ."""
    assert head in called(plain(head)).heads and head in called(in_full(head).rpartition("(")[2].strip(")")).heads
    assert plain(head).split()[-1] not in LAST
    assert plain(head) == spoken(head).removeprefix("the ")


def test_a_group_of_heads_is_all_of_them_by_every_spelling() -> None:
    medius = {f"gluteus_medius_{part}" for part in ("anterior", "middle", "posterior")}
    assert set(called("glute medius").heads) == medius == set(called("gluteus medius").heads)
    assert all(called(g.name) == g for g in groups())


@pytest.mark.parametrize(
    ("said", "muscles"),
    {
        "arms": "biceps triceps",
        "Upper arm": "biceps triceps",
        "back": "latissimus upper_back",
        "legs": "quadriceps hamstrings glutes",
    }.items(),
)
def test_a_part_of_the_body_is_its_muscles_and_says_what_was_taken(said: str, muscles: str) -> None:
    """Common practice, no source."""
    found = target_named(said)
    assert set(found.heads) == {h for m in muscles.split() for h in anatomy.muscles()[m]}
    assert all(word in found.taken for word in map(plain, muscles.split()))
    assert dict(Wishes(priority={said: 2}).priority) == dict.fromkeys(muscles.split(), 2.0)


def test_what_stands_apart_of_a_part_of_the_body_is_known_and_not_in_it() -> None:
    for region in anatomy.other_names().region.values():
        heads = {h for m in region.muscles for h in called(m).heads}
        for name in re.split(r", | or ", region.apart):
            assert not set(called(name).heads) <= heads, name


def test_suggestions_come_once_each_and_best_first() -> None:
    with pytest.raises(UnknownNameError, match="did you mean deltoid_middle") as caught:
        called("lateral deltiod")
    assert len(set(caught.value.allowed)) == len(caught.value.allowed)


def test_wishes_take_gym_words_and_keep_our_names() -> None:
    assert dict(Wishes(priority={"lats": 3, "rear delts": 2}).priority) == {"latissimus": 3, "deltoid_posterior": 2}
    assert own_name("gluteus medius") == "gluteus medius"
    with pytest.raises(ValueError, match="one muscle twice"):
        Wishes(priority={"lats": 3, "latissimus": 1})


def test_the_left_side_is_said_first() -> None:
    assert plain("vastus_lateralis_left") == "left vastus lateralis"
    assert plain("deltoid_anterior_left") == in_full("deltoid_anterior_left").partition(" (")[0] == "left front deltoid"


def test_a_lift_is_found_by_what_gyms_call_its_muscle() -> None:
    assert {"lats", "back"} <= set(search_words("latissimus_upper").split())
    assert {"quad", "quads", "quadriceps"} <= set(search_words("vastus_lateralis").split())
