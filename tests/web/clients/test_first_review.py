"""The first review of a week in a large store: it does not wait for what all clients' logs say together."""

from datetime import date
from pathlib import Path

import pytest

from kept_gym import copied, using
from lengthwise.questions.answering import responses
from lengthwise.questions.answering import reviewing as reviewing
from lengthwise.questions.answering.reviewing import logged_by, review_client
from lengthwise.records import store
from lengthwise.web import reviews
from lengthwise.web.background import finished

TODAY = date.today()


@pytest.fixture(scope="module")
def gym(demo_gym: Path, tmp_path_factory: pytest.TempPathFactory):
    """The demo gym, taken for one that is too large to learn from at once."""
    with using(copied(demo_gym, tmp_path_factory.mktemp("large"))), pytest.MonkeyPatch.context() as patch:
        patch.setattr(responses, "FEW_SESSIONS", 0)
        yield next(c for c in store.stored_clients() if c.client.name.startswith("Henrik"))


def test_the_first_review_says_what_is_worked_out_and_a_later_one_tells_it(gym):
    first = review_client(gym.client.name, TODAY, learned=reviews.learned)
    assert reviews.NOT_YET.sentence in first.notes
    (job,) = reviews.learning._jobs.values()
    assert finished(job, 120) and job.total == len(store.stored_clients())
    later = review_client(gym.client.name, TODAY, learned=reviews.learned)
    assert later.response == responses.learned(TODAY)[gym.number] != reviews.NOT_YET
    assert later.lifts == first.lifts


def test_a_review_is_asked_anew_once_it_was_worked_out(gym, monkeypatch: pytest.MonkeyPatch):
    known = logged_by(gym.number, TODAY)
    monkeypatch.setattr(reviewing, "learned_before", lambda as_of: None)
    assert logged_by(gym.number, TODAY) != known
