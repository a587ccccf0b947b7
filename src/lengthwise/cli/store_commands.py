"""Commands about the store as a whole: records, backup, export, erasing; and accounts."""

import getpass
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.commands import group
from lengthwise.cli.shared import Bar, Told, Who, progress, telling, typed_secret
from lengthwise.errors import InputError
from lengthwise.questions.answering.demo import seed_demo
from lengthwise.records import accounts as account_actions
from lengthwise.records import coaching
from lengthwise.records import store as actions

AccountName = Annotated[str, typer.Argument(help="Name of the account.")]
FromStdin = Annotated[bool, typer.Option("--password-stdin", help="Read the password from standard input.")]
store_app = group("store")
account_app = group("account")


@store_app.command("keep")
@telling
def keep(file: Annotated[Path, typer.Argument(help="Record file (.toml).")]) -> Told:
    """Store the record in FILE, so that you can use the client's name instead."""
    kept = actions.keep(file)
    return {"number": kept.number, "name": kept.client.name}, f"saved: {kept.client.name}"


@store_app.command("people")
@telling
def people() -> Told:
    """List stored clients."""
    found = actions.stored_clients()
    names = [c.client.name for c in found] or ["none yet; add one with: lengthwise store keep FILE.toml"]
    return {"clients": [{"number": c.number, "name": c.client.name} for c in found]}, *names


@store_app.command("backup")
@telling
def backup(
    file: Annotated[Path, typer.Argument(help="New file to write (.zip).")],
    seal: Annotated[bool, typer.Option("--encrypt", help="Encrypt it with a passphrase you are asked for (age format).")] = False,
) -> Told:
    """Write the whole store to a new FILE (.zip)."""
    passphrase = _passphrase(again=True) if seal else ""
    with progress() as heard:
        made = actions.write_sealed_backup(file, heard, passphrase) if seal else actions.write_backup(file, heard)
    said = f"{file}: {sum(made.rows.values())} rows. Keep it as safe as the store: it holds everything."
    return {"file": str(file), **asdict(made)}, said


@store_app.command("restore")
@telling
def restore(
    file: Annotated[Path, typer.Argument(help="Backup to restore (.zip).")],
    replace: Annotated[bool, typer.Option("--replace", help="Replace everything in the store.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Replace without asking.")] = False,
) -> Told:
    """Restore a backup; if anything fails, the store stays as it was."""
    with actions.unsealed(file, lambda: _passphrase(again=False)) as plain:
        if replace and not yes:
            _ask_before_replacing(plain)
        with progress() as heard:
            found = actions.restore(plain, heard, replace)
    return {"file": str(file), **asdict(found)}, f"restored {sum(found.rows.values())} rows of {found.made_at}"


def _passphrase(again: bool) -> str:
    """A passphrase: typed at a terminal, else a line of standard input."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    return typed_secret("passphrase", "written") if again else getpass.getpass("Passphrase: ")


def _ask_before_replacing(file: Path) -> None:
    """Ask whether everything is to go, where there is something.

    Raises:
        InputError: nobody can be asked, or said no.
    """
    held, made = actions.info().rows.get("clients", 0), actions.read_backup(file)
    if not held:
        return
    if not sys.stdin.isatty():
        raise InputError(f"the store holds {held} clients, which {file} would replace; use --yes to go ahead", asked=str(file))
    if not typer.confirm(f"Replace all {held} clients by the {made.rows.get('clients', 0)} of {made.made_at}?", default=False):
        raise InputError("nothing was replaced", asked=str(file))


@store_app.command("export")
@telling
def export(
    who: Who, file: Annotated[Path | None, typer.Option("--out", help="A new .zip; NAME.zip here by default.")] = None
) -> Told:
    """Export everything stored about PERSON as a zip of JSON and CSV."""
    target = file or Path("_".join(who.removesuffix(".toml").split()) + ".zip")
    held = actions.export_person(who, target)
    said = f"{target}: {held['sessions']} sessions, {held['sets']} sets, {held['measurements']} measurements"
    return {"file": str(target), **held}, said


@store_app.command("erase")
@telling
def erase(who: Who, yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False) -> Told:
    """Erase everything stored about PERSON, for good."""
    if not yes:
        if not sys.stdin.isatty():
            raise InputError(f"erasing {who!r} cannot be undone; use --yes", asked=who, allowed=["--yes"])
        if typer.prompt(f"This cannot be undone. Type {who} to erase") != who:
            raise InputError("nothing was erased", asked=who)
    name = actions.erase_person(who)
    return {"erased": name}, f"erased: {name}. Older backups still hold this data."


@account_app.command("add")
@telling
def account_add(
    name: AccountName,
    role: Annotated[str, typer.Option("--role", help="coach, or client (sees only their own record).")] = "coach",
    client: Annotated[str | None, typer.Option("--client", help="Whose record a client's account shows.")] = None,
    leads: Annotated[bool, typer.Option("--leads", help="A lead coach: sees everyone and manages accounts and records.")] = False,
    from_stdin: FromStdin = False,
) -> Told:
    """Add an account; you are asked for the password. The first coach leads."""
    made = account_actions.add_account(name, _password(from_stdin), role, client, leads)
    said = f"account {made.name} ({made.role}{', lead coach' if made.leads else ''})"
    return {"account": made.name, "role": made.role, "leads": made.leads}, said


@account_app.command("password")
@telling
def account_password(name: AccountName, from_stdin: FromStdin = False) -> Told:
    """Change an account's password; it is signed out everywhere."""
    account_actions.change_password(account_actions.find_account(name), _password(from_stdin))
    return {"account": name}, f"password of {name} changed; it is signed out everywhere"


@account_app.command("factor")
@telling
def account_factor(name: AccountName) -> Told:
    """Let an account sign in without a code, after a lost phone."""
    account_actions.remove_factor(account_actions.find_account(name))
    return {"account": name, "second_factor": False}, f"{name} now signs in with the password alone"


@account_app.command("give")
@telling
def account_give(
    client: Annotated[str, typer.Argument(help="A stored client's name.")],
    coach: Annotated[str, typer.Argument(help="Name of the coach's account; without it every coach sees the client.")] = "",
) -> Told:
    """Give CLIENT to COACH; then only that coach and lead coaches see the record."""
    coaching.give_client(client, coach)
    said = f"client of {coach}" if coach else "every coach sees it"
    return {"client": client, "coach": coach or None}, f"{client}: {said}"


@account_app.command("remove")
@telling
def account_remove(name: AccountName) -> Told:
    """Remove an account; it is signed out at once."""
    gone = account_actions.remove_account(name)
    return {"removed": gone.name}, f"removed: {gone.name}"


def _password(from_stdin: bool) -> str:
    if from_stdin:
        return sys.stdin.readline().rstrip("\n")
    if not sys.stdin.isatty():
        raise InputError("a password is needed; without a terminal use --password-stdin", allowed=["--password-stdin"])
    return typed_secret("password", "changed")


@telling
def demo() -> Told:
    """Add the demo gym: six invented clients with twenty weeks of invented logs."""
    with Bar("inventing logs") as bar:
        answer = seed_demo(None, bar)
    lines = [f"{row['name']}: {row['visits']} visits, {row['sets']} sets" for row in answer["clients"]]
    return answer, *lines, "Invented people and logs. Try lengthwise review with one of the names."
