"""`on`, `under`, `around`: which section or piece is meant, and the names that sections have."""

import re
from collections.abc import Mapping, Sequence

from cardrecipe.model.card import HostRef, JoinOn, Piece
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span

# What a structure's own panels call the base that is folded by it.
HOME = "base"


_MOST_NAMED = 120  # parts of a piece whose number is not known beforehand; a base with more is not folded


def with_section_names(piece: Piece, diagnostics: list[Diagnostic]) -> Piece:
    """The names of the parts between the lines that run right across, made up where not written."""
    if piece.kind != "base" and not (piece.lines or piece.slanted):
        if len(piece.sections) > 1 and not (piece.windows or piece.broken):
            diagnostics.append(too_many_names(piece, 1, len(piece.sections)))
        return piece
    if not piece.has_plain_sections:
        # How many parts such lines make is known once they are solved; `solve` checks the names.
        count = len(piece.lines) + len(piece.slanted)
        crossing = count + 1 + count * (count - 1) // 2  # all cross each other
        spare = max(2 * count + 2, min(crossing, _MOST_NAMED))
        spares = (f"section-{at + 1}" for at in range(len(piece.sections), spare))
        return piece.replace(sections=(*piece.sections, *spares))
    whole_lines = [line for line in piece.lines if line.between is None]
    across = sum(line.edge in ("left", "right") for line in whole_lines) + 1
    down = len(whole_lines) - across + 2
    number = across * down
    names = piece.sections
    if len(names) > number and not piece.broken:
        diagnostics.append(too_many_names(piece, number, len(names)))
        names = names[:number]
    made_up = tuple(f"section-{at + 1}" for at in range(len(names), number))
    return piece.replace(sections=(*names, *made_up))


def too_many_names(piece: Piece, sections: int, names: int) -> Diagnostic:
    """More names stand in `sections` than the piece has."""
    return error("section-count", piece.sections_span or piece.span,
                 f"`{piece.name}` has {sections} section{'s' if sections > 1 else ''} but {names} names",
                 "add a score or take a name away")  # fmt: skip


def no_section(piece: Piece, name: str, span: Span, sections: Sequence[str], without: str = "") -> Diagnostic:
    """A section is named at `span` that is none of `sections`; `without` is the hint where there are none."""
    meant = nearest(name, sections)
    known = f"its sections are {', '.join(sections)}" if sections else without
    hint = f"did you mean `{meant}`?" if meant else known
    return error("unknown-name", span, f"`{piece.name}` has no section called `{name}`", hint)


