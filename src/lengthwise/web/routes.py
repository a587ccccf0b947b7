"""What each route is open to: declared beside it, judged before it is carried out; one that declares nothing does not start."""

import re
from collections.abc import Callable, Iterable, Iterator
from enum import Enum
from functools import cached_property
from importlib import import_module
from pkgutil import iter_modules
from typing import Any, TypeVar

from fastapi import APIRouter
from fastapi.routing import APIRoute
from starlette.concurrency import run_in_threadpool
from starlette.convertors import Convertor, register_url_convertor
from starlette.requests import HTTPConnection
from starlette.routing import BaseRoute, Match, Mount, compile_path
from starlette.types import Receive, Scope, Send

from lengthwise.records import accounts
from lengthwise.web import turns
from lengthwise.web.asker import Asker, RefusedAsk, Unconfirmed, asker_of
from lengthwise.web.noted import readings

F = TypeVar("F", bound=Callable[..., Any])
ROLE, CARE = "open_to_role", "with_care"
"""Where an endpoint keeps what it declares, so that a router within a router has it too."""


class Role(Enum):
    """Who may ask a route."""

    ANYBODY = "anybody: signing in, and what its page needs"
    SIGNED_IN = "whoever is signed in; about nobody, or about whom it may see"
    OWN = "whoever may see the client of the address"
    COACH = "a coach; where the address names a client, one who may see it"
    LEAD = "a coach who leads: the store as a whole, other coaches' accounts, the audit"
    OWN_ACCOUNT = "whoever is signed in, about the own account; also before a password of one's own was chosen"


class Care(Enum):
    """What is asked besides a sign-in."""

    NONE = "nothing"
    CONFIRMED = "a password that was given within the last minutes"
    GUARDED = "the same, and from another machine an account with a second factor"


class ClientNumber(Convertor[int]):
    """A client's number in an address: ASCII digits, without a sign, spaces or a zero in front."""

    regex = "[1-9][0-9]{0,8}"

    def convert(self, value: str) -> int:
        """The number."""
        return int(value)

    def to_string(self, value: int) -> str:
        """Its digits."""
        return str(value)


class LogNumber(ClientNumber):
    """A client's number, or 0 for the logs of several people, which only a coach who leads may change at once."""

    regex = "0|[1-9][0-9]{0,8}"


register_url_convertor("client", ClientNumber())
register_url_convertor("log", LogNumber())


