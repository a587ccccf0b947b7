"""The questions before training starts, to be read out."""

from lengthwise.cli.shared import out
from lengthwise.training.screening import ScreeningQuestions


def show(found: ScreeningQuestions) -> None:
    """Each question, and below it the words that answer it."""
    for key, question in found.question.items():
        lines = [f"{key}: {question}", *(f"    {word}: {meaning}" for word, meaning in getattr(found, key, {}).items())]
        out.print("\n".join(lines), markup=False, soft_wrap=True)
