"""The browser that the page tests use: whose events are told."""

from pathlib import Path

from tests.render.chromium import Browser, chromium

REFUSED = """<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="form-action 'none'">
<title>refused</title><form action="http://127.0.0.1:9/x"></form>"""
A_MOMENT = "new Promise((done) => setTimeout(done, 100))"


def refusals(browser: Browser) -> int:
    return sum(event["method"] == "Log.entryAdded" for event in browser.events)


def test_what_the_last_page_tells_late_is_no_event_of_a_new_tab(tmp_path: Path) -> None:
    refused, quiet = tmp_path / "refused.html", tmp_path / "quiet.html"
    refused.write_text(REFUSED)
    quiet.write_text("<title>quiet</title>")
    with chromium() as browser:
        for tab_is_new in (False, True):
            browser.open(refused)
            browser.run("document.forms[0].submit()")
            # The form is refused after its script has ended: so late that it may fall to the next page.
            if tab_is_new:
                browser.new_tab()
                browser.open(quiet)
            browser.run(A_MOMENT)
            assert refusals(browser) == (0 if tab_is_new else 1)
        assert browser.run("document.title") == "quiet"
