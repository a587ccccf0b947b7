"""Show the questions to ask before training starts, and the words that answer them in a record file."""

from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.training.screening import ScreeningQuestions, screening_questions


def run(ask: Ask, tell: Tell) -> ScreeningQuestions:
    """The questions by key, and what each word that may answer three of them means."""
    return screening_questions()


QUESTION = Question(
    ask=Ask,
    run=run,
    page="/people/questions",
    answer="training.screening.ScreeningQuestions",
    address="/screening-questions",
    library=False,
)