class Places:
    """Resolves `on`, `under` and `around`: what is called so, and which piece it belongs to."""

    def __init__(
        self, pieces: Mapping[str, Piece], poison: frozenset[str], diagnostics: list[Diagnostic]
    ) -> None:
        self.pieces = pieces
        self.poison = poison
        self.diagnostics = diagnostics
        self.owners: dict[str, list[str]] = {}
        self.lost: set[str] = set()  # may be sections of a piece whose sections are not known
        for piece in pieces.values():
            for section in piece.sections:
                self.owners.setdefault(section, []).append(piece.name)
        # Where the number of parts is not known yet, names are ready for all that there could be. Nobody is
        # sent to one of them: there may be no such part.
        self.ready = {
            name for piece in pieces.values() if not piece.has_plain_sections
            for name in piece.sections[1:] if re.fullmatch(r"section-[0-9]+", name)
        }  # fmt: skip

    def hosted(self, piece: Piece, statement: tree.Statement) -> Piece:
        node = statement.node
        assert isinstance(node, tree.PieceHeader)
        hosts = [self._host(host, piece) for host in node.hosts]
        joins = [self._join(glued, piece) for glued in piece.glue.line.sections] if piece.glue else []
        broken = piece.broken or None in hosts or None in joins
        under = around = None
        if node.under is not None:
            under = self._piece_named(node.under)
            broken |= under is None
        if piece.kind == "band":
            around = self._base_around(piece, node)
            broken |= around is None
        found = tuple(host for host in hosts if host is not None)
        held = tuple(join for join in joins if join is not None)
        return piece.replace(hosts=found, under=under, around=around, downward=node.downward,
                              joins=held, broken=broken)  # fmt: skip

    def _join(self, glued: tree.Glued, piece: Piece) -> JoinOn | None:
        """A section of a piece and what it is glued to."""
        name = glued.section
        host = self._named(glued.host, "inside", piece)
        if name.text not in piece.sections:
            if not piece.sections_lost and name.text not in self.poison:
                without = _without_sections(glued)
                self.diagnostics.append(no_section(piece, name.text, name.span, piece.sections, without))
            return None
        if host is not None and (host.piece, host.section) in {(piece.name, name.text), (piece.name, None)}:
            self.diagnostics.append(error("glued-to-itself", glued.host.span,
                                          f"`{name.text}` is glued to itself",
                                          "name the section, or the piece, that it goes on"))  # fmt: skip
            return None
        return JoinOn(name.text, host) if host is not None else None

    def _base_around(self, piece: Piece, node: tree.PieceHeader) -> str | None:
        bases = [each.name for each in self.pieces.values() if each.kind == "base"]
        if node.around is None:
            if len(bases) == 1:
                return bases[0]
            self.diagnostics.append(error("band-around", piece.span,
                                          f"`{piece.name}` does not say what it goes round",
                                          f"band {piece.name} around {(bases or ['card'])[0]}"))  # fmt: skip
            return None
        name = node.around.text
        if name in bases:
            return name
        if name == "card" and len(bases) == 1:
            return bases[0]
        self._unknown(node.around, bases, "base")
        return None

    def _piece_named(self, name: tree.Reference) -> str | None:
        if name.text in self.pieces:
            return name.text
        self._unknown(name, list(self.pieces), "piece")
        return None

    def _host(self, host: tree.Host, piece: Piece) -> HostRef | None:
        return self._named(host.name, host.side or "inside", piece)

    def _named(self, host: tree.Reference, side: str, piece: Piece) -> HostRef | None:
        """What a reference in the lines of a piece means: its own sections first, then those of its home."""
        *owner, last = host.parts
        owners = self.owners.get(last, [])
        near = [name for name in (piece.home, piece.name) if name is not None and name in owners]
        if owner:
            owners = [name for name in owners if name == ".".join(owner)]
        elif last == HOME and piece.home is not None:
            return HostRef(piece.home, None, side, host.span)
        elif near:
            owners = near[:1]
        elif last in self.pieces:
            return HostRef(last, None, side, host.span)
        if len(owners) == 1:
            return HostRef(owners[0], last, side, host.span)
        if owners:
            choices = " or ".join(f"{name}.{last}" for name in owners)
            self.diagnostics.append(error("two-sections", host.span,
                                          f"`{last}` is a section of {len(owners)} pieces",
                                          f"write {choices}"))  # fmt: skip
            return None
        if any(piece.sections_lost for piece in self.pieces.values()):
            self.lost.update(host.parts)
            return None
        others = [name for name in (*self.owners, *self.pieces) if name != piece.name]
        self._unknown(host, others, "section or piece")
        return None

    def _unknown(self, name: tree.Reference, known: list[str], what: str) -> None:
        if any(part in self.poison for part in name.parts):
            return
        told = [each for each in known if each not in self.ready]
        meant = nearest(name.text, told)
        hint = f"did you mean `{meant}`?" if meant else f"there is {', '.join(told) or 'none yet'}"
        self.diagnostics.append(error("unknown-name", name.span, f"no {what} is called `{name.text}`", hint))


def _without_sections(glued: tree.Glued) -> str:
    """What was meant where a piece without scores is glued by a section."""
    return (
        f"without scores it is glued as a whole: `glue with tape only on {glued.host.text}` says where; "
        "a piece with `sections` is glued by one of them"
    )
