"""Studying many lifts at once: on all processors, with what was found before read from disk."""

from collections.abc import Callable, Sequence

from lengthwise.body.person import Person
from lengthwise.files.cache_files import keep, kept_content
from lengthwise.files.folders import cache_folder
from lengthwise.grading import study_names
from lengthwise.grading.columns import all_of, packed, unpacked
from lengthwise.grading.studied_lift import Candidate, Refused, Studied, study
from lengthwise.mechanics.many import in_threads

Progress = Callable[[int, int], None]
"""Told how many lifts are done, and of how many."""


def no_progress(done: int, total: int) -> None:
    """Tells nobody."""


def study_all(
    person: Person, candidates: Sequence[Candidate], heads: Sequence[str], progress: Progress = no_progress
) -> list[Studied | Refused]:
    """Every candidate studied for some heads, in the order given; what is kept from before is not solved again."""
    file = cache_folder() / "studies" / f"{study_names.file_of(person, heads)}.npz"
    names = [study_names.name_of(c) for c in candidates]
    found = kept_content(file, lambda content: unpacked(content, names)) or {}
    missing = [i for i, name in enumerate(names) if name not in found]
    done = len(candidates) - len(missing)
    progress(done, len(candidates))
    try:
        for at, one in in_threads(lambda i: study(person, candidates[i], heads), missing):
            found[names[missing[at]]] = one
            done += 1
            progress(done, len(candidates))
    finally:  # what was solved is kept also where somebody stops the rest
        if missing:
            keep(file, packed({**(kept_content(file, all_of) or {}), **found}))
    return [found[name] for name in names]
