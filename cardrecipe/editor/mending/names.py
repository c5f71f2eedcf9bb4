"""Repairs of names: the known one that is nearest, a free one, a declaration, a file's right name."""

import re
from collections.abc import Iterable, Iterator

from cardrecipe.editor.mending.case import Case, Repair, records_in
from cardrecipe.editor.snapshot import Edit
from cardrecipe.library.folds import fold_names, folds_meant
from cardrecipe.model.texts import name_beside, text_at
from cardrecipe.syntax import tree
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.words import ADHESIVES

_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_TEXT = re.compile(r'"[^"\n]*"')


def unknown_name(case: Case) -> Iterator[Repair]:
    """The nearest known name; or the paper, the adhesive or the `let` declared."""
    words = case.words
    if words.startswith('"'):
        titles = [title for text in made_texts(case) for title in _TEXT.findall(text)]
        for meant in _by_nearness(words, titles):
            yield Repair(f"Write {meant}", (case.replaced(case.span, meant),), True)
        return
    for meant in dict.fromkeys([*_by_nearness(words, _known_names(case)), *_folds(case)]):
        yield Repair(f"Write `{meant}`", (case.replaced(case.span, meant),), True)
    yield from _declarations(case)
    if case.line is not None and case.head is not None and isinstance(case.head.node, tree.Variant):
        yield Repair("Take this line out", (case.taken_out(case.line),))


def _folds(case: Case) -> list[str]:
    """The folds that are meant where a fold is named."""
    node = case.line.node if case.line is not None else None
    if not isinstance(node, tree.Fold) or node.structure.span != case.span:
        return []
    own = [each.node.name.text for each in case.parsed.statements if isinstance(each.node, tree.Structure)]
    return folds_meant(case.words, [*own, *fold_names()])


def _known_names(case: Case) -> list[str]:
    """Names that a word may have been meant for, those of this file first."""
    text = case.source.text
    written = [name for each in (text, *made_texts(case)) for name in _NAME.findall(each)]
    card, solution = case.card, case.solution
    named = [name for each in case.pieces for name in (each.name, *each.sections)]
    shelf = [*card.papers, *card.supplies, *card.scope.lets] if card else []
    asked = [name for each in case.pieces for scope in each.scopes for name in scope.asked]
    sizes = list(solution.names.unknowns) if solution else []
    if "." in case.words:
        return [*sizes, *(f"{a}.{b}" for a in named for b in named)] if len(named) < 100 else sizes
    return list(dict.fromkeys([*written, *named, *shelf, *asked, *fold_names(), *ADHESIVES]))


def made_texts(case: Case) -> list[str]:
    """The recipes that a class makes: their names are the class's."""
    makes = [inner.node for each in case.parsed.statements for inner in each.block]
    names = [name_beside(case.span.file, node.path.text) for node in makes if isinstance(node, tree.Make)]
    texts = [text_at(case.snapshot.texts, name) for name in dict.fromkeys(names)]
    return [each for each in texts if each is not None]


def _by_nearness(word: str, known: Iterable[str]) -> Iterator[str]:
    """Up to three known names, the nearest first."""
    left = [each for each in dict.fromkeys(known) if each != word]
    for _ in range(3):
        meant = nearest(word, left)
        if meant is None:
            return
        yield meant
        left.remove(meant)


def _declarations(case: Case) -> Iterator[Repair]:
    head, words = case.head, case.words
    if head is None or not _NAME.fullmatch(words):
        return
    title = words.replace("-", " ").capitalize()
    shelf = tree.PaperLine | tree.SupplyLine
    papers = [each for each in case.parsed.statements if isinstance(each.node, shelf)]
    if isinstance(head.node, tree.PieceHeader) and head.node.paper and head.node.paper.span == case.span:
        line = f'paper {words} is cardstock "{title}"'
        yield Repair(f"Declare it: {line}", (_declared(case, papers, line),))
    adhesives = [node for node in records_in(case.line.node) if isinstance(node, tree.GlueLine)
                 and node.adhesive and node.adhesive.span == case.span] if case.line else []  # fmt: skip
    if adhesives:
        line = f'supply {words} is adhesive "{title}"'
        yield Repair(f"Declare it: {line}", (_declared(case, papers, line),))


def _declared(case: Case, papers: list[tree.Statement], line: str) -> Edit:
    if papers:
        return case.put_after(papers[-1], line)
    recipes = [each for each in case.parsed.statements if isinstance(each.node, tree.Recipe)]
    return case.put_after(recipes[0], line) if recipes else case.put(0, line + case.newline)


def doubled_name(case: Case) -> Iterator[Repair]:
    """The next name with a number that nobody has."""
    base = re.sub(r"-[0-9]+$", "", case.words)
    taken = set(_NAME.findall(case.source.text)) | {name for each in case.pieces for name in each.sections}
    number = next(n for n in range(2, len(taken) + 3) if f"{base}-{n}" not in taken)
    name = f"{base}-{number}"
    yield Repair(f"Call it `{name}`", (case.replaced(case.span, name),), True)


def two_sections(case: Case) -> Iterator[Repair]:
    """The section with its piece, for each piece that has one of that name."""
    section = case.words.rpartition(".")[2].partition(" ")[0]
    for piece in case.pieces:
        if section in piece.sections:
            new = case.words.replace(section, f"{piece.name}.{section}", 1)
            yield Repair(f"Write `{new}`", (case.replaced(case.span, new),))


def band_around(case: Case) -> Iterator[Repair]:
    """The band goes round one of the bases."""
    line = case.line
    if line is None:
        return
    for base in [each.name for each in case.pieces if each.kind == "base"]:
        yield Repair(f"Put it around `{base}`", (case.put(line.span.end, f" around {base}"),))


