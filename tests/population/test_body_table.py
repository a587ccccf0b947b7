"""The table of one body: against the facts that ranking uses, and the same bytes whoever works."""

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from lengthwise.body import anatomy
from lengthwise.body.person import Person
from lengthwise.grading.facts import facts_of
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.populations import body_table
from lengthwise.populations.adults import Adult, draw
from lengthwise.populations.body_table import HEAD_FACTS, LIFT_FACTS, body_file, joined, parquet, schema, study_body
from lengthwise.populations.differing import body_of_adult


def test_it_holds_the_facts_that_ranking_uses_to_four_byte_precision(wanted):
    table = study_body(wanted, 3, 1).to_pandas()
    lift_id, lift = wanted.lifts[1]
    facts = facts_of(profile(body_of_adult(draw(1, 3)), lift_id, lift, Request(n_pos=3)))
    mine = table[table["lift"] == lift_id].set_index("head")
    assert list(mine.index) == list(anatomy.heads())
    for head in ("triceps_long", "deltoid_anterior"):
        assert mine.loc[head, list(HEAD_FACTS)].to_numpy(float) == pytest.approx(
            [getattr(facts.heads[head], n) for n in HEAD_FACTS], rel=1e-6, abs=1e-7
        )
    assert mine["working_kg"].iloc[0] == pytest.approx(facts.working_kg, rel=1e-6)


def test_a_body_has_the_same_bytes_on_one_thread_and_on_two(wanted):
    assert body_file(wanted, 2, 1) == body_file(wanted, 2, 2)


def test_its_file_has_the_columns_and_types_that_are_written_down(wanted, tmp_path):
    file = tmp_path / "body.parquet"
    file.write_bytes(body_file(wanted, 0))
    found = pq.read_schema(file)
    assert found.names == ["body", "lift", "head", "reason", *LIFT_FACTS, *HEAD_FACTS] == schema().names
    assert {found.field(n).type for n in (*LIFT_FACTS, *HEAD_FACTS)} == {pa.float32()}


def test_a_lift_that_cannot_be_taken_has_one_row_with_the_reason(wanted, monkeypatch):
    stiff = Person(joint_limits_deg={"shoulder_flexion": (-60.0, 90.0)})
    none = dict.fromkeys(anatomy.heads(), 1.0)
    monkeypatch.setattr(body_table, "draw", lambda seed, number: Adult(number, stiff, none, none, none))
    table = study_body(wanted, 0, 1).to_pandas().set_index("lift")
    refused = table.loc["overhead_rope_extension"]
    assert refused["head"] is None or refused["head"] != refused["head"]
    assert isinstance(refused["reason"], str) and np.isnan(refused["drive"])
    assert table.loc["cable_push_down", "reason"].isna().all()


def test_bodies_together_lie_by_lift_then_body_and_nothing_is_lost(wanted):
    tables = [study_body(wanted, n, 1) for n in (0, 1)]
    whole = joined(tables).to_pandas()
    order = list(dict.fromkeys(zip(whole["lift"], whole["body"], strict=True)))
    assert order == sorted(order) and len(whole) == sum(t.num_rows for t in tables)
    again = whole[whole["body"] == 1].drop(columns="body").reset_index(drop=True)
    assert again.equals(tables[1].to_pandas().drop(columns="body")[again.columns]) or np.array_equal(
        again[list(HEAD_FACTS)].to_numpy(), tables[1].to_pandas()[list(HEAD_FACTS)].to_numpy(), equal_nan=True
    )
    assert parquet(joined(tables)) == parquet(joined(tables))


def test_a_whole_body_takes_less_than_two_megabytes(wanted):
    """About 0.4 kB a lift: 362 of them stay under the 2 MB that a body may take."""
    size = len(body_file(wanted, 0)) / len(wanted.lifts)
    assert size * len(built_in().lifts) < 8e6
