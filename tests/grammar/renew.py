"""Writes into the pages of `grammar/` what the program says now: `python -m tests.grammar.renew`.

Read what changed like any other change.
"""

from tests.grammar import mistakes_page, walk
from tests.grammar.test_pages import WALKED
from tests.recipes import ROOT


def main() -> None:
    mistakes_page.main()
    for name in WALKED:
        walk.main(ROOT / "grammar" / name)


if __name__ == "__main__":
    main()
