"""Studying many lifts at once: on all processors, with what was found before read from disk."""

from collections.abc import Callable, Sequence
from typing import Any

from lengthwise.actions.cache_files import cache_folder, keep, kept
from lengthwise.body.person import Person
from lengthwise.grading import store
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
    files = [cache_folder() / "studies" / f"{store.name_of(person, c, heads)}.json" for c in candidates]
    found: list[Studied | Refused | None] = [kept(f, store.read) for f in files]
    missing = [i for i, f in enumerate(found) if f is None]
    done = len(candidates) - len(missing)
    progress(done, len(candidates))
    for i, text in _solve(person, [(i, candidates[i]) for i in missing], heads):
        found[i] = store.read(text)
        keep(files[i], text)
        done += 1
        progress(done, len(candidates))
    return [f for f in found if f is not None]


def _solve(person: Person, some: Sequence[tuple[int, Candidate]], heads: Sequence[str]) -> Any:
    from joblib import Parallel, cpu_count, delayed  # only here: slow to load

    table = store.person_table(person)
    tasks = [(i, table, c.lift_id, c.lift, _request_table(c.request), tuple(heads)) for i, c in some]
    jobs = 1 if len(tasks) <= FEW else min(cpu_count(), len(tasks))
    return Parallel(n_jobs=jobs, return_as="generator_unordered")(delayed(_study)(*t) for t in tasks)


def _request_table(request: Request) -> dict[str, Any]:
    return {**vars(request), "setup": dict(request.setup)}


def _study(
    place: int, person: dict[str, Any], lift_id: str, lift: Lift, request: dict[str, Any], heads: tuple[str, ...]
) -> tuple[int, str]:
    """One study in whichever process it runs; plain values in and out, since read-only tables cannot be sent."""
    found = study(Person.model_validate(person), Candidate(lift_id, lift, Request(**request)), heads)
    return place, store.text_of(found)
