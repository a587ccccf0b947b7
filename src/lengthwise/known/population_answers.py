"""Populations: make one, ask for whom an order of lifts holds, and which lifts are best for how many."""

import contextlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.muscle_names import plain
from lengthwise.errors import InputError
from lengthwise.files.whole_files import write_whole
from lengthwise.grading.filters import candidates
from lengthwise.grading.growth_value import reference_of
from lengthwise.grading.study_names import code_hash
from lengthwise.grading.target import Target, target_named
from lengthwise.known import kept_population as kept
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.known.trial_answers import posterior_of
from lengthwise.mechanics.many import in_threads
from lengthwise.mechanics.profile import N_POS, Request
from lengthwise.populations import on_cluster, on_device
from lengthwise.populations.body_table import Wanted, body_file
from lengthwise.populations.order_held import GROWTH_FACTS, HeldOrder, drawn_value, held, needed_heads, order_asked
from lengthwise.populations.pairs import packed_pairs, table_of
from lengthwise.populations.proportion import Share, share_of
from lengthwise.populations.traits import TraitEffect, effect_sentence, effects, relevant

MOST_PEOPLE = 1_000_000
DEVICES = ("cpu", "gpu")
N_DRAW = 100
"""Draws of the law of growth."""
LIFTS_AT_ONCE = 40
"""So many lifts are read together."""


@dataclass(frozen=True, kw_only=True)
class Making:
    """A population to be made.

    Attributes:
        folder: where it is kept. people: how many bodies. seed: of who they are. lifts: ids or names; empty for the whole library.
        workers: processes on this machine, 0 for this one alone. cluster: address of a Dask scheduler, or empty.
        device: "cpu", or "gpu" for a graphics processor. n_pos: positions of each lift.
    """

    folder: Path
    people: int = 100
    seed: int = 1
    lifts: tuple[str, ...] = ()
    workers: int = 0
    cluster: str = ""
    device: str = "cpu"
    n_pos: int = N_POS


def make_population(asked: Making, progress: Progress = no_progress) -> dict[str, Any]:
    """Make the bodies that the folder lacks, one by one; stop at any time and go on with the same question.

    Raises:
        InputError: numbers out of bounds, another population in the folder, no such scheduler, or a package that is not installed.
        UnknownNameError: no such lift.
    """
    _check(asked)
    found = all_lifts()
    ids = sorted({found.find(name) for name in asked.lifts} or found.lifts)
    wanted = Wanted(asked.seed, tuple((i, found.lifts[i]) for i in ids), asked.n_pos)
    kept.begin(asked.folder, wanted, asked.people)
    kept.tidy(asked.folder)
    already = kept.done(asked.folder)
    missing = [n for n in range(asked.people) if n not in already]
    progress(asked.people - len(missing), asked.people)
    with _files(asked, wanted, missing) as files, kept.keeping(asked.folder) as keep:
        for count, (number, content) in enumerate(files, asked.people - len(missing) + 1):
            keep(number, content)
            progress(count, asked.people)
    return {"folder": str(asked.folder), "people": asked.people, "made": len(missing), "seed": asked.seed, "lifts": len(ids)}


def _check(asked: Making) -> None:
    for name, value, low, high in (
        ("people", asked.people, 1, MOST_PEOPLE), ("workers", asked.workers, 0, 1024), ("positions", asked.n_pos, 2, 201),
        ("seed", asked.seed, 0, 2**32 - 1),
    ):  # fmt: skip
        if not low <= value <= high:
            raise InputError(f"{name} = {value}; allowed {low} to {high}", asked=value, allowed=[low, high])
    if asked.workers and asked.cluster:
        raise InputError("--workers are on this machine and a cluster has its own; choose one of the two", asked=asked.cluster)
    if asked.device not in DEVICES:
        raise InputError(f"device = {asked.device}; allowed: {' or '.join(DEVICES)}", asked=asked.device, allowed=list(DEVICES))
    if asked.device == "gpu" and asked.cluster:
        raise InputError(
            "a graphics processor works for this machine, without --cluster; --workers can share it", asked=asked.device
        )
    if asked.device == "gpu":
        on_device.demand_device()


