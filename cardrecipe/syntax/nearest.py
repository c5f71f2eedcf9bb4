"""The known word that a misspelt one is most likely to mean, or none; and how several are told."""

from collections.abc import Iterable, Sequence


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The word of `known` closest to `word` by edits, or None where none is close enough.

    The threshold grows with the word's length: no edit for two letters, one for up to five, two for
    up to nine, then three. The first of equals wins, so put names in scope first.
    """
    allowed = 0 if len(word) < 3 else 1 if len(word) < 6 else 2 if len(word) < 10 else 3
    best, best_distance = None, allowed + 1
    for candidate in known:
        if abs(len(candidate) - len(word)) >= best_distance:
            continue
        distance = _edits(word, candidate)
        if distance < best_distance:
            best, best_distance = candidate, distance
    return best


def either(words: Sequence[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    return " or ".join([", ".join(words[:-1]), *words[-1:]] if len(words) > 1 else words)


def _edits(one: str, other: str) -> int:
    """Insertions, deletions, changes and swaps of neighbours (Damerau 1964, the restricted form)."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        before, last, row = row, before, [i]
        for j, b in enumerate(other, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
    return row[-1]
