"""The long work on the store as a whole: a backup written, and one restored; not behind questions about lifts."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Literal

from lengthwise.errors import InputError
from lengthwise.questions.answering.demo import seed_demo
from lengthwise.records import accounts, store
from lengthwise.records.accounts import accounts_exist
from lengthwise.storage.account_rows import Account
from lengthwise.storage.backup import Backup
from lengthwise.web.background import Job, Jobs, Told
from lengthwise.web.client_jobs import jobs as client_jobs
from lengthwise.web.reviews import answering, forget_reviews
from lengthwise.web.uploads import NOBODY, Shelf, forget_upload, room_for, upload_of

jobs: Jobs[Any] = Jobs(to_the_end=True)
REPLACE = "replace"
"""What is typed before a backup takes the place of everything."""


@dataclass(frozen=True)
class Made:
    """A backup that waits to be fetched: what it is asked for by, what it holds, its bytes."""

    token: str
    backup: Backup
    size: int


def backup_job(asked: str, account: Account | None) -> Job[Made]:
    """Writing a backup; `asked` makes one of the same question sent again."""

    def work(tell: Told) -> Made:
        token, file = room_for(_shelf("backup", account), f"lengthwise_{date.today()}.zip")
        made = store.write_backup(file, _heard(tell, sum(store.info().rows.values())))
        accounts.note("backup made", account)
        return Made(token, made, file.stat().st_size)

    return jobs.ask(f"backup {_whose(account)} {asked}", work)


def restore_job(token: str, replace: bool, word: str, account: Account | None) -> Job[Backup]:
    """Restoring a backup that was sent; whatever was computed about the store before is forgotten."""

    def work(tell: Told) -> Backup:
        file = upload_of(_shelf("restore", account), token)
        check_restore(store.read_backup(file), replace, word)
        found = store.restore(file, _heard(tell, rows_of(file)), replace, account.number if account else None)
        forget_upload(_shelf("restore", account), token)
        client_jobs.forget()
        answering.forget()
        forget_reviews()
        return found

    return jobs.ask(f"restore {_whose(account)} {token} {replace} {word}", work)


def demo_job(asked: str, account: Account | None) -> Job[None]:
    """Filling in the invented gym; `asked` makes one of the same question sent again."""

    def work(tell: Told) -> None:
        seed_demo(None, tell)
        accounts.note("demo added", account)

    return jobs.ask(f"demo {_whose(account)} {asked}", work)


def _whose(account: Account | None) -> int:
    return account.number if account else NOBODY


def _shelf(purpose: Literal["backup", "restore"], account: Account | None) -> Shelf:
    return Shelf(purpose, _whose(account))


def rows_of(file: Path) -> int:
    """How many rows a backup holds."""
    return sum(store.read_backup(file).rows.values())


def check_restore(found: Backup, replace: bool, word: str) -> None:
    """Refuse what would lose records unasked, or leave a workbench with accounts without any.

    Raises:
        InputError: the store holds clients and is not to be replaced; the word was not typed; the backup has no accounts.
    """
    n = store.info().rows.get("clients", 0)
    if n and not replace:
        raise InputError(f"the store holds {n} clients; tick the box to let the backup replace everything, or leave it", asked=n)
    if n and word.strip().casefold() != REPLACE:
        raise InputError(f"type {REPLACE} to replace everything with the backup; found {word!r}", asked=word, allowed=[REPLACE])
    if accounts_exist() and not found.rows.get("accounts"):
        raise InputError(
            "the backup holds no accounts, so nobody would have to sign in any more; restore it on the machine itself: "
            "lengthwise store restore",
            asked=found.made_at,
        )


def _heard(tell: Told, total: int) -> Callable[[str, float], None]:
    return lambda step, share: tell(round(share * total), total)