def host_cycle(case: Case) -> Iterator[Repair]:
    """One of the pieces goes on a section instead."""
    sections = [name for each in case.pieces if each.kind == "base" for name in each.sections]
    places = [case.span, *(each.span for each in case.diagnostic.related)]
    for section in sections[:4]:
        for place in places:
            trail = case.trail_to(place)
            node = trail[-1].node if trail else None
            if isinstance(node, tree.PieceHeader) and node.hosts:
                edit = case.replaced(node.hosts[0].name.span, section)
                yield Repair(f"Put `{node.name.text}` on `{section}`", (edit,))


def mat_on_nothing(case: Case) -> Iterator[Repair]:
    """The piece goes on what it was to lie under."""
    node = case.line.node if case.line is not None else None
    if isinstance(node, tree.PieceHeader) and node.under is not None:
        before = node.paper.span.end if node.paper is not None else node.name.span.end
        edit = case.replaced(node.under.span._replace(start=before), f" on {node.under.text}")
        yield Repair(f"Put `{node.name.text}` on `{node.under.text}`", (edit,))


def section_count(case: Case) -> Iterator[Repair]:
    """The names that are too many go, or those that are said to be in the middle."""
    line = case.line
    node = line.node if line else None
    if not isinstance(node, tree.Sections):
        return
    names = [each.text for each in node.names]
    for keep in range(len(names) - 1, 0, -1):
        new = ", ".join(names[:keep])
        yield Repair(f"Name only {new}", (case.replaced(case.span, f"sections {new}"),))


def glued_to_itself(case: Case) -> Iterator[Repair]:
    """The section is glued to another one of its piece or its base."""
    for piece in case.pieces:
        for section in piece.sections[:8]:
            if section != case.words:
                yield Repair(f"Glue it on `{section}`", (case.replaced(case.span, section),))


_SETTABLE = {
    "band": ("width", "length", "overlap"),
    "circle": ("diameter", "turned"),
    "base": ("width", "height"),
}


def cannot_set(case: Case) -> Iterator[Repair]:
    """A size that the piece has."""
    owner, _, wrong = case.words.rpartition(".")
    piece = case.piece_called(owner)
    known = list(_SETTABLE.get(piece.kind if piece else "", ("width", "height", "border", "turned")))
    known += [name for scope in (piece.scopes if piece else ()) for name in scope.asked]
    near = nearest(wrong, known)
    for name in dict.fromkeys([*([near] if near else []), *known]):
        new = f"{owner}.{name}" if owner else name
        yield Repair(f"Write `{new}`", (case.replaced(case.span, new),), name == near)
    if case.line is not None:
        yield Repair("Take this line out", (case.taken_out(case.line),))


# ---- files ---------------------------------------------------------------------------------------


def use_missing(case: Case) -> Iterator[Repair]:
    """The name of a file that is there and differs by a letter or the folder; or nothing is used."""
    path = case.words.strip('"')
    for other in _spellings(path):
        name = name_beside(case.span.file, other)
        if text_at(case.snapshot.texts, name) is not None:
            yield Repair(f'Use "{other}"', (case.replaced(case.span, f'"{other}"'),), True)
            break
    if case.line is not None:
        yield Repair("Take this line out", (case.taken_out(case.line),))


def _spellings(path: str) -> Iterator[str]:
    """What a file's name may be that somebody wrote so: the last part alone, the ending, one letter."""
    last = re.split(r"[/\\]", path)[-1]
    stem = last.removesuffix(".recipe")
    plain = stem.replace("_", "-").replace(" ", "-").lower()
    for name in dict.fromkeys([last.strip(" ."), stem.lower(), stem.capitalize(), plain]):
        yield name
        yield f"{name.removesuffix('.recipe')}.recipe"
    if len(stem) > 40:
        return
    for at in range(len(stem) + 1):
        for letter in "abcdefghijklmnopqrstuvwxyz0123456789-":
            yield f"{stem[:at]}{letter}{stem[at:]}.recipe"
            yield f"{stem[:at]}{letter}{stem[at + 1 :]}.recipe"
        yield f"{stem[:at]}{stem[at + 1 :]}.recipe"
        yield f"{stem[:at]}{stem[at : at + 2][::-1]}{stem[at + 2 :]}.recipe"


def use_cycle(case: Case) -> Iterator[Repair]:
    if case.line is not None:
        yield Repair("Take this `use` out", (case.taken_out(case.line),), True)


def unused(case: Case) -> Iterator[Repair]:
    """A paper or a supply that nothing uses goes; or it is put to use where the line names none."""
    head = case.head
    if head is None:
        return
    yield Repair("Take this line out", (case.taken_out(head),), True)
    node = head.node
    if isinstance(node, tree.SupplyLine) and node.kind.text == "ink":
        for line in [inner for each in case.parsed.statements for inner in each.block]:
            if isinstance(line.node, tree.WorkLine) and line.node.verb == "stamp" and not line.node.using:
                where = case.put(line.span.end, f" in {node.name.text}")
                yield Repair(f"Write `{case.text_of(line)} in {node.name.text}`", (where,))


def no_recipe(case: Case) -> Iterator[Repair]:
    """A first line, named for the file."""
    name = re.split(r"[/\\]", case.span.file)[-1].removesuffix(".recipe").replace("-", " ").capitalize()
    line = f'recipe "{name}"'
    yield Repair(f"Begin with {line}", (case.put(0, line + 2 * case.newline),), True)