class JudgedRoute(APIRoute):
    """A route that knows whom it is open to.

    Raises:
        TypeError: it does not say so, has a client's number in its address and is not about that client, or begins with a parameter.
    """

    def __init__(self, path: str, endpoint: Callable[..., Any], **options: Any) -> None:
        super().__init__(path, endpoint, **options)
        if path.startswith("/{"):
            raise TypeError(f"{path}: an address begins with a word")
        role = getattr(endpoint, ROLE, None)
        if not isinstance(role, Role):
            raise TypeError(f"{path}: says not whom it is open to; name a Role beside the address of {endpoint.__name__}")
        if "number" in self.param_convertors and not isinstance(self.param_convertors["number"], ClientNumber):
            raise TypeError(f"{path}: a client's number is written {{number:client}}")
        if (role is Role.OWN) and "number" not in self.param_convertors:
            raise TypeError(f"{path}: is open to whoever may see its client, but names none")
        self.role = role
        self.care: Care = getattr(endpoint, CARE, Care.NONE)

    async def handle(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Carry it out for whoever may ask it, before anything that was sent is read."""
        asker, number = asker_of(HTTPConnection(scope)), scope.get("path_params", {}).get("number")
        if number and asker.asks_store:
            await run_in_threadpool(judge, asker, self.role, number)
        else:
            judge(asker, self.role, number)
        judge_care(asker, self.care)
        if number and asker.account and readings.may((asker.account.number, number)):
            await run_in_threadpool(accounts.note, "records opened", asker.account, number)
        await super().handle(scope, receive, send)


def judge(asker: Asker, role: Role, number: int | None) -> None:
    """Let pass who may ask a route of a role, about the client of a number where its address has one.

    Raises:
        Refused: anybody else.
    """
    if role is Role.ANYBODY:
        return
    if not asker.is_known or (role is Role.COACH and not asker.is_coach) or (role is Role.LEAD and not asker.leads):
        raise RefusedAsk
    if asker.must_choose and role is not Role.OWN_ACCOUNT:
        raise RefusedAsk
    if number is not None and not (asker.may_see(number) if number else asker.leads):
        raise RefusedAsk


def judge_care(asker: Asker, care: Care) -> None:
    """Let pass who has done what a route asks besides a sign-in; whoever is at home has nothing to give.

    Raises:
        Unconfirmed: anybody else.
    """
    if care is Care.NONE or asker.account is None:
        return
    if care is Care.GUARDED and not asker.from_here and not asker.account.has_factor:
        raise Unconfirmed("factor")
    if not asker.confirmed:
        raise Unconfirmed("confirm")


class Routes(APIRouter):
    """Routes that all declare whom they are open to."""

    def __init__(self, **options: Any) -> None:
        super().__init__(route_class=JudgedRoute, **options)

    def get(self, path: str, role: Role | None = None, **how: Any) -> Callable[[F], F]:
        """Something to be looked at: who may ask it; `care`, `in_turn` and the library's own options as of `declared`."""
        return self.declared("GET", path, role, **how)

    def post(self, path: str, role: Role | None = None, **how: Any) -> Callable[[F], F]:
        """Something that is sent."""
        return self.declared("POST", path, role, **how)

    def put(self, path: str, role: Role | None = None, **how: Any) -> Callable[[F], F]:
        """Something that is kept in place of what was there."""
        return self.declared("PUT", path, role, **how)

    def delete(self, path: str, role: Role | None = None, **how: Any) -> Callable[[F], F]:
        """Something that is taken out."""
        return self.declared("DELETE", path, role, **how)

    def declared(
        self, method: str, path: str, role: Role | None, care: Care = Care.NONE, in_turn: bool = False, **options: Any
    ) -> Callable[[F], F]:
        """An address with whom it is open to.

        Args:
            care: what is asked besides a sign-in. in_turn: whether it computes, so that it is answered when it is its turn.
        """

        def declare(endpoint: F) -> F:
            made = turns.in_turn(endpoint) if in_turn else endpoint
            if role is not None:
                setattr(made, ROLE, role)
            setattr(made, CARE, care)
            return self.api_route(path, methods=[method], **options)(made)

        return declare

    def matches(self, scope: Scope) -> tuple[Match, Scope]:
        """Whether one of them is asked for; where none can be, they are not looked through one by one."""
        return (Match.NONE, {}) if self._words.isdisjoint(scope["path"].split("/")) else super().matches(scope)

    @cached_property
    def _words(self) -> frozenset[str]:
        """The first word of each address, which stands somewhere in it whatever goes before."""
        return frozenset(path.split("/")[1] for path, _ in every_route(self.routes))


def parts_of(package: str, folder: Iterable[str]) -> list[Routes]:
    """The routers of a package's modules; one with an address such as /word/{anything} last, since a written-out address goes before it."""
    modules = (import_module(f"{package}.{found.name}") for found in iter_modules(folder))
    found = [module.router for module in modules if hasattr(module, "router")]
    return sorted(found, key=lambda router: any(re.match(r"/[\w-]+/\{(?!number:)", path) for path, _ in every_route(router.routes)))


def every_route(routes: Iterable[BaseRoute], prefix: str = "") -> Iterator[tuple[str, BaseRoute]]:
    """Every route with its whole address; those of routers within routers too, however the library keeps them."""
    for route in routes:
        inner = getattr(route, "original_router", None)
        if inner is None:
            yield prefix + getattr(route, "path", ""), route
        else:
            yield from every_route(inner.routes, prefix + route.include_context.prefix)  # type: ignore[attr-defined]


def methods_at(routes: Iterable[BaseRoute], address: str) -> set[str]:
    """Every method of the routes at an address; a written-out address goes before one with a part that may be anything."""
    found: dict[str, set[str]] = {}
    for path, route in every_route(routes):
        if isinstance(route, JudgedRoute) and compile_path(path)[0].match(address):
            found.setdefault(path, set()).update(route.methods or set())
    return found[min(found, key=lambda path: path.count("{"))] if found else set()


def addresses_below(routes: Iterable[BaseRoute], address: str) -> list[str]:
    """The addresses of an interface that lack one name at the end of this one, in order."""
    near = address.rstrip("/") + "/"
    return sorted(
        {path for path, _ in every_route(routes) if path.startswith("/api/") and re.fullmatch(re.escape(near) + r"\{[^/]+\}", path)}
    )


def check_declared(routes: Iterable[BaseRoute], mounted: str) -> None:
    """Refuse to start with a route that does not declare whom it is open to; files are served at one address alone.

    Raises:
        TypeError: such a route.
    """
    for path, route in every_route(routes):
        if not isinstance(route, JudgedRoute) and not (isinstance(route, Mount) and path == mounted):
            raise TypeError(f"{path}: says not whom it is open to; make it with Routes and a Role")
