"""The one way to pyarrow, which an extra brings: tables by column, and Parquet."""

from typing import Any

from lengthwise.errors import InputError


def arrow() -> Any:
    """The package pyarrow.

    Raises:
        InputError: it is not installed.
    """
    try:
        import pyarrow
        import pyarrow.compute
        import pyarrow.parquet
    except ImportError:
        raise InputError(
            "populations need pyarrow, which is not installed: pip install 'lengthwise[population]'",
            asked="population", allowed=["pip install 'lengthwise[population]'"],
        ) from None  # fmt: skip
    return pyarrow
