"""Files of comparisons that are sent: how long they may be."""

from lengthwise.errors import DataFileError
from lengthwise.grading.trial_file import TrialFile, arms

MOST_COMPARISONS, MOST_ARMS = 200, 60
"""Of one file; the command takes longer ones."""


def check_size(name: str, found: TrialFile) -> None:
    """Whether a file of comparisons is one that can be waited for.

    Raises:
        DataFileError: it has too many comparisons or arms.
    """
    counts = {"comparisons": (len(found.comparison), MOST_COMPARISONS), "different arms": (len(arms(found)), MOST_ARMS)}
    faults = [
        f"{name}: holds {n} {what}; allowed {most}; for longer ones: lengthwise trials --file"
        for what, (n, most) in counts.items()
        if n > most
    ]
    if faults:
        raise DataFileError(faults, asked=name)
