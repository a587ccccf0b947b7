"""Studying many lifts at once: on all processors, with what was found before read from disk."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from lengthwise.actions.cache_files import cache_folder, keep, kept_content
from lengthwise.body.person import Person
from lengthwise.grading import store
from lengthwise.grading.columns import all_of, packed, unpacked
from lengthwise.grading.study import Candidate, Refused, Studied, study
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import Request

Progress = Callable[[int, int], None]
"""Told how many lifts are done, and of how many."""
FEW = 3
"""So many lifts are studied in this process: starting others would take longer."""


def no_progress(done: int, total: int) -> None:
    """Tells nobody."""


def study_all(
    person: Person, candidates: Sequence[Candidate], heads: Sequence[str], progress: Progress = no_progress
) -> list[Studied | Refused]:
    """Every candidate studied for some heads, in the order given; what is kept from before is not solved again."""
    file = cache_folder() / "studies" / f"{store.file_of(person, heads)}.npz"
    names = [store.name_of(c) for c in candidates]
    found = kept_content(file, lambda content: unpacked(content, names)) or {}
    missing = [i for i, name in enumerate(names) if name not in found]
    done = len(candidates) - len(missing)
    progress(done, len(candidates))
    try:
        for i, one in _solve(person, [(i, candidates[i]) for i in missing], heads):
            found[names[i]] = one
            done += 1
            progress(done, len(candidates))
    finally:  # what was solved is kept also where somebody stops the rest
        if missing:
            keep(file, packed({**(kept_content(file, all_of) or {}), **found}))
    return [found[name] for name in names]


def _solve(person: Person, some: Sequence[tuple[int, Candidate]], heads: Sequence[str]) -> Iterable[tuple[int, Studied | Refused]]:
    from joblib import Parallel, cpu_count, delayed  # only here: slow to load

    table = store.person_table(person)
    tasks = [(i, table, c.lift_id, c.lift, _request_table(c.request), tuple(heads)) for i, c in some]
    jobs = 1 if len(tasks) <= FEW else min(cpu_count(), len(tasks))
    found: Iterable[tuple[int, Studied | Refused]] = Parallel(n_jobs=jobs, return_as="generator_unordered")(
        delayed(_study)(*t) for t in tasks
    )
    return found


def _request_table(request: Request) -> dict[str, Any]:
    return {**vars(request), "setup": dict(request.setup)}


def _study(
    place: int, person: dict[str, Any], lift_id: str, lift: Lift, request: dict[str, Any], heads: tuple[str, ...]
) -> tuple[int, Studied | Refused]:
    """One study in whichever process it runs; plain values in, since read-only tables cannot be sent."""
    return place, study(Person.model_validate(person), Candidate(lift_id, lift, Request(**request)), heads)
