"""Questions about the store as a whole: what it holds, and who may sign in."""

from datetime import datetime
from typing import Literal

from lengthwise.actions import accounts, store
from lengthwise.actions.store import exists as store_exists
from lengthwise.web.api.models import Out
from lengthwise.web.routes import Care, Role, Routes

router = Routes(tags=["store"])


class StoreOut(Out):
    """Where the store is, the version of its tables, and rows by table; no rows where nothing was kept yet."""

    where: str
    version: str
    rows: dict[str, int]


class AccountOut(Out):
    """Somebody who may sign in; `client` is the number of the one that a client's account shows."""

    name: str
    role: Literal["coach", "client"]
    leads: bool
    client: int | None
    made_at: datetime


class AccountsOut(Out):
    """Everybody who may sign in; nobody where only this machine is served."""

    accounts: list[AccountOut]


@router.get("/store", Role.LEAD, care=Care.GUARDED, response_model=StoreOut)
def info() -> StoreOut:
    """Where the store is and how much it holds."""
    return StoreOut.model_validate(store.info() if store_exists() else {"where": "", "version": "", "rows": {}})


@router.get("/accounts", Role.LEAD, care=Care.GUARDED, response_model=AccountsOut)
def who_may_sign_in() -> AccountsOut:
    """Who may sign in; passwords are never told."""
    found = accounts.list_accounts() if store_exists() else ()
    return AccountsOut(
        accounts=[AccountOut(name=a.name, role=a.role, leads=a.leads, client=a.client, made_at=a.made_at) for a in found]
    )