@contextlib.contextmanager
def _files(asked: Making, wanted: Wanted, missing: Sequence[int]) -> Iterator[Iterator[tuple[int, bytes]]]:
    """The file of each body as it is done: by threads here, by processes here, by a cluster, or by a graphics processor."""
    if not asked.workers and not asked.cluster:
        yield on_device.body_files(wanted, missing) if asked.device == "gpu" else ((n, body_file(wanted, n)) for n in missing)
        return
    if asked.device == "gpu":
        with on_device.desk() as desk, on_cluster.own_workers(asked.workers) as client:
            yield on_cluster.body_files(client, wanted, missing, partial(on_device.by_device, desk), on_device.AT_ONCE)
        return
    with on_cluster.scheduler_at(asked.cluster) if asked.cluster else on_cluster.own_workers(asked.workers) as client:
        yield on_cluster.body_files(client, wanted, missing)


# ---- questions ----


NOTE = "Modelled people, not measured ones."


@dataclass(frozen=True)
class ForWhom:
    """For whom an order holds: how many, and what it depends on."""

    PUBLIC: ClassVar = """
        head=held.order.target.name better=held.order.better worse=held.order.worse share=shared
        interval=held.share.interval known=held.known ratio people=held.share.of asked=held.people
        cannot=held.cannot against=effects note
    """
    held: HeldOrder
    effects: tuple[TraitEffect, ...]
    note: str = NOTE

    @property
    def shared(self) -> float | None:
        """Of those who can take both lifts; nothing where nobody can."""
        return self.held.share.value if self.held.share.of else None

    @property
    def ratio(self) -> list[float]:
        """Growth with the better over growth with the worse lift: of one person in twenty, the middle one, and all but one in twenty."""
        ratio = self.held.ratio
        return [float(v) for v in np.quantile(ratio, (0.05, 0.5, 0.95))] if len(ratio) else []


def ask_population(folder: Path, question: str) -> ForWhom:
    """For how many people of a population an order of two lifts holds, and for whom it does not.

    Raises:
        InputError: the question cannot be read, or a lift was not asked of this population. UnknownNameError: no such head, muscle or lift.
        DataFileError: the folder holds no population.
    """
    order = order_asked(question, all_lifts())
    values = _values(folder, order.lifts, order.target)
    one, other = (values.drawn[lift] for lift in order.lifts)
    both = np.intersect1d(one.bodies, other.bodies)
    table = kept.people(folder)
    found = held(
        order, one.of(both), other.of(both), both, {lift: values.people - len(values.drawn[lift].bodies) for lift in order.lifts}, values.people
    )  # fmt: skip
    return ForWhom(found, effects(found.ratio, _traits(table, both, needed_heads(order.target))))


def _traits(table: Any, bodies: NDArray[np.intp], heads: Sequence[str]) -> dict[str, Array]:
    row = {n: k for k, n in enumerate(table["body"].to_pylist())}
    pick = np.array([row[n] for n in bodies.tolist()], np.intp)
    return {n: table[n].to_numpy()[pick] for n in relevant([n for n in table.column_names if n != "body"], heads)}


@dataclass(frozen=True)
class _Drawn:
    """Growth of a target with one lift: on which bodies, and in every draw of the law, (n_draw, n_body)."""

    bodies: NDArray[np.intp]
    value: Array

    def of(self, bodies: NDArray[np.intp]) -> Array:
        """The same on some of the bodies."""
        return self.value[:, np.searchsorted(self.bodies, bodies)]


@dataclass(frozen=True)
class _Values:
    people: int
    drawn: Mapping[str, _Drawn]


def _values(folder: Path, lifts: Sequence[str], target: Target) -> _Values:
    """Growth of a target with some lifts on every body that can take them."""
    known = kept.lifts_of(folder)
    for lift in lifts:
        if lift not in known:
            raise InputError(
                f"the population in {folder} does not include {lift}; it has {len(known)} lifts, such as {', '.join(known[:5])}",
                asked=lift, allowed=list(known),
            )  # fmt: skip
    heads = needed_heads(target)
    table = kept.facts(folder, lifts, heads, GROWTH_FACTS)
    posterior = posterior_of()
    x = posterior.sample(N_DRAW)
    lift_at, head = _places_of(table["lift"], lifts), _places_of(table["head"], heads)
    columns = {n: table[n].to_numpy() for n in ("body", *GROWTH_FACTS)}
    drawn = {}
    for k, name in enumerate(lifts):
        rows = np.flatnonzero((lift_at == k) & (head >= 0))
        rows = rows[np.lexsort((head[rows], columns["body"][rows]))]
        own = {n: columns[n][rows].astype(np.float64).reshape(-1, len(heads)) for n in GROWTH_FACTS}
        bodies = columns["body"][rows].reshape(-1, len(heads))[:, 0].astype(np.intp)
        drawn[name] = _Drawn(bodies, drawn_value(own, heads, target, x))
    return _Values(len(kept.done(folder)), drawn)


