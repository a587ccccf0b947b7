"""Answers that an installation has of its own: the parsed lifts, what is learned from the trials that come with Lengthwise, and bones.

    python -m lengthwise.known.made

makes them (`make app` and `make test` do). They are found under names made of all that they came from, so those of other code are
passed over; where there are none, whoever asks first makes them, in a folder of their own.
"""

import shutil
from contextlib import suppress

from lengthwise.evidence.claims import starter_library
from lengthwise.figure.packing import bones_file
from lengthwise.files import cache_files
from lengthwise.files.cache_files import keep
from lengthwise.known.shipped_lifts import kept_as, shipped, written
from lengthwise.known.solids import bones_kept_as, packed_small
from lengthwise.known.trial_answers import fit_kept, seen_kept


def make() -> None:
    """Make them anew; where they cannot be written, nothing is lost but time."""
    studies = starter_library().studies
    bones = bones_kept_as(), packed_small(bones_file())
    found = ((kept_as(), written(shipped())), fit_kept(studies), seen_kept(studies), bones)
    shutil.rmtree(cache_files.MADE, ignore_errors=True)
    for name, content in found:
        keep(cache_files.MADE / name, content)
        with suppress(OSError):
            (cache_files.MADE / name).chmod(0o644)  # whoever uses the installation reads them


if __name__ == "__main__":
    make()
