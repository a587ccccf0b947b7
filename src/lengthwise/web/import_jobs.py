"""Looking into a table and keeping its rows, as something to be run beside the page."""

import json
from collections.abc import Mapping
from hashlib import sha256

from lengthwise.questions.answering.imports import Imported, Understanding, import_log, in_parts, look_into
from lengthwise.questions.log_import import ImportWishes
from lengthwise.records import accounts, log_entries
from lengthwise.storage.account_rows import Account
from lengthwise.web.background import Job, Jobs, Told
from lengthwise.web.uploads import Shelf, forget_upload, upload_of

looks: Jobs[Understanding] = Jobs(8)
imports: Jobs[Imported] = Jobs(to_the_end=True)


def look_job(shelf: Shelf, token: str, said: Mapping[str, str], wishes: ImportWishes) -> Job[Understanding]:
    """How a file is understood with what a form said, once for the same words."""

    def work(tell: Told) -> Understanding:
        return look_into(upload_of(shelf, token), wishes, in_parts(tell))

    words = sha256(json.dumps(dict(said), sort_keys=True).encode()).hexdigest()
    newest = max((e.number for e in log_entries.list_entries(n=1)), default=0)
    return looks.ask((shelf, token, words, newest), work)


def import_job(shelf: Shelf, token: str, wishes: ImportWishes, account: Account | None) -> Job[Imported]:
    """Keeping every row of a file, or none; done once, though the page asks again. When it is stopped nothing is kept."""

    def work(tell: Told) -> Imported:
        seen = look_into(upload_of(shelf, token), wishes, in_parts(tell), count=False)
        done = import_log(seen, in_parts(tell), account.name if account else "")
        forget_upload(shelf, token)
        accounts.note("log imported", account, shelf.client or None, f"{done.staged.sets} sets")
        return done

    return imports.ask((shelf, token), work)
