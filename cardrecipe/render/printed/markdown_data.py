"""The maker's Markdown as plain data for the template, which places it and never evaluates it."""

from collections.abc import Iterable

from cardrecipe.render.prose import Block, Run, plain_text

Data = dict[str, object]


def blocks_data(blocks: Iterable[Block]) -> list[Data]:
    return [
        {
            "kind": block.kind,
            "runs": _runs(block.runs),
            "blocks": blocks_data(block.blocks),
            "text": block.text,
            "level": block.level,
            "start": block.start,
        }
        for block in blocks
    ]


def _runs(runs: Iterable[Run]) -> list[Data]:
    return [
        {
            "kind": run.kind,
            "text": run.text,
            "href": run.href,
            "bare": plain_text(run.runs),
            "runs": _runs(run.runs),
        }
        for run in runs
    ]
