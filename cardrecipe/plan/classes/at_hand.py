"""What a class has already, by the names its recipes use → the papers and supplies that are meant."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.model.classes import Have, size_in
from cardrecipe.model.papers import Paper, Supply
from cardrecipe.plan.classes.cards import PaperAtHand
from cardrecipe.plan.classes.papers import Packet, packet_of
from cardrecipe.plan.glue import ADHESIVE_TITLES
from cardrecipe.plan.papers import pieces_of
from cardrecipe.plan.supplies import needs
from cardrecipe.plan.tools import tools
from cardrecipe.plan.words import quoted
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error, warning
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span

Thing = tuple[str, str]  # kind and title, without capitals, of a supply


class Shelf(NamedTuple):
    """Papers and supplies that the class file names itself, or by what it uses."""

    papers: Mapping[str, Paper]
    supplies: Mapping[str, Supply]


class AtHand(NamedTuple):
    papers: tuple[PaperAtHand, ...]
    supplies: frozenset[Thing]
    diagnostics: list[Diagnostic]


def at_hand(haves: Sequence[Have], cards: Sequence[SizedCard], shelf: Shelf, unit: str) -> AtHand:
    """What each `have` line means; mistakes are said at the line."""
    meant = _Meanings(cards, shelf, unit)
    found: list[PaperAtHand] = []
    supplies: set[Thing] = set()
    diagnostics: list[Diagnostic] = []
    for have in haves:
        papers, things = meant.papers(have.name), meant.things(have.name)
        if not papers and not things:
            diagnostics.append(_unknown(have, meant))
        elif have.count is None and things:
            supplies |= things
            if not things & meant.needed:
                diagnostics.append(_unused(have, f"nothing in this class needs `{have.name.text}`"))
        elif have.count is None or not papers:
            diagnostics.append(_wrong_count(have, bool(papers)))
        else:
            found += _paper(have, papers, meant, diagnostics)
    return AtHand(tuple(found), frozenset(supplies), diagnostics)


class _Meanings:
    """What names and titles mean in the recipes of a class; what the class itself names wins."""

    def __init__(self, cards: Sequence[SizedCard], shelf: Shelf, unit: str) -> None:
        self.unit, self.shelf = unit, shelf
        self.declared = [(paper, card.unit) for card in cards for paper in card.papers.values()]
        self.cut = {packet_of(card.papers[name], card.unit) for card in cards for name in card.papers
                    if pieces_of(card, name)}  # fmt: skip
        self.supplies = [
            *shelf.supplies.values(),
            *(each for card in cards for each in card.supplies.values()),
        ]
        self.needed = {_thing(need.kind, need.title) for card in cards for need in needs(card)}
        self.needed |= {_thing(line.kind, line.name) for card in cards for line in tools(card)}

    def papers(self, name: tree.Word | tree.Text) -> dict[Packet, Span]:
        """The packets that a name or a title stands for, those that are cut before others."""
        own = self.shelf.papers.get(name.text) if isinstance(name, tree.Word) else None
        if own is not None:
            return {packet_of(own, self.unit): own.span}
        found = {packet_of(paper, unit): paper.span for paper, unit in reversed(self._known())
                 if name.text == (paper.name if isinstance(name, tree.Word) else paper.title)}  # fmt: skip
        return {packet: span for packet, span in found.items() if packet in self.cut} or found

    def things(self, name: tree.Word | tree.Text) -> set[Thing]:
        """The supplies that a name or a title stands for; `tape` and the like are adhesives."""
        if isinstance(name, tree.Text):
            wanted = name.text.casefold()
            known = {*self.needed, *(_thing(each.kind, each.title) for each in self.supplies)}
            return {each for each in known if each[1] == wanted}
        found = {_thing(each.kind, each.title) for each in self.supplies if each.name == name.text}
        found = found or {each for each in self.needed if each[1] == name.text}  # named only where it is used
        if not found and name.text in ADHESIVE_TITLES:
            plain = ADHESIVE_TITLES[name.text].casefold()
            found = {each for each in self.needed if each[0] == "adhesive" and each[1].startswith(plain)}
            return found or {("adhesive", plain)}
        return found

    def known_names(self, name: tree.Word | tree.Text) -> Iterator[str]:
        if isinstance(name, tree.Text):
            yield from (paper.title for paper, _ in self._known())
            yield from (each.title for each in self.supplies)
            return
        yield from (paper.name for paper, _ in self._known())
        yield from (each.name for each in self.supplies)
        yield from ADHESIVE_TITLES

    def _known(self) -> list[tuple[Paper, str]]:
        return [*((paper, self.unit) for paper in self.shelf.papers.values()), *self.declared]


def _thing(kind: str, title: str) -> Thing:
    return kind, title.casefold()


def _paper(
    have: Have, papers: Mapping[Packet, Span], meant: _Meanings, diagnostics: list[Diagnostic]
) -> Iterator[PaperAtHand]:
    if len(papers) > 1:
        diagnostics.append(_two_papers(have, papers))
        return
    ((packet, _),) = papers.items()
    size = size_in(have.size, meant.unit, diagnostics) if have.size is not None else None
    if packet not in meant.cut:
        diagnostics.append(_unused(have, f"nothing in this class is cut from `{have.name.text}`"))
    elif (size is None) == (have.size is None):
        yield PaperAtHand(packet, have.count or 0, size)


# ---- what is said --------------------------------------------------------------------------------


def _unknown(have: Have, meant: _Meanings) -> Diagnostic:
    near = nearest(have.name.text, meant.known_names(have.name))
    shown = f"`{near}`" if isinstance(have.name, tree.Word) else f'"{near}"'
    hint = (
        f"did you mean {shown}?"
        if near
        else "write the name or, in quotes, the title that its recipe gives it"
    )
    called = f"`{have.name.text}`" if isinstance(have.name, tree.Word) else quoted(have.name.text)
    return error("unknown-name", have.name.span,
                 f"no recipe of this class has a paper or a supply called {called}", hint)  # fmt: skip


def _unused(have: Have, message: str) -> Diagnostic:
    return warning("have-unused", have.name.span, message, "take the line out, or make what needs it")


def _wrong_count(have: Have, is_paper: bool) -> Diagnostic:
    name = have.name.text if isinstance(have.name, tree.Word) else f'"{have.name.text}"'
    if is_paper:
        return error("have-count", have.span,
                     f"this does not say how many sheets there are of `{have.name.text}`",
                     f"write: have {name} 3 sheets")  # fmt: skip
    return error(
        "have-count", have.span, f"`{have.name.text}` does not come in sheets", f"write: have {name}"
    )


def _two_papers(have: Have, papers: Mapping[Packet, Span]) -> Diagnostic:
    titles = dict.fromkeys(str(packet[0]) for packet in papers)
    hint = "give them different titles in their recipes, and say which by its title in quotes"
    if len(titles) == len(papers):
        hint = f'say which by its title: have "{next(iter(titles))}" {have.count} sheets'
    return error("have-two-papers", have.name.span,
                 f"`{have.name.text}` is {len(papers)} different papers in the recipes of this class", hint,
                 tuple(Related(span, "one of them") for span in papers.values()))  # fmt: skip
