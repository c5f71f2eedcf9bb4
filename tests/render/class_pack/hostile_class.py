"""A class with one hostile text wherever a maker's own words can stand."""

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.plan.sheet import Fact
from tests.render.class_pack.hand_made_class import class_sheet
from tests.render.hostile import with_text


def hostile_class(text: str) -> ClassSheet:
    """The class of the tests with `text` for every title, amount and note."""
    sheet = class_sheet()
    return sheet._replace(
        title=text,
        facts=(Fact(text, text),),
        kits=tuple(
            kit._replace(title=text, path=text, variant=text, sheet=with_text(kit.sheet, text))
            for kit in sheet.kits
        ),
        shopping=tuple(
            line._replace(title=text, need=text, have=text, buy=text, cost=text) for line in sheet.shopping
        ),
        cost=text,
        cutting=tuple(each._replace(paper_title=text) for each in sheet.cutting),
        paper_totals=tuple(each._replace(title=text, words=text) for each in sheet.paper_totals),
        bags=tuple(
            bag._replace(
                title=text,
                lines=tuple(line._replace(what=text, paper=text, note=text) for line in bag.lines),
                shared=(text,),
            )
            for bag in sheet.bags
        ),
        prep=tuple(
            task._replace(tool=text, setting=text, text=text, amount=text, lines=(text,))
            for task in sheet.prep
        ),
        cautions=(text,),
        notes=(text,),
    )
