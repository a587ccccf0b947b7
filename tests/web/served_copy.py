"""A workbench served from a folder of data, which begins as a copy of a process that has loaded the program already."""

import multiprocessing
import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from multiprocessing.connection import Connection
from pathlib import Path

WARM = multiprocessing.get_context("forkserver")
"""To load the program takes longer than most tests of a page; `gym_server.py` starts it as users do, for whoever measures."""
LOADED = (
    "highspy",
    "mujoco",
    "matplotlib.backends.backend_agg",
    "matplotlib.backends.backend_svg",
    "lengthwise.cli.web",
    "lengthwise.web.app",
    "lengthwise.web.serving",
)
WARM.set_forkserver_preload(list(LOADED))
os.environ.setdefault("MUJOCO_GL", "off")  # as the command line has it before anything is loaded


def _serve(said: Connection, environment: Mapping[str, str]) -> None:
    """The command that users give, in a process of its own; what it says goes to whoever started it, what it complains of to nobody."""
    os.environ.clear()
    os.environ.update(environment)
    os.dup2(said.fileno(), 1)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
    sys.argv = ["lengthwise", "serve", "--port", "0"]
    from lengthwise.cli import main

    main()


@contextmanager
def serving(folder: Path) -> Iterator[str]:
    """The workbench served from a folder; gives its address."""
    heard, said = WARM.Pipe(duplex=False)
    server = WARM.Process(target=_serve, args=(said, {**os.environ, "LENGTHWISE_DATA": str(folder)}))
    server.start()
    said.close()
    try:
        with open(heard.fileno(), encoding="utf-8", closefd=False) as words:
            line = words.readline()
        assert "http://127.0.0.1:" in line, line
        yield line.split(" at ")[1].split()[0]
    finally:
        server.kill()  # how it ends by itself, which may take seconds, is tried in test_stopping.py
        server.join()
        heard.close()
