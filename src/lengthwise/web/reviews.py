"""Reviews and answers to their proposals as something to be run beside a page, once for the same question."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from lengthwise.days import monday_of
from lengthwise.errors import InputError, unknown
from lengthwise.known.lifts import all_lifts
from lengthwise.questions.answering import responses
from lengthwise.questions.answering.reviewing import Answers, Decision, decide, logged_by, review_client
from lengthwise.questions.review import ReviewAsk
from lengthwise.records import accounts
from lengthwise.report.picture import Picture
from lengthwise.report.trend_figures import NARROW_IN, WIDE_IN, pictures
from lengthwise.storage.account_rows import Account
from lengthwise.training.client import StoredClient
from lengthwise.training.response import PersonalResponse
from lengthwise.training.review import Review
from lengthwise.web.background import Job, Jobs, Told
from lengthwise.web.kept_answers import Kept, drawing

Say = Literal["accept", "refuse"]
answering: Jobs[Decision] = Jobs(to_the_end=True, may_stop=False)
learning: Jobs[Mapping[int, PersonalResponse]] = Jobs(to_the_end=True, may_stop=False)
reading: "Jobs[Read | str]" = Jobs()
"""Where logs are read for a page: in a queue of its own, since that is quick and waits for no lifts to be computed."""
drawn, figures, files = Kept(8), Kept(6), Kept(64)
NOT_YET = PersonalResponse(
    None, {}, "How this client responds to sets is being worked out from all clients' logs; it will appear here when done."
)


def forget_reviews() -> None:
    """Forget what was read and drawn, since what it rests on has changed."""
    reading.forget()
    for kept in (drawn, figures, files):
        kept.forget()


def learned(as_of: date, client: int) -> PersonalResponse | None:
    """What all clients' logs say about one by a day; of a large store that is worked out beside the pages, and until then told so."""
    if responses.learned_before(as_of) is not None or responses.is_soon_learned(as_of):
        return responses.response_of(as_of, client)
    if not learning.is_busy():  # one week after another, so that nobody fills the queue with weeks long past
        learning.ask(f"learned {monday_of(as_of)}", lambda tell: responses.learn_now(as_of, tell))
    return NOT_YET


def _key(found: StoredClient, day: date) -> str:
    """What a review of a day rests on: the record, the log, and the answers."""
    return f"review {found.mark} {logged_by(found.number, day)}"


def reviewed(asked: ReviewAsk, tell: Told) -> Review:
    """The review that is asked for, with what is learned of all clients worked out beside it.

    Raises:
        InputError: nothing was logged by then.
    """
    return review_client(asked.client.client.name, asked.day, True, tell, learned)


@dataclass(frozen=True)
class Read:
    """What a log says, without graded swaps, and the names of its figures with the sentence for each."""

    review: Review
    figures: tuple[tuple[str, str], ...]


def first_review_job(found: StoredClient, today: date) -> tuple[str, Callable[[Told], Read | str]]:
    """What the log says by a day; or why there is no review."""

    def work(tell: Told) -> Read | str:
        try:
            figures = tuple((p.name, p.sentence) for p in review_figures(found, today).values())
            return Read(drawn_review(found, today), figures)
        except InputError as error:
            return str(error)

    return _key(found, today), work


def drawn_review(found: StoredClient, day: date) -> Review:
    """The review that is read and drawn first, as things stand now: quick, since it needs no graded swaps; kept while nothing changes.

    Raises:
        InputError: nothing was logged by then.
    """
    review: Review = drawn.get(_key(found, day), lambda: review_client(found.client.name, day, learned=learned))
    return review


def review_figures(found: StoredClient, day: date, wide_in: float = WIDE_IN) -> Mapping[str, Picture]:
    """The figures of a review by name, so wide [inches], kept while nothing changes.

    Raises:
        InputError: nothing was logged by then.
    """

    def make() -> Mapping[str, Picture]:
        names = {i: lift.name for i, lift in all_lifts().lifts.items()}
        units = found.client.mass_unit, found.client.length_unit
        return {p.name: p for p in pictures(drawn_review(found, day), names, wide_in, *units)}

    made: Mapping[str, Picture] = figures.get((_key(found, day), wide_in), make)
    return made


def figure_file(found: StoredClient, day: date, name: str, narrow: bool = False) -> bytes:
    """One figure of a review (PNG), drawn once while nothing changes; narrow for a phone, and twice as fine as there.

    Raises:
        InputError: nothing was logged by then. UnknownNameError: the review has no such figure.
    """

    def make() -> bytes:
        known = review_figures(found, day, NARROW_IN if narrow else WIDE_IN)
        if name not in known:
            raise unknown("figure", name, list(known))
        with drawing:
            return known[name].png(192 if narrow else 110)

    file: bytes = files.get((_key(found, day), name, narrow), make)
    return file


def answer_job(found: StoredClient, account: Account | None, key: str, say: Say) -> Job[Decision]:
    """Answering one proposal; it is done once a day, however often it is asked for."""
    answers = Answers([key] * (say == "accept"), [key] * (say == "refuse"), account.name if account else "")

    def work(tell: Told) -> Decision:
        decision = decide(found.client.name, answers, progress=tell, learned=learned)
        accounts.note(f"proposal {'accepted' if say == 'accept' else 'refused'}", account, found.number)
        return decision

    return answering.ask(f"answer {found.number} {date.today()} {say} {key}", work)
