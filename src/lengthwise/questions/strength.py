"""Show the largest isometric joint moment that raises ANGLE in a posture, and which heads make it."""

from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import PostureWords, Said

if TYPE_CHECKING:
    from lengthwise.mechanics.strength import JointMoment


class StrengthAsk(BodyAsk):
    """A joint moment of a body in a posture."""

    angle: Annotated[
        str,
        Field(max_length=40),
        Said(words="the clinical angle that the moment turns, such as elbow_flexion", argument=True, example="elbow_flexion"),
    ]
    at: Annotated[PostureWords, Said(example="hip_flexion=80 knee_flexion=60")] = ""
    lower: Annotated[bool, Said(words="show the moment that lowers the angle instead")] = False


def run(ask: StrengthAsk, tell: Tell) -> "JointMoment":
    """Of one side for paired joints.

    Raises:
        UnknownNameError: no such angle. InputError: a posture that cannot be read or reached.
    """
    from lengthwise.body.model import body_of
    from lengthwise.body.posture import parse_posture
    from lengthwise.mechanics.strength import joint_strength

    return joint_strength(body_of(ask.person), ask.angle.removesuffix("_right"), parse_posture(ask.at), raises=not ask.lower)


QUESTION = Question(
    ask=StrengthAsk, run=run, page="/posture", answer="mechanics.strength.JointMoment", address="/strength", library=False
)
