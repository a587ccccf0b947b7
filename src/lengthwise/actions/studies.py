"""Studying many lifts at once: on all processors, with what was found before read from disk."""

import os
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from joblib import Parallel, cpu_count, delayed

from lengthwise.actions.lifts import DATA_FOLDER
from lengthwise.body.person import Person
from lengthwise.grading import store
from lengthwise.grading.study import Candidate, Refused, Studied, study
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import Request

Progress = Callable[[int, int], None]
"""Told how many lifts are done, and of how many."""
FEW = 3
"""So many lifts are studied in this process: starting others would take longer."""


def cache_folder() -> Path:
    """Where studies are kept: `cache` in the environment's LENGTHWISE_DATA, else ~/.cache/lengthwise. It may be deleted at any time."""
    own = os.environ.get(DATA_FOLDER)
    return Path(own) / "cache" if own else Path.home() / ".cache" / "lengthwise"


def no_progress(done: int, total: int) -> None:
    """Tells nobody."""


def study_all(
    person: Person, candidates: Sequence[Candidate], heads: Sequence[str], progress: Progress = no_progress
) -> list[Studied | Refused]:
    """Every candidate studied for some heads, in the order given; what is kept from before is not solved again."""
    files = [cache_folder() / "studies" / f"{store.name_of(person, c, heads)}.json" for c in candidates]
    found: list[Studied | Refused | None] = [_kept(f) for f in files]
    missing = [i for i, f in enumerate(found) if f is None]
    done = len(candidates) - len(missing)
    progress(done, len(candidates))
    for i, text in _solve(person, [(i, candidates[i]) for i in missing], heads):
        found[i] = store.read(text)
        _keep(files[i], text)
        done += 1
        progress(done, len(candidates))
    return [f for f in found if f is not None]


def _solve(person: Person, some: Sequence[tuple[int, Candidate]], heads: Sequence[str]) -> Any:
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


def _kept(file: Path) -> Studied | Refused | None:
    """What is kept in a file; nothing where there is none or it is damaged."""
    try:
        return store.read(file.read_text(encoding="utf-8"))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _keep(file: Path, text: str) -> None:
    """Write a whole file or none; a disk that cannot be written to only means that the next run solves again."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
        os.replace(name, file)
    except OSError:
        return