def _places_of(column: Any, names: Sequence[str]) -> NDArray[np.intp]:
    """Where each word of a column stands among some names; -1 for others and for none."""
    words = column.combine_chunks()
    words = words.chunk(0) if hasattr(words, "chunk") else words
    place = {n: k for k, n in enumerate(names)}
    known = np.array([place.get(w, -1) for w in words.dictionary.to_pylist()] + [-1], np.intp)
    return np.asarray(known[words.indices.fill_null(len(known) - 1).to_numpy()])


def ask_sentences(found: ForWhom) -> list[str]:
    """For whom an order holds, in words: how many, how sure, who cannot, and what it depends on, the strongest first."""
    h = found.held
    names = {i: all_lifts().lifts[i].name for i in h.order.lifts}
    better, worse, target = names[h.order.better], names[h.order.worse], plain(h.order.target.name)
    if not h.share.of:
        return [f"None of these {h.people} people can do both {better} and {worse}."]
    low, middle, high = np.quantile(h.ratio, (0.05, 0.5, 0.95))
    out = [
        f"In {h.share.value:.0%} of {h.share.of} people ({h.share.low:.0%} to {h.share.high:.0%}) {better} grows the {target} more for a hard set "
        f"than {worse}: {middle:.2f} times as much in the middle one, {low:.2f} to {high:.2f} times in nine of ten.",
        f"With what trials leave uncertain about growth, it lies between {h.known[0]:.0%} and {h.known[1]:.0%}.",
    ]
    cannot = [f"{n} cannot do {names[i]}" for i, n in h.cannot.items() if n]
    out += [f"Not counted, out of {h.people}: {', '.join(cannot)} as set up here."] if cannot else []
    out += [effect_sentence(e) for e in found.effects]
    if not found.effects:
        out.append("Nothing about these people changes it by more than chance.")
    return out


# ---- tables ----


@dataclass(frozen=True, kw_only=True)
class PlaceInOrder:
    """How one lift does over a population, for one target.

    Attributes:
        lift: id. median: of growth over that of the reference on the same body. better: share of those who can take both that grow more with it.
        first, among_three: share of all in whom it grows most, and is among the first three. cannot: share who cannot take it.
    """

    PUBLIC: ClassVar = "lift median~ better_than_reference=better first top3=among_three cannot"
    lift: str
    median: float
    better: Share
    first: Share
    among_three: Share
    cannot: Share


@dataclass(frozen=True)
class Places:
    """The lifts for a target over a population, those that are most often first at the top."""

    PUBLIC: ClassVar = "muscle=target.name reference people lifts note"
    target: Target
    reference: str
    people: int
    lifts: tuple[PlaceInOrder, ...]
    note: str = NOTE


def table_population(folder: Path, muscle: str) -> Places:
    """How the lifts for a muscle or head do over a population.

    Raises:
        UnknownNameError: no such muscle or head. InputError: the population has no lift for it.
    """
    target, known = target_named(muscle), kept.lifts_of(folder)
    lifts = [c.lift_id for c in candidates(all_lifts(), target, ("full",), Request()) if c.lift_id in known]
    reference = reference_of(target)
    if not lifts:
        raise InputError(f"the population in {folder} includes no lift meant for {target.name}", asked=muscle)
    reference = reference if reference in known else lifts[0]
    values = _values(folder, list(dict.fromkeys([*lifts, reference])), target)
    return Places(target, reference, values.people, _places(values, lifts, reference))


def _places(values: _Values, lifts: Sequence[str], reference: str) -> tuple[PlaceInOrder, ...]:
    bodies = np.unique(np.concatenate([values.drawn[i].bodies for i in lifts]))
    grown = np.full((len(lifts), len(bodies)), -np.inf)
    for k, lift in enumerate(lifts):
        grown[k, np.searchsorted(bodies, values.drawn[lift].bodies)] = values.drawn[lift].value.mean(0)
    rank = np.argsort(np.argsort(-grown, axis=0, kind="stable"), axis=0, kind="stable")
    out = []
    for k, lift in enumerate(lifts):
        own, base = values.drawn[lift], values.drawn[reference]
        both = np.intersect1d(own.bodies, base.bodies)
        mine, theirs = own.of(both).mean(0), base.of(both).mean(0)
        took = np.isfinite(grown[k])
        out.append(PlaceInOrder(
            lift=lift, median=float(np.median(mine / np.maximum(theirs, 1e-6))) if len(both) else float("nan"), better=share_of(int((mine > theirs).sum()), len(both)),
            first=share_of(int((took & (rank[k] == 0)).sum()), values.people), among_three=share_of(int((took & (rank[k] < 3)).sum()), values.people),
            cannot=share_of(values.people - len(own.bodies), values.people),
        ))  # fmt: skip
    return tuple(sorted(out, key=lambda p: (-p.among_three.value, -p.first.value, p.lift)))


