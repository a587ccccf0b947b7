"""What lifts ask of one drawn body, as a table: a row a lift and head, facts as 4-byte numbers; and tables as Parquet.

The table holds nothing but seed, place and what follows from them, so the same question gives the same bytes on every machine with the same
libraries, whoever computes it and in what order.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from lengthwise.body import anatomy
from lengthwise.grading.facts import HeadFacts, head_tables
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.grading.studied_lift import too_light
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.many import each_outline
from lengthwise.mechanics.profile import N_POS, LiftProfile, Outline, Request
from lengthwise.populations.adults import draw
from lengthwise.populations.arrow import arrow
from lengthwise.populations.differing import body_of_adult

HEAD_FACTS = tuple(f.name for f in fields(HeadFacts))
LIFT_FACTS = ("working_kg", "sticking_kg", "moved_kg", "sticking", "balance_demand", "seconds_per_set", "load_step_fraction")
WORDS = ("lift", "head", "reason")
ROWS_AT_ONCE = 16_384
"""Rows of a Parquet row group: small enough to skip what a question does not ask, large enough to be few."""
_LEVEL = 3


@dataclass(frozen=True)
class Wanted:
    """What is asked of every body of a population.

    Attributes:
        seed: of the people. lifts: id and definition, by id. n_pos: positions of each.
    """

    seed: int
    lifts: tuple[tuple[str, Lift], ...]
    n_pos: int = N_POS


@dataclass(frozen=True)
class _Told:
    """What is kept of a lift on one body: why it cannot be taken, or its facts and those of each head (n_head, n_fact)."""

    reason: str | None
    lift: tuple[float, ...]
    heads: np.ndarray


def schema() -> Any:
    """Columns and types of the table; docs/scale.md says what each means."""
    pa = arrow()
    word = pa.dictionary(pa.int32(), pa.string())
    columns = [("body", pa.int32()), ("lift", word), ("head", word), ("reason", word)]
    return pa.schema(columns + [(name, pa.float32()) for name in (*LIFT_FACTS, *HEAD_FACTS)])


def study_body(wanted: Wanted, number: int, threads: int | None = None) -> Any:
    """The table of the body at a place of the population: its lifts by id, its heads in the order of the body.

    A lift that this person cannot take or hold has one row, without a head, with the reason.
    """
    body = body_of_adult(draw(wanted.seed, number))
    request = Request(n_pos=wanted.n_pos)
    return table_of(wanted, number, each_outline(body, [(i, lift, request) for i, lift in wanted.lifts], threads))


def table_of(wanted: Wanted, number: int, found: Sequence[LiftProfile | Outline | Exception]) -> Any:
    """The same from each lift that is solved, or why there is none."""
    told = iter(_told([p for p in found if not isinstance(p, Exception)]))
    return _table(wanted, number, [p if isinstance(p, Exception) else next(told) for p in found])


def _told(found: Sequence[LiftProfile | Outline]) -> list[_Told]:
    reasons = ["; ".join([*beyond_limits(p), *too_light(p)]) for p in found]
    of_heads = iter(head_tables([p for p, why in zip(found, reasons, strict=True) if not why], anatomy.heads()).astype(np.float32))
    return [
        _Told(why, _of_lift(p), _nothing()) if why else _Told(None, _of_lift(p), next(of_heads))
        for p, why in zip(found, reasons, strict=True)
    ]


def _of_lift(found: LiftProfile | Outline) -> tuple[float, ...]:
    return (
        found.working_kg, found.sticking_kg, found.moved_kg, found.sticking_at, found.balance_demand,
        found.seconds_per_set, found.load_step_fraction,
    )  # fmt: skip


def _nothing() -> np.ndarray:
    return np.full((1, len(HEAD_FACTS)), np.nan, np.float32)


def _table(wanted: Wanted, number: int, found: Sequence[_Told | Exception]) -> Any:
    pa, lifts = arrow(), [i for i, _ in wanted.lifts]
    told = [t if isinstance(t, _Told) else _Told(str(t), (np.nan,) * len(LIFT_FACTS), _nothing()) for t in found]
    count, heads = [len(t.heads) for t in told], anatomy.heads()
    facts = np.concatenate([t.heads for t in told]) if told else _nothing()[:0]
    of_lift = np.repeat(np.array([t.lift for t in told], np.float32).reshape(-1, len(LIFT_FACTS)), count, axis=0)
    reasons = list(dict.fromkeys(t.reason for t in told if t.reason is not None))
    which = np.concatenate([np.arange(len(heads)) if t.reason is None else [-1] for t in told]) if told else np.empty(0)
    why = np.repeat([-1 if t.reason is None else reasons.index(t.reason) for t in told], count)
    columns = [pa.array(np.full(sum(count), number, np.int32)), _words(np.repeat(np.arange(len(lifts)), count), lifts)]
    columns += [_words(which, list(heads) if (which >= 0).any() else []), _words(why, reasons)]
    columns += [pa.array(np.ascontiguousarray(c)) for c in (*of_lift.T, *facts.T)]
    return pa.table(columns, names=schema().names).cast(schema())


def _words(which: np.ndarray, words: Sequence[str]) -> Any:
    """A column of words by dictionary: of each row which of them, -1 for none."""
    pa = arrow()
    return pa.DictionaryArray.from_arrays(pa.array(which.astype(np.int32), mask=which < 0), pa.array(words, pa.string()))


def joined(tables: Sequence[Any]) -> Any:
    """The tables of several bodies as one, by lift and then by body, so that a question reads only the part with its lifts."""
    pa = arrow()
    whole = pa.concat_tables(tables).unify_dictionaries()
    keys = pa.table({"lift": whole["lift"].cast(pa.string()), "body": whole["body"]})
    order = pa.compute.sort_indices(keys, sort_keys=[("lift", "ascending"), ("body", "ascending")])
    return whole.take(order)  # a stable order keeps the heads of a body and lift as they were


def parquet(table: Any) -> bytes:
    """A table as the content of a Parquet file."""
    out = io.BytesIO()
    arrow().parquet.write_table(
        table, out, compression="zstd", compression_level=_LEVEL, row_group_size=ROWS_AT_ONCE,
        use_dictionary=["body", *WORDS, *LIFT_FACTS, "strength_n", "volume_nm"],
    )  # fmt: skip
    return out.getvalue()


def body_file(wanted: Wanted, number: int, threads: int | None = None) -> bytes:
    """The file of one body: what one task of a population makes."""
    return parquet(study_body(wanted, number, threads))
