"""What phones ask again and again takes few questions to the store, none of which looks through a whole history."""

import json
from collections.abc import Iterator
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from asking_plainly import Question, ask
from sqlalchemy import event

from kept_gym import copied, using
from lengthwise.records import accounts, picks, sign_ins, store
from lengthwise.web.app import create_app
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.kept_clients import PICK_COOKIE
from lengthwise.web.pages.log_page import _quoted

PASSWORD = "a long enough word"


class Phone:
    """A client's own, and what its questions ask the store."""

    def __init__(self) -> None:
        mara = next(c for c in store.stored_clients() if c.client.name.startswith("Mara"))
        accounts.add_account("Coach", PASSWORD)
        accounts.add_account("Mara", PASSWORD, "client", mara.number)
        self.number, self.app, self.statements = mara.number, create_app({"localhost"}), list[tuple[str, object]]()
        self.cookies = {SIGN_IN_COOKIE: sign_ins.sign_in("Mara", PASSWORD).token, PICK_COOKIE: picks.pick(mara.number)}
        event.listen(store.store().engine, "before_cursor_execute", self._note)

    def _note(self, db: object, cursor: object, statement: str, given: object, *_: object) -> None:
        self.statements.append((statement, given))

    def asks(self, path: str, body: object = None) -> list[tuple[str, object]]:
        """The statements of one request."""
        self.statements.clear()
        headers = (("sec-fetch-site", "same-origin"), ("content-type", "application/json"))
        sent = b"" if body is None else json.dumps(body).encode()
        found = ask(self.app, Question(path, "POST" if sent else "GET", cookies=self.cookies, headers=headers, body=sent))
        assert found.status < 300, found.body[:300]
        return list(self.statements)


@pytest.fixture(scope="module")
def phone(demo_gym: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Phone]:
    with using(copied(demo_gym, tmp_path_factory.mktemp("light") / "gym")):
        found = Phone()
        found.asks(f"/log/{found.number}")  # that its records are opened is noted once an hour
        yield found


def test_a_page_of_the_log_asks_the_store_five_things(phone: Phone):
    """Who asks with the own record, who is picked, the planned week, how its lifts went last, and what hurt."""
    assert len(phone.asks(f"/log/{phone.number}")) <= 5


def test_a_set_asks_the_store_seven_things(phone: Phone):
    """Who asks, the spelling, the key; then the entry, its line of the audit, the visit of the day and the set."""
    line = {"day": str(date.today()), "lift": "back squat", "line": "1x8 @ 60 r2"}
    phone.asks(f"/api/log/{phone.number}/line", {"key": "the-first-one", **line})
    assert len(phone.asks(f"/api/log/{phone.number}/line", {"key": "the-second-one", **line})) <= 7


def test_no_question_of_a_page_looks_through_a_whole_history(phone: Phone):
    plans = []
    with store.store().reading() as db:
        for statement, given in phone.asks(f"/log/{phone.number}"):
            plans += [(row.detail, statement) for row in db.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", given)]
    of_sets = [detail for detail, _ in plans if " sets " in detail]
    assert of_sets and all("day>?" in detail for detail in of_sets), of_sets
    assert not [detail for detail, _ in plans if detail.startswith("SCAN") and "anon" not in detail]


class Carried(HTMLParser):
    """Reads what an attribute holds, as a browser does (WHATWG HTML, attribute value in single quotes)."""

    found = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert [name for name, _ in attrs] == ["data-carried", "data-today"]
        self.found = attrs[0][1] or ""


def test_what_a_page_carries_comes_out_as_it_went_in():
    words = {"name": "it's \"mine\" & <b>yours</b> &quot; \u2028 \\' </div>", "n": [1, 2.5, None]}
    reader = Carried()
    reader.feed(f"<div data-carried='{_quoted(json.dumps(words))}' data-today=\"x\">")
    assert json.loads(reader.found) == words
