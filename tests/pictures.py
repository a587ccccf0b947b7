"""Where pictures of pages and papers are kept, to be looked at; nowhere unless a folder is given, since they take time and test nothing."""

import os

PICTURES = os.environ.get("PICTURES", "")
"""A folder, as `make pictures` gives it."""