# ---- what comes with Lengthwise ----


def write_summary(folder: Path, file: Path, progress: Progress = no_progress) -> dict[str, Any]:
    """Write the table from which `rank` and `compare` tell for how many adults an order holds.

    Raises:
        DataFileError: the folder holds no population. InputError: no body is done yet, or the file cannot be written.
    """
    table, known, lifts, arrays = kept.people(folder), kept.lifts_of(folder), dict[str, tuple[str, ...]](), {}
    names, bodies = [n for n in table.column_names if n != "body"], table["body"].to_numpy().astype(np.intp)
    cube, x = _Cube(folder, bodies), posterior_of().sample(N_DRAW)
    for name in (*anatomy.muscles(), *anatomy.heads()):
        target = target_named(name)
        own = [c.lift_id for c in candidates(all_lifts(), target, ("full",), Request()) if c.lift_id in known]
        own += [r for r in (reference_of(target),) if r in known and r not in own]
        if len(own) > 1:
            lifts[name] = tuple(own)

    def pairs(name: str) -> dict[str, NDArray[Any]]:
        target = target_named(name)
        traits = {n: table[n].to_numpy().astype(np.float64) for n in relevant(names, needed_heads(target))}
        found = table_of(cube.growth(lifts[name], target, x), traits)
        place = np.array([names.index(n) for n in traits] + [-1])
        return {**found, "trait": place[found["trait"]].astype(np.int16)}

    targets = list(lifts)
    for count, (place, found) in enumerate(in_threads(pairs, targets), 1):
        arrays[targets[place]] = found
        progress(count, len(targets))
    about = {"people": table.num_rows, "seed": kept.seed_of(folder), "state": code_hash(), "version": _version()}
    write_whole(file, packed_pairs(about, names, lifts, arrays))
    return {"file": str(file), **about, "targets": len(lifts), "pairs": sum(len(v) * (len(v) - 1) // 2 for v in lifts.values())}


def _version() -> str:
    try:
        return version("lengthwise")
    except PackageNotFoundError:  # run from its sources
        return "not installed"


class _Cube:
    """The facts that growth is made of, of every lift, body and head at once; NaN where a lift cannot be taken."""

    def __init__(self, folder: Path, bodies: NDArray[np.intp]) -> None:
        self.lifts, self.heads = kept.lifts_of(folder), anatomy.heads()
        shape = (len(self.lifts), len(bodies), len(self.heads))
        self.facts = {n: np.full(shape, np.nan, np.float32) for n in GROWTH_FACTS}
        for first in range(0, len(self.lifts), LIFTS_AT_ONCE):
            some = self.lifts[first : first + LIFTS_AT_ONCE]
            table = kept.facts(folder, some, self.heads, GROWTH_FACTS)
            lift, head = _places_of(table["lift"], some), _places_of(table["head"], self.heads)
            taken = (lift >= 0) & (head >= 0)
            at = first + lift[taken], np.searchsorted(bodies, table["body"].to_numpy()[taken]), head[taken]
            for name, values in self.facts.items():
                values[at] = table[name].to_numpy()[taken]

    def growth(self, lifts: Sequence[str], target: Target, x: Array) -> Array:
        """Mean growth with each lift on each body, NaN where it cannot be taken, (n_lift, n_body)."""
        heads = needed_heads(target)
        pick = [self.heads.index(h) for h in heads]
        out = np.full((len(lifts), self.facts["drive"].shape[1]), np.nan)
        for k, lift in enumerate(lifts):
            own = {n: values[self.lifts.index(lift)][:, pick].astype(np.float64) for n, values in self.facts.items()}
            there = np.isfinite(own["drive"]).all(1)
            out[k, there] = drawn_value({n: v[there] for n, v in own.items()}, heads, target, x).mean(0)
        return out
