"""List every head, its muscle lines and the muscles it belongs to."""

from lengthwise.body.named_heads import NamedHeads, named_heads
from lengthwise.questions.ask import Ask, Question, Tell


def run(ask: Ask, tell: Tell) -> NamedHeads:
    """Every head and every muscle."""
    return named_heads()


QUESTION = Question(ask=Ask, run=run, page="/posture/heads", answer="body.named_heads.NamedHeads", library=False)
