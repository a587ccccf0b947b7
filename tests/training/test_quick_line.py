"""The line for sets: what it means, and that every error points at its character and says what may stand there."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lengthwise.errors import InputError
from lengthwise.training.log import LoggedSet
from lengthwise.training.quick_line import QuickLineError, read_quick_line


def S(lift, kg, repetitions, reserve=None, part="full", pain=(), **more):
    """A set in few words."""
    return LoggedSet(lift=lift, load_kg=kg, repetitions=repetitions, reserve=reserve, range=part, pain=pain, **more)


@pytest.mark.parametrize(
    ("line", "sets"),
    [
        ("3x8 @ 60 r2", [S("x", 60, 8, 2)] * 3),
        ("3X8@60R2", [S("x", 60, 8, 2)] * 3),
        ("3 × 8 @ 62,5 kg r1,5", [S("x", 62.5, 8, 1.5)] * 3),
        ("8,8,7 @ 60", [S("x", 60, 8), S("x", 60, 8), S("x", 60, 7)]),
        ("8, 8 @ 60/62.5 r2/0", [S("x", 60, 8, 2), S("x", 62.5, 8, 0)]),
        ("12 @ bw", [S("x", 0, 12)]),
        ("2x5 @ bw+10", [S("x", 10, 5)] * 2),
        ("2x5 @ BW - 20", [S("x", -20, 5)] * 2),
        ("5 @ 60 pain low back, knees pain Back", [S("x", 60, 5, None, "full", ("trunk", "knee", "trunk"))]),
        ("5 @ 60 long pain knee, hip pain trunk", [S("x", 60, 5, None, "long", ("knee", "hip", "trunk"))]),
        (
            "5 @ 40 warm; 2x5 @ 60 r1 # steady; slow",
            [S("x", 40, 5, note="steady; slow", warm_up=True), *[S("x", 60, 5, 1, note="steady; slow")] * 2],
        ),
        ("5 @ 60 full", [S("x", 60, 5)]),
    ],
)
def test_a_line_means(line, sets):
    assert read_quick_line(line, "x") == tuple(sets)


def test_a_bare_load_is_in_the_clients_unit():
    """135 lb are 135 · 0.45359237 = 61.23497 kg."""
    assert read_quick_line("1x5 @ 135", "x", "lb")[0].load_kg == pytest.approx(61.23496995, abs=1e-9)
    assert read_quick_line("1x5 @ 135 lb", "x", "kg")[0].load_kg == pytest.approx(61.23496995, abs=1e-9)
    assert read_quick_line("1x5 @ 60 kg", "x", "lb")[0].load_kg == 60


@pytest.mark.parametrize(
    ("line", "at", "allowed"),
    [
        ("", 0, "sets x repetitions, such as 3x8"),
        ("squat 3x8", 0, "sets x repetitions"),
        ("3x", 2, "repetitions, 1 to 100"),
        ("3x8", 3, "@ and a load"),
        ("3x8 60", 4, "@ and a load"),
        ("3x8 @", 5, "a load such as 60"),
        ("3x8 @ -20", 6, "bw or bw\\+10"),
        ("3x8 @ 6o", 7, "r and a number"),
        ("3x8 @ 60 lng", 9, "long \\(did you mean that\\?\\)"),
        ("3x8 @ 60 kilo", 9, "a note follows #"),
        ("3x8 @ 60,62,5", 11, "60/62,5/65"),
        ("3x8 @ 60/50", 6, "3 loads for 3 sets, not 2"),
        ("3x8 @ 60 r2/1", 10, "3 reserves for 3 sets, not 2"),
        ("3x8 @ 60 r11", 10, "0 to 10 repetitions in reserve"),
        ("3x8 @ 60 pain kne", 14, "neck, shoulder, elbow"),
        ("3x8 @ 5000", 6, "-200 to 1000 kg"),
        ("31x8 @ 60", 0, "1 to 30 sets"),
        ("3x0 @ 60", 2, "1 to 100 repetitions"),
        ("3x8-10 @ 60", 2, "repetitions that were done, one number"),
        ("8,,8 @ 60", 2, "repetitions, 1 to 100"),
        ("3x8 @ 60;", 9, "sets x repetitions"),
    ],
)
def test_an_error_points_at_its_character(line, at, allowed):
    with pytest.raises(QuickLineError, match=allowed) as caught:
        read_quick_line(line, "x")
    assert caught.value.at == at
    shown = str(caught.value).splitlines()
    assert shown[-1] == "  " + " " * at + "^" and shown[-2] == "  " + line


reps = st.integers(1, 100)
loads = st.integers(-800, 4000).map(lambda quarter: quarter / 4)
reserves = st.one_of(st.none(), st.integers(0, 20).map(lambda half: half / 2))


@given(st.lists(st.tuples(reps, loads, reserves), min_size=1, max_size=8))
def test_what_is_written_is_read_back(done):
    """Law: a set written by the grammar, in either decimal mark, gives the same set."""
    parts = [
        f"{r} @ {f'{x:g}' if x >= 0 else f'bw-{-x:g}'}" + ("" if left is None else f" r{left:g}".replace(".", ","))
        for r, x, left in done
    ]
    assert read_quick_line("; ".join(parts), "x") == tuple(
        LoggedSet(lift="x", load_kg=x, repetitions=r, reserve=left) for r, x, left in done
    )


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused_with_a_place(text):
    """Law: no text breaks the reader, and a refusal names a place in the line or its end."""
    try:
        read_quick_line(text, "x")
    except QuickLineError as error:
        assert 0 <= error.at <= len(text)
    except InputError:
        pytest.fail("an error without a place")
