"""A posterior as the content of a file and back, bit for bit."""

import io
from dataclasses import astuple, fields

import numpy as np

from lengthwise.growth.fit import Posterior

_ARRAYS = tuple(f.name for f in fields(Posterior))


def packed(posterior: Posterior) -> bytes:
    """A posterior as the content of a file."""
    out = io.BytesIO()
    np.savez(out, **dict(zip(_ARRAYS, astuple(posterior), strict=True)))
    return out.getvalue()


def unpacked(content: bytes) -> Posterior:
    """A posterior back from `packed`.

    Raises:
        ValueError, KeyError, EOFError, BadZipFile: the content is damaged.
    """
    with np.load(io.BytesIO(content), allow_pickle=False) as kept:
        return Posterior(**{name: kept[name] for name in _ARRAYS})
