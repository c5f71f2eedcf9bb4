"""How many sheets two general libraries for packing rectangles need: published packages, as they are.

rectpack has guillotine modes; hyperpack packs without that limit, and so may do what no trimmer can.
"""

import hyperpack
import rectpack

from cardrecipe.plan.cutting.job import Job

# Which free rectangle is taken, and how what is left of it is split.
MODES = [
    getattr(rectpack, f"Guillotine{fit}{split}")
    for fit in ("Bssf", "Blsf", "Baf")
    for split in ("Sas", "Maxas")
]


def by_rectpack(job: Job) -> int:
    """Give the fewest sheets of all its guillotine modes; they turn all pieces or none."""
    stock, may_turn = job.stocks[0], all(each.may_turn for each in job.blanks)
    numbers = []
    for mode in MODES:
        packer = rectpack.newPacker(pack_algo=mode, rotation=may_turn)
        for each in job.blanks:
            for _ in range(each.demand):
                packer.add_rect(each.width, each.height)
        packer.add_bin(stock.width, stock.height, count=float("inf"))
        packer.pack()
        assert len(packer.rect_list()) == sum(each.demand for each in job.blanks)
        numbers.append(len(packer))
    return min(numbers)


def by_hyperpack(job: Job) -> int:
    """Give the sheets of its default way; cuts need not run from edge to edge."""
    stock, may_turn = job.stocks[0], all(each.may_turn for each in job.blanks)
    pieces = [each for each in job.blanks for _ in range(each.demand)]
    items = {f"i{at}": {"w": each.width, "l": each.height} for at, each in enumerate(pieces)}
    sheets = {f"s{at}": {"W": stock.width, "L": stock.height} for at in range(len(pieces))}
    packing = hyperpack.HyperPack(
        containers=sheets, items=items, settings={"workers_num": 1, "rotation": may_turn}
    )
    packing.solve()
    assert sum(map(len, packing.solution.values())) == len(pieces)
    return sum(bool(held) for held in packing.solution.values())
