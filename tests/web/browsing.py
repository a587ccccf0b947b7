"""What tests of pages share: sizes, waiting, pictures, and what keeps people out."""

import re
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from weakref import WeakKeyDictionary

from playwright.sync_api import Browser, ConsoleMessage, Page

from pictures import PICTURES

ROOT = Path(__file__).parents[2]
AXE = ROOT / "web" / "node_modules" / "axe-core" / "axe.min.js"
SIZES = {"laptop": (1400, 900), "phone": (390, 844)}
SERIOUS = ("serious", "critical")
LEVELS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
OF_COLOUR = ("color-contrast", "link-in-text-block")
"""Rules of axe (its list of rules) that colours decide; all others ask about a structure that is the same in light and dark."""
PATIENCE_S = 300
"""So long something is waited for: never reached unless it will not come, however busy the machine is."""
FIRST_PAUSE_MS, LONGEST_PAUSE_MS = 40, 400
"""Between two looks: what comes soon is seen soon, and what is long computed is not asked for twenty times a second."""
UNPAINTED = """for (const kind of [WebGLRenderingContext, WebGL2RenderingContext])
  for (const name of ["drawArrays", "drawElements", "drawArraysInstanced", "drawElementsInstanced"]) kind.prototype[name] = () => {};"""
"""Figures are built, posed and moved as ever, but no triangle is painted: in software that takes most of a page's processor time."""
LEFT_BEHIND = "cookies,file_systems,indexeddb,local_storage,service_workers,cache_storage"
"""Whatever a page can keep in a browser, in the words of its protocol; files that never change are kept by their names, which say what is in them."""
Open = Callable[..., Page]
Number = Callable[[str], int]


class Traffic:
    """What a page has asked for and not got yet."""

    def __init__(self, page: Page) -> None:
        self._waiting: set[object] = set()
        page.on("request", lambda r: self._waiting.add(r))
        page.on("requestfinished", lambda r: self._waiting.discard(r))
        page.on("requestfailed", lambda r: self._waiting.discard(r))

    def forget(self) -> None:
        """Before the page goes elsewhere."""
        self._waiting.clear()

    @property
    def is_quiet(self) -> bool:
        """Whether nothing is on its way."""
        return not self._waiting


_TRAFFIC: WeakKeyDictionary[Page, Traffic] = WeakKeyDictionary()
"""By page: the browser's own word for a quiet network waits half a second each time."""


def followed(page: Page) -> Page:
    """The same page, whose traffic is known from now on; ask before it opens anything."""
    _TRAFFIC[page] = Traffic(page)
    return page


def arrived(page: Page, longest_s: float = PATIENCE_S) -> None:
    """Wait until a page's script has begun and nothing is on its way, twice in a row."""
    page.wait_for_selector("body[data-begun]", state="attached")
    quiet = [False, False]

    def is_so() -> bool:
        quiet[:] = [quiet[1], _TRAFFIC[page].is_quiet]
        return all(quiet)

    until(page, is_so, longest_s)


def settled(page: Page) -> None:
    """Wait until a page has everything that it asked for, its figure included."""
    arrived(page)
    if page.locator("lw-figure").count():
        page.wait_for_selector("lw-figure[data-drawn][data-ready]")


def until(page: Page, is_so: Callable[[], object], longest_s: float = PATIENCE_S) -> None:
    """Wait until something is so; a page's policy forbids the waiting that evaluates text inside it."""
    end, pause_ms = time.monotonic() + longest_s, FIRST_PAUSE_MS
    while not is_so():
        assert time.monotonic() < end, "it never came to be so"
        page.wait_for_timeout(pause_ms)
        pause_ms = min(pause_ms * 1.2, LONGEST_PAUSE_MS)


def answer_of(page: Page, path: str, longest_s: float = PATIENCE_S) -> dict[str, Any]:
    """What the page's server answers to programs, once it is computed: until then it says how far it is."""
    found: list[Any] = []

    def there() -> bool:
        found[:] = [page.request.get("/".join(page.url.split("/")[:3]) + path)]
        assert found[0].status in (200, 202), found[0].text()
        return bool(found[0].status == 200)

    until(page, there, longest_s)
    return dict(found[0].json())


def of_its_body(page: Page, path: str) -> dict[str, Any]:
    """The same of the body that the page shows."""
    who = page.locator("body").get_attribute("data-who")
    return answer_of(page, f"{path}{'&' if '?' in path else '?'}{who}")


def overflow(page: Page) -> int:
    """By how many pixels a page is wider than its window."""
    return page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")


def hidden_figures(page: Page) -> list[str]:
    """Figures over which their own legend and buttons lie."""
    return page.eval_on_selector_all(
        "lw-figure",
        """all => all.filter(f => f.querySelector('.figure-strip').getBoundingClientRect().top
            < f.querySelector('.figure-view').getBoundingClientRect().bottom - 1).map(f => f.getAttribute('label'))""",
    )


def names_of_programs(page: Page) -> list[str]:
    """Names that only programs use, said in a page's forms: labels, choices, buttons, help, placeholders, what stands in fields."""
    said = page.evaluate("""() => {
      const own = (e, ...names) => names.map((name) => e.getAttribute(name) ?? '');
      const forms = 'label, legend, option, button, summary, .help, output';
      const words = [...document.querySelectorAll(forms)].filter((e) => !e.closest('pre, code')).map((e) => e.textContent);
      const fields = [...document.querySelectorAll('input, textarea, select')].flatMap((e) => own(e, 'placeholder', 'aria-label', 'title'));
      const typed = [...document.querySelectorAll('input[type=text]')].map((e) => e.value);
      return [...words, ...fields, ...typed].join(' | ');
    }""")
    return sorted(set(re.findall(r"\b[a-z]+(?:_[a-z]+)+\b|\b[0-9a-f]{12,}\b|\bNone\b|\bTrue\b|\bFalse\b|\bundefined\b", said)))


