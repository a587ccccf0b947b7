"""Check the growth estimate against published trials, each left out in turn, and compare it with the simplest rules."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.grading.trial_file import TrialFile
from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.grading.beside_trials import TrialsBeside


class TrialsAsk(BodyAsk):
    """Whose body, and your own comparisons instead of the library's."""

    own: Annotated[TrialFile | None, Said(words="comparisons of one's own", inside=True)] = None

    @property
    def rests_on(self) -> str:
        """Studies and claims of one's own."""
        from lengthwise.known.known_studies import kept_by

        return kept_by()


def run(ask: TrialsAsk, tell: Tell) -> "TrialsBeside":
    """Every published comparison, or those of a file, beside the estimate; misses included."""
    from lengthwise.known.trial_answers import beside_the_model

    return beside_the_model(ask.own, ask.person, tell)


QUESTION = Question(
    ask=TrialsAsk,
    run=run,
    page="/evidence/trials",
    answer="grading.beside_trials.TrialsBeside",
    waiting="Leaving out one trial at a time.",
    picture="report.trials_chart.picture_of",
    spread=True,
)
