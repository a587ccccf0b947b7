"""An invented client of the demo gym with kettlebells, the own body and a bar to hang from, so that a week is computed in a fraction of the time."""

import os
import subprocess
import sys
from pathlib import Path

NAME = "Bastian"
KEEP = """
from lengthwise.actions import store
from lengthwise.actions.demo import seed_demo
from lengthwise.actions.people import client_of
seed_demo()
own = next(c for c in store.stored_clients() if c.client.name.startswith({0!r}))
record = own.client.model_dump(mode="json")
record["places"] = {{"gym": {{"gear": {{"kettlebell": {{"rack_kg": [8, 12, 16, 20, 24, 28, 32]}}, "body": {{"plates_kg": [20, 10, 5, 2.5, 1.25]}}}}}}}}
record["places"]["gym"]["stations"] = ["bar_to_hang"]
store.save_client(client_of(record, "record"), own.number)
"""


def keep_small_gym(folder: Path) -> None:
    """Keep the demo gym in a folder, with little gear for one client."""
    environment = {**os.environ, "LENGTHWISE_DATA": str(folder)}
    subprocess.run([sys.executable, "-c", KEEP.format(NAME)], env=environment, check=True, timeout=300)
