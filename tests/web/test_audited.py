"""The audit tells of every change: who made it, from where, and what; asked of every address that takes something."""

import hashlib
import sqlite3
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from asking_plainly import Question, ask
from here import HERE
from sent_bodies import LAST, sent_to
from test_every_route import filled, walked
from test_turns import DOORS

from kept_gym import using
from lengthwise.errors import InputError
from lengthwise.records import accounts, log_entries, sign_ins, store
from lengthwise.storage.account_rows import AuditLine
from lengthwise.training.client import Client
from lengthwise.web import store_jobs
from lengthwise.web.app import create_app
from lengthwise.web.gate import SIGN_IN_COOKIE

PASSWORD = "a long enough word"
LEAD = 1
"""The number of the only account."""
OWN_LINES = {"audit", "sign_ins", "sign_in_failures", "known_browsers", "picks", "sqlite_sequence"}
"""Tables about who asks, not about what was done."""


def left_out(*_: object, **__: object) -> None:
    raise InputError("left out")


@pytest.fixture
def gym(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A store with a client who has logged a set, and a coach."""
    monkeypatch.setattr(sign_ins, "CONFIRMED_FOR", timedelta(days=1))
    monkeypatch.setattr(sign_ins, "IDLE", dict.fromkeys(sign_ins.IDLE, timedelta(days=1)))
    monkeypatch.setattr(store_jobs, "seed_demo", lambda client, tell: None)
    for where, name in DOORS:  # what takes long is left out, but for the lift that a lift of one's own is tried by
        if name != "solve":
            monkeypatch.setattr(where, name, left_out)
    with using(tmp_path) as folder:
        store.save_client(Client(name="Ada", sex="woman"))
        log_entries.add_sets("Ada", "back squat", "1x8 @ 60")
        accounts.add_account("Lead", PASSWORD)
        yield folder


def kept(folder: Path) -> dict[str, str]:
    """A digest of each table, and of each file beside the store."""
    found = {}
    with sqlite3.connect(folder / "lengthwise.db") as db:
        for (table,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall():
            if table not in OWN_LINES:
                found[table] = hashlib.sha256(repr(db.execute(f"SELECT * FROM {table}").fetchall()).encode()).hexdigest()
    files = [
        f for f in folder.rglob("*") if f.is_file() and {"cache", "uploads"}.isdisjoint(f.parts) and "lengthwise.db" not in f.name
    ]
    return found | {str(f.relative_to(folder)): hashlib.sha256(f.read_bytes()).hexdigest() for f in files}


def lines(n: int = 12) -> list[AuditLine]:
    return [line for line in accounts.read_audit(n) if line.action != "records opened"]


def test_every_change_is_told_with_who_and_from_where(gym: Path):
    cookies = {SIGN_IN_COOKIE: sign_ins.sign_in("Lead", PASSWORD).token}
    app, untold, told = create_app({"localhost"}), set[str](), set[str]()
    changes = [(path, m) for path, route in walked(app) for m in sorted(route.methods - {"GET", "HEAD"}) if path != "/sign-out"]
    before = kept(gym)
    for path, method in sorted(changes, key=lambda change: (LAST.index(change[0]) + 1 if change[0] in LAST else 0, change)):
        kind, body = sent_to(path)
        seen = lines()
        headers = (("content-type", kind), ("sec-fetch-site", "same-origin"))
        ask(app, Question(filled(path, 1), method, headers=headers, cookies=cookies, body=body))
        after = kept(gym)
        new = [line for line in lines() if line not in seen and (line.account, line.address) == (LEAD, HERE[0])]
        if after != before and not new:
            untold.add(f"{method} {path}: {[k for k in before | after if before.get(k) != after.get(k)]}")
        told.update(line.action for line in new if after != before)
        before = after
    assert untold == set()
    assert told >= {
        "sets logged", "measurement logged", "entry undone", "weights saved", "own studies saved", "own study removed", "own claims saved",
        "own claim removed", "own lift saved", "own lift removed", "record added", "record changed", "account added",
    }  # fmt: skip


def test_what_is_worked_out_beside_a_page_is_noted_with_its_address(gym: Path):
    cookies = {SIGN_IN_COOKIE: sign_ins.sign_in("Lead", PASSWORD).token}
    headers = (("content-type", "application/x-www-form-urlencoded"), ("sec-fetch-site", "same-origin"))
    app, asked = (
        create_app({"localhost"}),
        Question("/records/backup", "POST", headers=headers, cookies=cookies, body=b"asked=" + b"0" * 32),
    )
    while b"backup made" not in (line.action.encode() for line in lines()):
        assert ask(app, asked).status == 200
    assert [(line.account, line.address) for line in lines() if line.action == "backup made"] == [(LEAD, HERE[0])]


def test_a_failed_sign_in_is_told_as_refused(gym: Path):
    with pytest.raises(InputError, match="wrong name or password"):
        sign_ins.sign_in("Lead", "another long word")
    assert [(line.action, line.result) for line in lines(1)] == [("sign-in failed", "refused")]
