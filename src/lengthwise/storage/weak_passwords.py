"""Passwords that are soon guessed: in lists of common ones, made of names, dates, rows of keys or repeated pieces.

The estimate is that of zxcvbn (Wheeler 2016, USENIX Security), whose lists hold thirty thousand common passwords.
"""

from collections.abc import Iterable

LEAST_GUESSES = 10.0**8
"""A password that takes fewer guesses is refused: below what its author calls safe from guessing over a network (10^6 to 10^8)."""
LOOKED_AT = 72
"""So many characters are looked at; the estimate takes long for more."""
OURS = ("lengthwise", "coach", "client", "muscle", "training", "workbench")


def weakness(password: str, about: Iterable[str] = ()) -> str:
    """Why a password is soon guessed, in words; empty where it is not. `about` are words that whoever guesses knows, such as its name."""
    return estimate(password, about)[1]


def estimate(password: str, about: Iterable[str] = ()) -> tuple[float, str]:
    """How many guesses find a password, and `weakness`."""
    from zxcvbn import zxcvbn

    if not password:
        return 1.0, "hard to guess"
    words = [w for text in (*about, *OURS) for w in (text, *text.split()) if w]
    found = zxcvbn(password[:LOOKED_AT], user_inputs=words)
    why = "" if found["guesses"] >= LEAST_GUESSES else str(found["feedback"]["warning"] or "a few guesses find it")
    return float(found["guesses"]), why.rstrip(".").lower()
