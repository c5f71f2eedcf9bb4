"""What happened to the papers: new, gone, another sheet under the same name, another colour."""

from collections.abc import Iterable, Iterator

from cardrecipe.compare.aspects import paper_facts
from cardrecipe.compare.both import Both, in_common
from cardrecipe.compare.changes import Change
from cardrecipe.compare.pairs import used_papers
from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.plan.papers import pieces_of
from cardrecipe.plan.words import bought_length, bought_size, listed, paper_words, spoken


def paper_changes(both: Both) -> Iterator[Change]:
    """Every change of a paper that something is cut from; papers that nothing uses are not told."""
    before, after = used_papers(both.old_card), used_papers(both.new_card)
    back = {new: old for old, new in both.pairs.papers.items()}
    for name, paper in after.items():
        if name in back:
            yield from _changed(both, before[back[name]], paper)
        else:
            because = both.causes.of_owner("", f"paper {name}") or both.causes.of_users("", name)
            yield Change("papers", "new", paper_words(paper), "", facts_told(paper, both.new_card.unit),
                         _users(both, None, name), because)  # fmt: skip
    for name, paper in before.items():
        if name not in both.pairs.papers:
            because = both.causes.of_owner(f"paper {name}", "") or both.causes.of_users(name, "")
            yield Change("papers", "gone", paper_words(paper), facts_told(paper, both.old_card.unit), "",
                         _users(both, name, None), because)  # fmt: skip


def _changed(both: Both, old: Paper, new: Paper) -> Iterator[Change]:
    because = both.causes.of_owner(f"paper {old.name}", f"paper {new.name}")
    users = _users(both, old.name, new.name)
    if old.name != new.name:
        yield Change(
            "papers", "renamed", paper_words(new), old.name, new.name, "the paper itself is the same", because
        )
    before, after = paper_facts(old, both.pairs.old.scale), paper_facts(new, both.pairs.new.scale)
    other = [name for name, one, two in zip(_FACTS, before, after, strict=True) if one != two]
    if "title" in other or "kind" in other:
        yield Change("papers", "other paper", _name(old, new), paper_told(old, both.old_card.unit),
                     paper_told(new, both.new_card.unit), users, because)  # fmt: skip
        return
    if other == ["color"]:
        yield Change("papers", "recoloured", paper_words(new), old.color or "no colour told",
                     new.color or "no colour told", users, because)  # fmt: skip
    elif other:
        said = _facts(old, other, both.old_card.unit), _facts(new, other, both.new_card.unit)
        yield Change("papers", "changed", paper_words(new), *said, users, because)


_FACTS = ("title", "kind", "color", "size", "weight", "thickness", "grain", "direction", "pack")


def _name(old: Paper, new: Paper) -> str:
    """What both are called in the recipe; a word for it where that differs as well."""
    return old.name if old.name == new.name else "a paper"


def paper_told(paper: Paper, unit: str) -> str:
    """A paper in a line: `Ink blue cardstock, colour #22304a, 8 1⁄2 × 11 in at 0.40, 270 gsm`."""
    return ", ".join(part for part in (paper_words(paper), facts_told(paper, unit)) if part)


def facts_told(paper: Paper, unit: str) -> str:
    """All that the packet says beside the name."""
    return ", ".join(part for part in (_fact(paper, name, unit) for name in _FACTS[2:]) if part)


def _facts(paper: Paper, names: Iterable[str], unit: str) -> str:
    return ", ".join(_fact(paper, name, unit) or f"no {name} told" for name in names)


def _fact(paper: Paper, name: str, unit: str) -> str:
    if name == "color":
        return f"colour {paper.color}" if paper.color else ""
    if name == "size":
        return listed((_sheet(each, unit) for each in paper.sheets), last="or")
    if name == "weight" and paper.weight is not None:
        amount = f"{float(paper.weight.amount):g} {paper.weight.unit}"
        return f"{amount} {paper.weight.basis}" if paper.weight.basis else amount
    if name == "thickness" and paper.thick is not None:
        return f"{bought_length(paper.thick, unit)} thick"
    if name == "grain" and paper.grain:
        return f"grain {paper.grain}"
    if name == "direction":
        return "one-way pattern" if paper.one_way else ""
    return f"pack of {paper.pack}" if name == "pack" and paper.pack else ""


def _sheet(sheet: StockSheet, unit: str) -> str:
    at = f" at {float(sheet.price):.2f}" if sheet.price is not None else ""
    return f"{bought_size(sheet.width, sheet.height, unit)}{at}"


def _users(both: Both, old: str | None, new: str | None) -> str:
    """The pieces that are cut from a paper, in both cards where it is in both."""
    before = [piece.name for piece in pieces_of(both.old_card, old)] if old is not None else None
    after = [piece.name for piece in pieces_of(both.new_card, new)] if new is not None else None
    names = in_common(before, after) if before is not None and after is not None else before or after or []
    return f"for the {listed(map(spoken, names))}" if names else ""
