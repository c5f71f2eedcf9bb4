"""Texts that would do harm, or break a page, if anything took them for markup, code or a command.

Each holds many at once: where one alone were taken for markup, the page would differ from that of plain
words.
"""

_HTML = (
    "<script>alert(1)</script><img src=x onerror=alert(1)> <svg/onload=alert(1)> <a href=javascript:alert(1)>"
    " \" onmouseover=\"alert(1)\" ' autofocus onfocus='alert(1) ` onclick=`alert(1)"
    " </style></title></textarea></template></text></svg></main> <!-- --> --!> ]]> <![CDATA[ <?xml ?>"
    " &lt;b&gt; &#x3c;i&#x3e; &amp; &colon; <base href=//example.org/> <meta http-equiv=refresh content=0>"
)
_TEMPLATES = (
    " ${alert(1)} #{x} {{ 7 * 7 }} {% include 'x' %} {# c #} %(a)s {0} \\u003c \\x3c \\\\ \\n \\\" \\'"
    ' {"a": "\\u0000", "b": [1]} }body{background:url(http://example.org/x)} @import "x"; /* */ expression(1)'
)
_TYPST = (
    ' #read("/etc/passwd") #eval("1+1") #panic("no") #import "@preview/x:1.0.0" #sys.inputs #let x = 1'
    ' $x^2$ @label <label> // rest /* block */ \\u{41} "] + [" *b* _i_ = h `raw` ```r``` --- ~ \\'
)
_MARKDOWN = (
    " *a* _b_ ~~c~~ **d** [e](javascript:alert(1)) ![f](http://example.org/x.png) [g](http://example.org 'h')"
    " <http://example.org/i> http://example.org/j www.example.org mail@example.org [^1] [k] | l | m | :---"
    " `n` ``o`` ```p``` <b>q</b> &copy; \\* \\| #1 @user :smile: $$r$$ ==s== ^t^ ~u~ [[v]] <!--w--> %%x%%"
)
_COMMANDS = (
    " %%u%%d%%%%c %%065 \\P {\\C1;red} \\S1/2; \\U+000A \\M+1 ^J ^M 0 SECTION 2 ENTITIES 999"
    " ) Tj (x) /JS (app.alert) endstream endobj >> %PDF-1.7 $(touch x) `id` ; rm | tee & > x"
)
HOSTILE = _HTML + _TEMPLATES + _TYPST + _MARKDOWN + _COMMANDS
# Setting pages takes long, so that they are set with what means something to typst, or in a PDF, alone.
FOR_TYPST = '#read("/etc/passwd") #panic() $x$ @a <b> // /* \\u{41} "] [#1] *c* `d` ) Tj /JS >>'
# Marks that shape writing, writing from right to left, letters with towers on them, signs made of several.
MARKS = (
    "a\u200bb\u200cc\u200dd\u2060e\ufefff\u00adg\u200eh\u200fi\u061cj"
    " \u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627 \u706f\u7bed \u00e4\u00df\u00e9 \ufdfd"
    " e\u0301\u0302\u0303" + "\u0308" * 40 + " \U0001f469\u200d\U0001f467 \u2764\ufe0f \U0001f3fb"
    " \U0001f3f4\U000e0067\U000e0062\U000e0065\U000e006e\U000e0067\U000e007f"
)
LONG = "W" * 900 + "<b>" + "i" * 300 + "&amp;"

# What begins a block of Markdown where it stands first in a line.
FIRST = (
    "# head", "###### head", "- item", "+ item", "* item", "1. one", "12) two", "> quote", "---", "===",
    "***", "```js", "~~~", "| a | b |", "[^1]: note", "[x]: http://example.org", "<div>", "- [ ] task",
    ": term", "    code", "\tcode", "!!! note", "+++", "%%%", "<!-- x", "\\", "| - |", "=", "_ _ _",
)  # fmt: skip

# What no recipe may hold, each by what it is.
REFUSED = {
    "escape": "\x1b[31m", "title of the window": "\x1b]0;x\x07", "link": "\x1b]8;;http://e.org\x1b\\",
    "bell": "\x07", "backspace": "\x08\x08", "carriage return": "\rx", "nothing": "\0",
    "vertical tab": "\x0b", "form feed": "\x0c", "end of file": "\x1a", "delete": "\x7f",
    "c1 escape": "\x9b31m", "next line": "\x85",
    "line separator": "\u2028", "paragraph separator": "\u2029", "embedding to the left": "\u202b",
    "embedding to the right": "\u202a", "pop": "\u202c", "override to the right": "\u202d",
    "override to the left": "\u202e", "isolate to the right": "\u2066", "isolate to the left": "\u2067",
    "first strong isolate": "\u2068", "pop isolate": "\u2069", "obsolete mark": "\u206e",
    "annotation": "\ufff9", "tag": "\U000e0041", "tag of language": "\U000e0001", "no character": "\ufffe",
    "no character either": "\uffff", "nor this": "\ufdd0", "the last code": "\U0010ffff",
    "half a character": "\ud83d", "the other half": "\udc80",
}  # fmt: skip


def plain_twin(text: str) -> str:
    """Words as long as those of `text`, letter for letter, that nothing could take for anything else."""
    return "".join(letter if letter in " \n" else "n" for letter in text)
