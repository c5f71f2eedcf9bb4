"""The sheet's page → the page of the preview: the same, with a script that follows the recipe and its style.

The page's own content security policy stays and is widened by exactly that: the script and the style, by
their hashes, and requests to the address that the page came from.
"""

import re
from functools import cache
from html import escape
from importlib.resources import files

from cardrecipe.render.page_style import named_by_hash

_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(">)')

# What is shown until a recipe can be made for the first time; its policy is as tight as the sheet's.
_NO_SHEET = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{name}</title>
</head>
<body class="preview-waits">
<main id="main">
<h1>{name}</h1>
<p>The sheet is shown here as soon as the recipe can be made.</p>
</main>
</body>
</html>
"""


def empty_page(name: str) -> str:
    """A page for a recipe, called `name`, of which no sheet could be made yet."""
    return _NO_SHEET.format(name=escape(name))


def preview_page(html: str, number: int) -> bytes:
    """`html` with the preview in it; `number` tells its script which page this is."""
    style, script = _read("preview.css"), _read("preview.js")
    policy = _POLICY.search(html)
    assert policy is not None, "every page says in its policy what it loads"
    start = f"{html[: policy.start()]}{policy[1]}{widened_policy(policy[2], style, script)}{policy[3]}"
    head, body = html[policy.end() :].split("</head>", 1)
    # Before the page's own script, so that it finds what ours brings along.
    end = body.rfind("<script>") if "<script>" in body else body.rindex("</body>")
    return (
        f"{start}{head}<style>{style}</style>\n</head>"
        f'{body[:end]}<script data-page="{number}">{script}</script>\n{body[end:]}'
    ).encode()


def widened_policy(policy: str, style: str, script: str) -> str:
    """`policy` with one more style and script, by their hashes, and requests to the page's own origin."""
    rules = dict(rule.strip().partition(" ")[::2] for rule in policy.split(";") if rule.strip())
    for name, allowed in (
        ("style-src", named_by_hash(style)),
        ("script-src", named_by_hash(script)),
        ("connect-src", "'self'"),
    ):
        own = [each for each in rules.get(name, "").split() if each != "'none'"]
        rules[name] = " ".join([*own, allowed])
    return "; ".join(f"{name} {allowed}".strip() for name, allowed in rules.items())


@cache
def _read(name: str) -> str:
    return (files("cardrecipe.preview") / name).read_text(encoding="utf-8")
