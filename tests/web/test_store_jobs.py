"""What may be restored: nothing is lost unasked, and a workbench with accounts stays one."""

import pytest

from lengthwise.errors import InputError
from lengthwise.records.accounts import add_account
from lengthwise.records.store import save_client
from lengthwise.storage.backup import Backup
from lengthwise.training.client import Client
from lengthwise.web.store_jobs import check_restore


@pytest.fixture(autouse=True)
def _own_data(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


def backup(accounts: int) -> Backup:
    return Backup("0001", "2026-03-02T10:00:00+00:00", {"clients": 1, "accounts": accounts})


def test_an_empty_store_is_filled_without_a_word():
    check_restore(backup(0), False, "")


def test_clients_go_only_where_that_is_ticked_and_typed():
    save_client(Client(name="Ada"))
    with pytest.raises(InputError, match="the store holds 1 clients"):
        check_restore(backup(0), False, "replace")
    with pytest.raises(InputError, match="type replace"):
        check_restore(backup(0), True, "")
    check_restore(backup(0), True, " Replace ")


def test_a_backup_without_accounts_does_not_open_a_workbench_that_has_some():
    add_account("Coach", "a long enough word")
    with pytest.raises(InputError, match="the backup holds no accounts"):
        check_restore(backup(0), False, "")
    check_restore(backup(1), False, "")