def serious_faults(page: Page, rules: Sequence[str] = LEVELS) -> list[str]:
    """What axe finds that keeps people out."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    found: list[str] = page.evaluate(
        """async ([runOnly, serious]) => (await axe.run(document, {resultTypes: ['violations'], runOnly})).violations
          .filter((v) => serious.includes(v.impact))
          .map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 4).map((n) => n.html.slice(0, 160)).join('; ')}`)""",
        [list(rules), list(SERIOUS)],
    )
    return found


def legible_in_light_and_dark(page: Page, name: str) -> None:
    """As wide as its window and open to everybody, in light and then in dark; a name for its pictures."""
    assert overflow(page) == 0
    assert (found := serious_faults(page)) == [], found
    shoot(page, name)
    page.emulate_media(color_scheme="dark")
    assert overflow(page) == 0
    assert serious_faults(page, OF_COLOUR) == []
    shoot(page, f"{name}_dark")


def shoot(page: Page, name: str) -> None:
    """A picture of the whole page, to be looked at, where a folder for pictures is given."""
    if PICTURES:
        page.screenshot(path=Path(PICTURES) / f"{name}.png", full_page=True)


class Watch:
    """What a page did that it must not do."""

    def __init__(self, page: Page, address: str, expects: str) -> None:
        self.expects = expects
        self.begin()
        host = urlsplit(address).netloc
        page.on("console", self.hear)
        page.on("pageerror", lambda e: self.errors.append(f"not caught at {page.url}: {e}"))
        page.on(
            "request", lambda r: self.foreign.append(r.url) if r.url.startswith("http") and urlsplit(r.url).netloc != host else None
        )

    def begin(self) -> None:
        """Forget what it did before."""
        self.errors: list[str] = []
        self.foreign: list[str] = []

    def approve(self) -> None:
        """The page has kept quiet and to its own server."""
        assert self.errors == [], f"the console of a page is quiet, but said: {self.errors}"
        assert self.foreign == [], f"a page asks nobody but its own server, but asked: {self.foreign}"

    def hear(self, message: ConsoleMessage) -> None:
        """Keep what is worse than a remark; the software drawing's own remark about its speed is none of ours."""
        if (
            message.type in ("error", "warning")
            and "GPU stall" not in message.text
            and not (self.expects and self.expects in message.text)
        ):
            where = message.location
            self.errors.append(f"{message.type} at {where['url']}:{where['lineNumber'] + 1}: {message.text}")


class Room:
    """Where tests open pages one after another: as empty for each as a new context, but its process goes on and keeps files that never change."""

    def __init__(self, browser: Browser, **options: Any) -> None:
        self.context = browser.new_context(**{"reduced_motion": "reduce", **options})
        self._inside = self.context.new_page()
        self._desk = self.context.new_cdp_session(self._inside)

    def empty(self, address: str) -> None:
        """Leave nothing of what pages of a server did here."""
        for page in self.context.pages:
            if page != self._inside:
                page.close()
        self.context.set_offline(False)
        self.context.clear_cookies()
        self._desk.send("Storage.clearDataForOrigin", {"origin": address, "storageTypes": LEFT_BEHIND})


_FREE: WeakKeyDictionary[Browser, list[Room]] = WeakKeyDictionary()
"""By browser: rooms that no test is in."""


@contextmanager
def opened(browser: Browser, address: str) -> Iterator[Open]:
    """Opens pages of a server, each in a room of its own, and looks in the end at what they did.

    Figures are painted where a test looks at their pixels. A room is new where it is asked for or has other options than most.
    """
    own, shared, watches = [], [], []
    free = _FREE.setdefault(browser, [])

    def opening(
        path: str, size: str = "laptop", expects: str = "", painted: bool = False, new: bool = False, **options: object
    ) -> Page:
        alone = new or bool(options)
        room = free.pop() if free and not alone else Room(browser, **options)
        (own if alone else shared).append(room)
        page = followed(room.context.new_page())
        page.set_default_timeout(PATIENCE_S * 1000)
        width, height = SIZES[size]
        page.set_viewport_size({"width": width, "height": height})
        if not (painted or PICTURES):
            page.add_init_script(UNPAINTED)
        watches.append(Watch(page, address, expects))
        page.goto(address + path)
        return page

    yield opening
    try:
        for watch in watches:
            watch.approve()
    finally:
        for room in own:
            room.context.close()
        for room in shared:
            room.empty(address)
            free.append(room)


class Walk:
    """One page that goes from path to path: for tests that look and change nothing, so that no window is opened anew."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.address = address
        context = browser.new_context(reduced_motion="reduce")
        if not PICTURES:
            context.add_init_script(UNPAINTED)
        self.page = followed(context.new_page())
        self.page.set_default_timeout(PATIENCE_S * 1000)
        self.watch = Watch(self.page, address, "")

    def __call__(self, path: str, size: str = "laptop") -> Page:
        """The page at a path, loaded at a size and in light."""
        width, height = SIZES[size]
        self.page.goto("about:blank")  # else the page before is laid out and painted anew, for nobody
        self.watch.begin()
        _TRAFFIC[self.page].forget()
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.emulate_media(color_scheme="light", reduced_motion="reduce")
        self.page.goto(self.address + path)
        return self.page


@contextmanager
def walking(walk: Walk) -> Iterator[Walk]:
    """A walk during one test; when the test ends, the page may not have complained or asked anybody else."""
    yield walk
    walk.watch.approve()
