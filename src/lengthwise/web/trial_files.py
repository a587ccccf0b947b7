"""Files of comparisons that are sent: how long they may be, and what is asked with one."""

from lengthwise.body.person import Person
from lengthwise.errors import DataFileError
from lengthwise.grading.trials import TrialFile, arms
from lengthwise.questions.trials import QUESTION, TrialsAsk

MOST_COMPARISONS, MOST_ARMS = 200, 60
"""Of one file; the command takes longer ones."""


def check_size(name: str, found: TrialFile) -> None:
    """Whether a file of comparisons is one that can be waited for.

    Raises:
        DataFileError: it has too many comparisons or arms.
    """
    counts = {"comparisons": (len(found.comparison), MOST_COMPARISONS), "different arms": (len(arms(found)), MOST_ARMS)}
    faults = [
        f"{name}: holds {n} {what}; allowed {most}; longer ones: lengthwise trials --file"
        for what, (n, most) in counts.items()
        if n > most
    ]
    if faults:
        raise DataFileError(faults, asked=name)


def asked_with(person: Person, found: TrialFile | None) -> TrialsAsk:
    """Trials on a body: the library's where there is no file."""
    return QUESTION.asked(person=person, own=found)
