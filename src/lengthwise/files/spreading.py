"""Many tasks at once: in other processes when there are enough of them."""

from collections.abc import Sequence
from typing import Any

FEW = 3
"""So many tasks are done in this process: starting others would take longer."""


def spread_out(tasks: Sequence[Any]) -> Any:
    """The results of tasks (function, arguments, named arguments) one after another as they come, on all processors when there are many."""
    from joblib import Parallel, cpu_count  # only here: slow to load

    jobs = 1 if len(tasks) <= FEW else min(cpu_count(), len(tasks))
    return Parallel(n_jobs=jobs, return_as="generator")(tasks)
