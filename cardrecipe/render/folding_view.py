"""A sheet → the part of the page that folds its card: sliders with their words, and the scene they move.

There is one scene for both unit systems, in the sizes of the sheet's own: no eye tells the two apart.
Without its script the part stays hidden.
"""

import json
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from markupsafe import Markup

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.stages import stages_of
from cardrecipe.fold.turns import Turn, branches_of, turns
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.words import capital, listed, plural, spoken, the
from cardrecipe.render.folding_scene import scene

STEPS_OF_A_TURN = 100  # of a slider
MOST_NAMES = 3  # sections that a slider is named after; beyond, its scores are

PART = Markup("""<section class="folds" aria-labelledby="folds{at}-title" hidden>
<h2 id="folds{at}-title">{title}</h2>
<p>Move the sliders, or the arrow keys on them: the card folds as yours will. {told}</p>
<div class="folds-body">
<div class="folds-picture"><svg role="img" aria-label="{label}" aria-describedby="folds{at}-said"></svg></div>
<div class="folds-controls">
{whole}{own}{poses}<div class="folds-view" role="group" aria-label="Look at it"><button type="button" \
data-side="0" aria-pressed="true">From the front</button><button type="button" data-side="180" \
aria-pressed="false">From the back</button></div>
<p class="folds-slider"><label for="folds{at}-about">Turn it about</label> <input type="range" \
id="folds{at}-about" min="-180" max="180" step="5" value="0" data-about></p>
<p class="aside" aria-live="polite" data-said id="folds{at}-said"></p>
</div>
</div>
<script type="application/json">{data}</script>
</section>
""")
SLIDER = Markup("""<p class="folds-slider{kind}"><label for="{id}">{label}{more}</label> <input type="range" \
id="{id}" min="0" max="{most}" value="0" {what}> <span class="folds-said" aria-hidden="true"></span></p>
""")
GROUP = Markup("<fieldset><legend>{legend}</legend>\n{sliders}</fieldset>\n")
PLAY = Markup('<button type="button" class="folds-play" data-play hidden>Play</button>\n')


class Control(NamedTuple):
    """What a slider moves: a turn of the card, or a band; `more` says which scores that are."""

    label: str
    more: str = ""
    is_pose: bool = False


def folding_view(sheet: Sheet) -> Markup | None:
    """Give the part of the page that folds the card, each of its bases; None where nothing folds."""
    folded = sheet.folded
    parts = [part for base in folded.closed for part in _of_base(folded, base.base)]
    if not parts:
        return None
    titles = ["Fold the card" if len(parts) == 1 else f"Fold {the(base)}" for base, _, _ in parts]
    views = (_view(at, title, *part) for at, (title, part) in enumerate(zip(titles, parts, strict=True)))
    return Markup().join(views)


def _of_base(folded: FoldedCard, base: str) -> Iterator[tuple[str, list[Control], dict[str, Any]]]:
    """Give a base with what moves it and its scene; nothing where no score of it is ever folded."""
    shut = next((each.shut for each in stages_of(folded) if each.base == base), None)
    found = turns(folded.card, shut) if shut is not None else ()
    if shut is None or not found:
        return
    bands = [each.piece.name for each in shut.placed if each.section is None and each.piece.around]
    depths = [len(way) for way in branches_of(shut).ways]
    controls = [_control(shut, depths, turn) for turn in found]
    controls += [Control(capital(spoken(band)), "slides on") for band in bands]
    yield base, controls, scene(folded.card, shut, found)


def _control(shut: Assembly, depths: Sequence[int], turn: Turn) -> Control:
    """Name a turn after the sections that swing in it, those farther from the root; its scores come after."""
    if turn.pose is not None:
        return Control(capital(spoken(turn.pose.name)), is_pose=True)
    own = shut.piece.name
    scores: dict[str, list[int]] = {}
    for at in sorted(turn.joints):
        scores.setdefault(_owner(shut, at), []).append(shut.joints[at].score.number)
    told = [_scores_told(name, numbers, own) for name, numbers in scores.items()]
    ends = [(shut.joints[at].first, shut.joints[at].second) for at in sorted(turn.joints)]
    moving = [max(pair, key=lambda at: depths[at]) for pair in ends]
    names = list(dict.fromkeys(the(shut.sections[at].name) for at in moving))
    ways = {shut.joints[at].score.direction for at in turn.joints}
    more = f"{listed(told)}, {ways.pop()}" if len(ways) == 1 else listed(told)
    if len(names) > MOST_NAMES or len(scores) > 1:
        return Control("All together", more)
    return Control(capital(listed(names)), more)


def _scores_told(name: str, numbers: Sequence[int], own: str) -> str:
    unique = list(dict.fromkeys(numbers))
    told = f"{'score' if len(unique) == 1 else 'scores'} {listed(map(str, unique))}"
    return told if name == own else f"{told} of {the(name)}"


def _owner(shut: Assembly, at: int) -> str:
    return shut.facings[shut.joints[at].first].piece.name


def _view(at: int, title: str, base: str, controls: Sequence[Control], found: dict[str, Any]) -> Markup:
    sliders = [_slider(at, number, each) for number, each in enumerate(controls)]
    own = [slider for slider, each in zip(sliders, controls, strict=True) if not each.is_pose]
    poses = [slider for slider, each in zip(sliders, controls, strict=True) if each.is_pose]
    data = json.dumps(found, separators=(",", ":")).replace("<", "\\u003c")
    return PART.format(
        at=at,
        title=title,
        told="The inside of the sheet is drawn a little paler than its outside.",
        label=f"The {spoken(base)} as it is folded now",
        whole=_whole(at, len(own)) if own else "",
        own=GROUP.format(legend="Each fold by itself", sliders=Markup().join(own)) if len(own) > 1 else "",
        poses=GROUP.format(legend=capital(plural("pose")), sliders=Markup().join(poses)) if poses else "",
        data=Markup(data),
    )


def _whole(at: int, count: int) -> Markup:
    most = count * STEPS_OF_A_TURN
    own, kind, what = f"folds{at}-whole", " folds-whole", Markup("data-whole")
    slider = SLIDER.format(id=own, label="From flat to closed", more="", kind=kind, most=most, what=what)
    return slider + PLAY


def _slider(at: int, number: int, each: Control) -> Markup:
    more = Markup(' <span class="quiet">{}</span>').format(each.more) if each.more else ""
    what = Markup('data-turn="{}"').format(number)
    own = f"folds{at}-{number}"
    return SLIDER.format(id=own, label=each.label, more=more, kind="", most=STEPS_OF_A_TURN, what=what)
