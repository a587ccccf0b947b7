"""Show how long each head is in a posture such as "shoulder_flexion=160 elbow_flexion=90", and its moment arms."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import PostureWords, Said

if TYPE_CHECKING:
    from lengthwise.body.in_posture import BodyInPosture


class PostureAsk(BodyAsk):
    """A posture of a body."""

    angles: Annotated[PostureWords, Said(argument=True, example="shoulder_flexion=160 elbow_flexion=90")]


def run(ask: PostureAsk, tell: Tell) -> "BodyInPosture":
    """Every head of the right side.

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    from lengthwise.body.in_posture import heads_in
    from lengthwise.body.model import body_of

    return heads_in(body_of(ask.person), ask.angles)


QUESTION = Question(ask=PostureAsk, run=run, page="/posture", answer="body.in_posture.BodyInPosture", address="", library=False)
