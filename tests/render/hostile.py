"""Texts that would do harm, or break the page, if a renderer took them for markup or code."""

from cardrecipe.plan.sheet import Fact, Sheet

TEXTS = {
    "script": '<script>alert("1")</script>',
    "attribute": '" onmouseover="alert(1)" x="',
    "single quotes": "' onfocus='alert(1)' autofocus='",
    "entity": "&lt;b&gt; &amp; &#60;i&#62;",
    "closing": "</style></title></textarea><!-- --><svg onload=alert(1)>",
    "jinja": "{{ 7 * 7 }}{% include 'x' %}{# c #}",
    "typst code": '#panic("no") #sys.inputs #include("/etc/passwd") $x^2$ @label <label>',
    "typst strings": '"] #import "@preview/x:1.0.0" [" \\u{41} // not a comment',
    "markdown": "# *a* _b_ `c` [d](javascript:alert(1)) ![e](http://example.org/x.png) | f | ~~g~~",
    "list": "1. one",
    "rule": "---",
    "css": "}body{background:url(http://example.org/x)}",
    "json": '{"a": "\\u0000", "b": [1, 2]}',
    "backslashes": "\\\\ \\n \\\" \\' \\",
}


def with_text(sheet: Sheet, text: str) -> Sheet:
    """The sheet with `text` wherever a maker's own words can stand, but for the Markdown fields."""
    changed = sheet._replace(
        title=text,
        folded=sheet.folded._replace(card=sheet.folded.card._replace(title=text, variant=text)),
        facts=tuple(Fact(text, text) for _ in sheet.facts),
        supplies=tuple(line._replace(name=text, amount=text, used_for=(text,)) for line in sheet.supplies),
        cuts=tuple(
            line._replace(paper=text, paper_title=text, size=text, other_size=text, notes=(text,))
            for line in sheet.cuts
        ),
        scores=tuple(guide._replace(short_way=text) for guide in sheet.scores),
        steps=tuple(
            step._replace(title=text, text=text, picks_up=(text,), check=text, cautions=(text,))
            for step in sheet.steps
        ),
        envelopes=tuple(fit._replace(title=text, note=text) for fit in sheet.envelopes),
        cautions=(text,),
        notes=(text,),
    )
    if sheet.other is None:
        return changed
    return changed._replace(other=with_text(sheet.other, text))
