"""A second factor: codes of six digits that change every thirty seconds (RFC 6238), made by a program on the phone from a secret.

A code counts once, and one step of time before and after its own, since clocks differ (RFC 6238, 5.2).
"""

from datetime import datetime
from hmac import compare_digest

import pyotp

from lengthwise.errors import InputError
from lengthwise.records.store import store
from lengthwise.storage import account_rows as table
from lengthwise.storage import second_factors
from lengthwise.storage.account_rows import Account, target

ISSUER = "Lengthwise"
STEPS_OFF = (0, -1, 1)


def new_secret() -> str:
    """A secret of 160 bits (RFC 4226, 4: the length that is recommended), in base 32."""
    return pyotp.random_base32()


def address_of(secret: str, account: Account) -> str:
    """The address that a picture for the phone's camera holds."""
    return pyotp.TOTP(secret).provisioning_uri(name=account.name, issuer_name=ISSUER)


def set_up(account: Account, secret: str, code: str) -> None:
    """Ask for codes from now on, where one of them shows that the phone has the secret.

    Raises:
        InputError: the code is not that of the secret at this time.
    """
    step = step_of(secret, code, table.now())
    if step is None:
        raise InputError("wrong code; allowed the six digits the phone shows now; is its clock right?")
    with store().writing() as db:
        second_factors.keep_factor(db, account.number, secret, step, table.now())
        table.write_audit(db, "second factor set up", account.number, account.client, target(account.number))


def takes_code(account: Account, code: str) -> bool:
    """Whether a code is an account's at this time and was not used before; it then was."""
    with store().writing() as db:
        secret = second_factors.secret_of(db, account.number)
        step = step_of(secret, code, table.now()) if secret else None
        return step is not None and second_factors.spend_step(db, account.number, step)


def step_of(secret: str, code: str, now: datetime) -> int | None:
    """The step of time whose code it is, near to now; nothing where it is none's."""
    made, given = pyotp.TOTP(secret), "".join(code.split())
    step = made.timecode(now)
    found = [step + off for off in STEPS_OFF if compare_digest(made.generate_otp(step + off).encode(), given.encode())]
    return found[0] if found else None
