"""Stopping the workbench while it computes: it ends soon, without noise, and leaves no process behind."""

import http.client
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest

LONGEST_S = 120
UNKNOWN_BODIES = [f"/api/rank/triceps?mass_kg={81 + 0.1 * k:.1f}&stature_m=1.77" for k in range(6)]
"""Rankings that take far longer together than this test, one after the other: nothing of such bodies is kept."""


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_at_once_while_lifts_are_computed(tmp_path: Path, end: signal.Signals):
    environment = {**os.environ, "LENGTHWISE_DATA": str(tmp_path), "XDG_CACHE_HOME": str(tmp_path), "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-m", "lengthwise.cli", "serve", "--port", "0"]
    with (
        (tmp_path / "said").open("w") as said,
        subprocess.Popen(command, env=environment, stdout=-1, stderr=said, text=True) as server,
    ):
        address = urlsplit(server.stdout.readline().split(" at ")[1].split()[0]).netloc
        try:
            assert {asked(address, body) for body in UNKNOWN_BODIES} == {202}
            assert asked(address, UNKNOWN_BODIES[-1]) == 202, "the threads of the server compute for it"
        finally:
            server.send_signal(end)
        assert server.wait(LONGEST_S) == 0
    until = time.monotonic() + LONGEST_S
    while of_this_server(tmp_path) and time.monotonic() < until:
        time.sleep(0.1)
    assert of_this_server(tmp_path) == []
    assert (tmp_path / "said").read_text() == ""


def asked(address: str, question: str) -> int:
    """The status of an answer: 202 while it is computed."""
    connection = http.client.HTTPConnection(address, timeout=60)
    connection.request("GET", question)
    return connection.getresponse().status


def of_this_server(folder: Path) -> list[str]:
    """The processes whose environment names this folder."""
    out = []
    for process in Path("/proc").iterdir():
        try:
            if process.name.isdigit() and f"LENGTHWISE_DATA={folder}\0".encode() in (process / "environ").read_bytes():
                out.append((process / "cmdline").read_text())
        except OSError:
            continue
    return [c for c in out if c]
