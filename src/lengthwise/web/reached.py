"""How the workbench is reached: address, names, encryption, and a program in front of it that may say who sent a request."""

import ipaddress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lengthwise.errors import InputError
from lengthwise.web.security import is_this_machine


@dataclass(frozen=True, kw_only=True)
class ServedAt:
    """What is said when serving.

    Attributes:
        host: the address that is listened at. port: 0 for any, none for the first free one. public_hosts: further names that browsers may
        use. certificate, key: files (PEM) of an encrypted connection. proxy: the address of a program in front that is believed when it
        says who sent a request and whether that came encrypted; empty where nobody is. unencrypted: whether others may be served without
        encryption, which has to be said.
    """

    host: str = "127.0.0.1"
    port: int | None = None
    public_hosts: tuple[str, ...] = ()
    certificate: Path | None = None
    key: Path | None = None
    proxy: str = ""
    unencrypted: bool = False

    @property
    def scheme(self) -> str:
        """How addresses of it begin."""
        return "https" if self.certificate else "http"

    @property
    def options(self) -> dict[str, Any]:
        """What the server is told of it.

        Raises:
            InputError: one file of two, a file that is not there, or a proxy that is no address.
        """
        if (self.certificate is None) != (self.key is None):
            raise InputError("an encrypted connection needs both files; give --tls-cert and --tls-key")
        for file in filter(None, (self.certificate, self.key)):
            if not file.is_file():
                raise InputError(f"{file}: no such file; allowed a certificate and its key (PEM)", asked=str(file))
        found: dict[str, Any] = {"ssl_certfile": self.certificate, "ssl_keyfile": self.key} if self.certificate else {}
        return {**found, "proxy_headers": bool(self.proxy), "forwarded_allow_ips": _address(self.proxy) if self.proxy else None}


def check_encrypted(reached: ServedAt) -> None:
    """Whether what goes to other machines is encrypted.

    Raises:
        InputError: it is not, and nobody said that it need not be.
    """
    if is_this_machine(reached.host) or reached.certificate or reached.proxy or reached.unencrypted:
        return
    raise InputError(
        f"host {reached.host!r} can be reached from other machines, and anyone could read passwords and health data on the way; "
        "allowed --tls-cert and --tls-key, --proxy with a program in front that encrypts, or --unencrypted if you mean it",
        asked=reached.host,
        allowed=["--tls-cert", "--proxy", "--unencrypted"],
    )


def _address(text: str) -> str:
    try:
        return str(ipaddress.ip_address(text))
    except ValueError:
        raise InputError(f"proxy {text!r}; allowed its address, such as 127.0.0.1", asked=text) from None
