"""Each size by the one statement that settles it, in whatever order the statements stand."""

from cardrecipe.solve.explain import derivations
from tests.recipes import HEAD, compile_text

CHAIN = HEAD + "".join(
    f"rectangle {name} from ink\n  size {size} x 1\n  loose\n"
    for name, size in (("a", "b.width"), ("b", "c.width"), ("c", "d.width"), ("d", "2"))
)


def test_a_chain_that_is_written_backwards_is_settled_link_by_link() -> None:
    solution = compile_text(CHAIN).solution
    assert solution is not None
    found = derivations(solution)
    assert {len(said) for said in found.values()} == {1}
    for name in "abcd":
        (said,) = found[name, "width"]
        assert said.origin.text == f"the width of {name}"
