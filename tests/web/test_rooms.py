"""Pages that tests open one after another in the same room of a browser find nothing of each other."""

from browsing import opened
from playwright.sync_api import Browser

LEAVE = """async () => {
  localStorage.left = "yes";
  sessionStorage.left = "yes";
  document.cookie = "left=yes";
  await caches.open("left");
  await new Promise((done) => { indexedDB.open("left").onsuccess = (e) => { e.target.result.close(); done(); }; });
  await navigator.serviceWorker.register("/log/worker.js", {scope: "/log/"});
}"""
FOUND = """async () => ({
  stored: localStorage.length + sessionStorage.length,
  cookies: document.cookie,
  caches: await caches.keys(),
  databases: await indexedDB.databases(),
  workers: (await navigator.serviceWorker.getRegistrations()).length,
})"""


def test_a_room_is_as_empty_as_a_new_one(browser: Browser, address: str):
    with opened(browser, address) as open_page:
        fresh = open_page("/records", new=True).evaluate(FOUND)
        page = open_page("/records")
        room = page.context
        page.evaluate(LEAVE)
        assert all(page.evaluate(FOUND)[what] for what in ("stored", "cookies", "databases", "caches", "workers"))
        room.set_offline(True)
    with opened(browser, address) as open_page:
        page = open_page("/records")
        assert page.context == room
        assert page.evaluate("innerWidth") == 1400
        assert page.evaluate(FOUND) == fresh


def test_two_pages_of_one_test_are_two_visitors(browser: Browser, address: str):
    with opened(browser, address) as open_page:
        first, second = open_page("/records"), open_page("/records")
        first.evaluate("localStorage.left = 'yes'; document.cookie = 'left=yes'")
        assert second.evaluate("[localStorage.length, document.cookie]") == [0, ""]
