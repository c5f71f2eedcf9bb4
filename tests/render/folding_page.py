"""A page with nothing but the part that folds a card, and what its script is asked in the tests."""

import json
from pathlib import Path
from typing import Any

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.folding_view import folding_view
from cardrecipe.render.page_style import template_text
from tests.render.chromium import Browser

FIRE = """const fire = (query, value) => {
    const slider = document.querySelector(query);
    slider.value = value;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
};"""


def sheet_of(folded: FoldedCard) -> Sheet:
    """As much of a sheet as the folding view reads."""
    return Sheet(folded, folded.card.title, "", (), (), (), (), (), (), (), ())


def page_text(folded: FoldedCard) -> str:
    style = "".join(map(template_text, ("page.css", "live.css", "folding.css")))
    script = template_text("folding.js")
    return (
        "<!doctype html><html lang=en><meta charset=utf-8><title>A card</title>"
        f"<style>{style}</style><main>{folding_view(sheet_of(folded))}</main><script>{script}</script>"
    )


def open_card(browser: Browser, folded: FoldedCard, folder: Path, width: int = 1280) -> None:
    page = folder / "card.html"
    page.write_text(page_text(folded), "utf-8")
    browser.open(page, width, 1100)


def move(browser: Browser, query: str, value: float) -> None:
    browser.run(f"(() => {{ {FIRE} fire({query!r}, {value}); }})()")


def drawn(browser: Browser) -> list[tuple[str, str]]:
    """Everything that is drawn, the farthest first: its name and its outline."""
    script = """[...document.querySelectorAll(".folds svg > g")].map((item) =>
        [item.dataset.section ?? item.dataset.piece, item.querySelector(".folds-paper").getAttribute("d")])"""
    return [(name, outline) for name, outline in browser.run(script)]


def on_top(browser: Browser, points: list[tuple[float, float]]) -> list[tuple[str, str] | None]:
    """What is on top at points of the picture, its name and its colour; None beside everything."""
    script = f"""(() => {{
        const svg = document.querySelector(".folds svg");
        svg.scrollIntoView({{ block: "nearest" }});
        const to = svg.getScreenCTM();
        return {json.dumps(points)}.map(([x, y]) => {{
            const at = new DOMPoint(x, y).matrixTransform(to);
            const item = document.elementFromPoint(at.x, at.y)?.closest(".folds-item");
            return item && [item.dataset.section ?? item.dataset.piece,
                item.querySelector(".folds-paper").getAttribute("fill")];
        }});
    }})()"""
    return [(each[0], each[1]) if each else None for each in browser.run(script)]


def problems(browser: Browser) -> list[dict[str, Any]]:
    wrong = ("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled")
    return [event for event in browser.events if event["method"] in wrong]
