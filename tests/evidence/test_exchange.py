"""The two layouts of studies, and bad rows of every kind: each gets a clear message."""

import json
from collections.abc import Callable

import pytest

from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.exchange import COLUMNS, parse_csv, parse_json, parse_rows, to_csv, to_json

Rows = list[dict[str, str]]

OWN = {
    "study": "S01", "year": "2024", "source": "A journal 1:1-9", "doi": "10.1000/demo", "title": "long against short",
    "design": "parallel", "weeks": "8",
}  # fmt: skip
PLACE = {"muscle": "biceps brachii", "site": "middle", "measure": "MRI volume", "unit": "cm3", "obtained": "invented"}
NUMBERS = {"n": "20", "pre_mean": "200", "pre_sd": "40", "post_mean": "220", "post_sd": "42", "percent_change": "10"}


def good() -> Rows:
    """A sound invented study: two arms, one contrast."""
    contrast = {"study": "S01", "arm": "long", "versus": "short", "claims": "long_length", "obtained": "invented"}
    return [
        {**OWN, "arm": "long", **PLACE, **NUMBERS},
        {"study": "S01", "arm": "short", **PLACE, **NUMBERS, "post_mean": "210", "percent_change": "5"},
        {**contrast, "muscle": "biceps brachii", "site": "middle"},
    ]


def spoil(row: int, **cells: str) -> Callable[[Rows], None]:
    def change(rows: Rows) -> None:
        rows[row].update(cells)

    return change


def repeat(row: int) -> Callable[[Rows], None]:
    return lambda rows: rows.append(dict(rows[row]))


BAD = {
    "empty study": (spoil(1, study=""), "row 3, study: is empty"),
    "unknown column": (spoil(0, colour="blue"), "unknown column 'colour'; allowed: study, year"),
    "not a number": (spoil(0, pre_sd="forty"), "row 2, study S01, pre_sd: found 'forty'"),
    "one person": (spoil(0, n="1"), "row 2, study S01, n: found 1; allowed: greater than or equal to 2"),
    "half a person": (spoil(1, n="19.5"), "row 3, study S01, n: found 19.5"),
    "SD of 0": (spoil(0, pre_sd="0"), "pre_sd: found 0.0; allowed: greater than 0"),
    "negative SD": (spoil(0, post_sd="-4"), "post_sd: found -4.0; allowed: greater than 0"),
    "percent against means": (spoil(0, percent_change="19"), "19% does not match the means, which give 10.0%"),
    "change against means": (spoil(0, change_mean="2"), "change_mean: 2 does not match 220 − 200 = 20"),
    "impossible SD of change": (spoil(0, change_sd="100"), "100 is impossible: SDs 40 and 42 allow 2…82"),
    "SE against SD": (spoil(0, change_sd="20", change_se="20"), "20 is not SD/√n = 4.47"),
    "interval without its mean": (
        spoil(0, change_mean="20", change_ci_low="25", change_ci_high="30"), "interval 25…30 does not contain 20",
    ),
    "reversed interval": (spoil(2, difference="3", ci_low="5", ci_high="1"), "interval 5…1 is reversed"),
    "half an interval": (spoil(2, difference="3", ci_low="1"), "an interval needs both its bounds"),
    "change beyond belief": (
        spoil(0, post_mean="400", percent_change="100"), "100% in 8 weeks is beyond belief; allowed: up to 10% a week",
    ),
    "unknown status": (spoil(0, obtained="heard"), "obtained: found 'heard'; allowed: 'read', 'memory'"),
    "unknown design": (spoil(0, design="crossover"), "design: found 'crossover'"),
    "same row twice": (repeat(1), "row 5, study S01, arm: the same arm, muscle, site and measure appear twice"),
    "same contrast twice": (repeat(2), "row 5, study S01, versus: the same contrast appears twice"),
    "unknown arm": (spoil(2, versus="middle"), "row 4, study S01, versus: no arm 'middle' in this study; allowed: long, short"),
    "arm against itself": (spoil(2, versus="long"), "arm 'long' is compared with itself"),
    "contrast without outcome": (spoil(2, site="distal"), "no outcome row of both arms for 'biceps brachii' at site 'distal'"),
    "p of 0": (spoil(2, p="0"), "p: found 0.0; allowed: greater than 0"),
    "p above 1": (spoil(2, p="1.2"), "p: found 1.2; allowed: less than 1"),
    "year": (spoil(0, year="24"), "year: found 24"),
    "weeks": (spoil(0, weeks="0"), "weeks: found 0.0; allowed: greater than 0"),
    "doi": (spoil(0, doi="doi:10.1/x"), "doi: found 'doi:10.1/x'; allowed: a bare DOI"),
    "study contradicts itself": (spoil(1, year="2023"), "row 3, study S01, year: 2023 differs from 2024"),
    "limbs of unequal number": (
        lambda rows: (rows[0].update(design="within_person"), rows[1].update(n="19")), "the same people need the same n",
    ),
    "outcome in a contrast": (spoil(2, n="20"), "what was measured in an arm stands in a row of its own with versus left empty"),
    "contrast in an outcome": (spoil(0, difference="3"), "only in a row that compares two arms, with versus filled in"),
    "signs": (spoil(2, difference="3", t="-2"), "t -2 and difference 3 have opposite signs"),
    "SE against interval": (spoil(2, difference="3", se="5", ci_low="2", ci_high="4"), "5 does not fit the interval"),
    "estimate without reason": (spoil(0, obtained="estimate"), "an estimate needs its reason in the note"),
    "more people than the study": (spoil(0, n_total="15"), "an arm has 20 people, the whole study 15"),
    "exception for no field": (spoil(0, obtained_except="sizes=memory"), "'sizes' is not a field of this row"),
    "id": (lambda rows: [row.update(study="S 01") for row in rows], "id: found 'S 01'; allowed: up to 40 letters"),
    "judgement": (spoil(0, bias="assignment=fine"), "found 'fine'"),
}  # fmt: skip


