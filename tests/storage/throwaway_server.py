"""A PostgreSQL server of one's own: a new cluster in a temporary folder, on 127.0.0.1 and a free port, gone afterwards."""

import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psycopg

NEEDED = (
    "the tests of the store need a PostgreSQL server's programs (initdb, postgres) in the PATH or /usr/lib/postgresql/*/bin; "
    "install them (as root: apt-get install postgresql), or run: make postgresql"
)


def program(name: str) -> str:
    found = shutil.which(name) or next(
        (str(p) for p in sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"), reverse=True)), None
    )
    if found is None:
        raise RuntimeError(NEEDED)
    return found


def _free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


@contextmanager
def throwaway_server(*settings: str) -> Iterator[str]:
    """Address of a throwaway server, without a database's name; it refuses root, so root runs it as nobody.

    Args:
        settings: of PostgreSQL (`fsync=on`), in place of those that make it quick.
    """
    initdb, postgres = program("initdb"), program("postgres")
    folder = Path(tempfile.mkdtemp(prefix="lengthwise_pg_"))
    who: dict[str, Any] = {}
    if os.geteuid() == 0:
        nobody = pwd.getpwnam("nobody")
        os.chown(folder, nobody.pw_uid, nobody.pw_gid)
        who = {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}
    data, port, log = folder / "data", _free_port(), folder / "log"
    env = {"PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8"}
    made = [initdb, "-D", str(data), "-U", "coach", "--auth=trust", "--encoding=UTF8", "--no-sync"]
    done = subprocess.run(made, capture_output=True, text=True, cwd=folder, env=env, **who)
    if done.returncode:
        raise RuntimeError(f"initdb did not make a cluster: {done.stderr}")
    all_settings = [
        "listen_addresses=127.0.0.1",
        f"port={port}",
        f"unix_socket_directories={folder}",
        "fsync=off",
        "max_connections=20",
        *settings,  # of two the last counts
    ]
    words = [postgres, "-D", str(data), *(w for s in all_settings for w in ("-c", s))]
    with log.open("wb") as out:
        server = subprocess.Popen(words, stdout=out, stderr=out, cwd=folder, env=env, **who)
    try:
        _wait(server, port, log)
        yield f"postgresql://coach@127.0.0.1:{port}"
    finally:
        server.send_signal(signal.SIGQUIT)  # at once: politely it waits for whoever is connected, and writes down what nobody keeps
        server.wait()
        shutil.rmtree(folder, ignore_errors=True)


def _wait(server: subprocess.Popen[bytes], port: int, log: Path) -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        if server.poll() is not None:
            break
        try:
            psycopg.connect(f"postgresql://coach@127.0.0.1:{port}/postgres").close()
            return
        except psycopg.OperationalError:
            time.sleep(0.1)
    raise RuntimeError(f"the PostgreSQL server did not start: {log.read_text()[-2000:]}")
