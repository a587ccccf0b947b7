"""The command that serves the workbench."""

from pathlib import Path
from typing import Annotated

import typer


def serve(
    port: Annotated[
        int | None, typer.Option(min=0, max=65535, help="Port, 0 for any; by default the first free one from 8610 on.")
    ] = None,
    host: Annotated[
        str, typer.Option(help="Address to listen on; other machines can only connect if there are accounts.")
    ] = "127.0.0.1",
    public_host: Annotated[
        list[str] | None, typer.Option("--public-host", help="Another host name that browsers may use, such as gym.example.")
    ] = None,
    tls_cert: Annotated[Path | None, typer.Option("--tls-cert", help="TLS certificate (PEM).")] = None,
    tls_key: Annotated[Path | None, typer.Option("--tls-key", help="TLS key (PEM).")] = None,
    proxy: Annotated[
        str, typer.Option(help="Address of a reverse proxy that says who sent a request (X-Forwarded-For, X-Forwarded-Proto).")
    ] = "",
    unencrypted: Annotated[bool, typer.Option("--unencrypted", help="Let other machines connect without encryption.")] = False,
    workers: Annotated[int, typer.Option(help="Server processes; they share the store and long computations.")] = 1,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser, if there is one.")] = False,
) -> None:
    """Open Lengthwise in the browser; Ctrl-C stops it."""
    from lengthwise.web.reached import ServedAt
    from lengthwise.web.serving import serve as run  # only here, so that no other command waits for the web framework

    def say(address: str) -> None:
        print(f"Lengthwise is at {address} (stop with Ctrl-C)", flush=True)

    names = tuple(public_host or ())
    reached = ServedAt(
        host=host, port=port, public_hosts=names, certificate=tls_cert, key=tls_key, proxy=proxy, unencrypted=unencrypted
    )
    run(reached, browser, say, workers)