@pytest.mark.parametrize("kind", BAD)
def test_bad_rows_get_a_clear_message_and_yield_no_study(kind):
    change, says = BAD[kind]
    rows = good()
    change(rows)
    parsed = parse_rows(rows)
    assert not parsed.studies
    assert says in "\n".join(parsed.faults)


def test_a_good_study_has_no_fault():
    parsed = parse_rows(good())
    assert parsed.faults == ()
    study = parsed.studies[0]
    assert [a.name for a in study.arms] == ["long", "short"]
    assert study.outcomes[0].n == 20 and study.contrasts[0].claims == ("long_length",)


def test_every_fault_is_reported_at_once():
    rows = good()
    rows[0].update(pre_sd="0", n="1", design="crossover")
    assert len(parse_rows(rows).faults) == 3


def test_one_bad_study_does_not_hide_a_good_one_but_is_named():
    rows = good() + [{**r, "study": "S02"} for r in good()]
    rows[3].update({**OWN, "study": "S02", "n": "1"})
    parsed = parse_rows(rows)
    assert [s.id for s in parsed.studies] == ["S01"]
    assert "study S02" in parsed.faults[0]


def test_p_alone_needs_a_side():
    rows = good()
    for row in rows[:2]:
        for key in ("pre_mean", "post_mean", "pre_sd", "post_sd", "percent_change"):
            del row[key]
    rows[2]["p"] = "0.04"
    assert "does not say which arm gained more" in parse_rows(rows).faults[0]
    rows[2]["verdict"] = "more"
    assert parse_rows(rows).faults == ()


def test_the_starter_set_survives_both_layouts():
    studies = starter_library().studies
    assert parse_csv(to_csv(studies)).studies == studies
    assert parse_json(to_json(studies)).studies == studies


def test_csv_from_a_spreadsheet_with_a_byte_order_mark():
    text = "\ufeff" + to_csv(parse_rows(good()).studies)
    assert len(parse_csv(text).studies) == 1
    assert text.splitlines()[0].lstrip("\ufeff").split(",") == list(COLUMNS)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "not JSON"),
        ("[]", 'the file must be {"studies": [...]}'),
        (json.dumps({"studies": [{"id": "S1"}]}), "study S1"),
        (json.dumps({"studies": [{"id": "S1"}, {"id": "S1"}]}), "appears twice"),
        (json.dumps({"studies": ["x"]}), "study number 1"),
    ],
)
def test_damaged_json_is_explained(text, says):
    parsed = parse_json(text)
    assert not parsed.studies
    assert says in "\n".join(parsed.faults)


def test_json_refuses_what_csv_refuses():
    text = to_json(parse_rows(good()).studies).replace('"pre_sd": 40.0', '"pre_sd": 0')
    assert "study S01, outcome 1, pre_sd: found 0" in parse_json(text).faults[0]


def test_missing_columns_are_named():
    assert parse_csv("study,arm\nS01,long\n").faults == (
        "header: column 'muscle' is missing", "header: column 'obtained' is missing",
    )  # fmt: skip


def test_rest_and_tempo_stand_in_the_record():
    """J Strength Cond Res 2022 (doi 10.1519/JSC.0000000000003668) rested 3 and 1 min; T56 lowered in 1 and 3 s."""
    arms = {(s.id, a.name): a for s in starter_library().studies for a in s.arms}
    assert (arms["T54", "3 min rest"].rest_s, arms["T54", "1 min rest"].rest_s) == (180, 60)
    assert (arms["T56", "fast 1-0-1"].tempo, arms["T56", "slow 1-0-3"].tempo) == ("1-0-1", "1-0-3")
