"""Every picture of the sheet as SVG, each a pure function of the solved and folded card.

    svg         elements to text: the one emitter       marks     markup that knows its room
    colors      the one set of colours                  lines     the one set of line styles
    lettering   text and its width                      dimensions  numbers on measured lines
    shapes      outlines of the kinds of pieces         paint     paper, patterns, shadows
    sizes       scale, and sizes in words               flat_sheet  a scored piece lying flat

    score_guide (with score_badges), folding (with swing), pieces, placing (with scenes, turned_faces, lying,
    inset), slipping, score_step, works (with tools_drawn), joining, stands, band, views, posed, exploded,
    cut_sheets and legend: one kind of picture each
    so_far      the card as it stands at a step       step_drawings  which picture a step has
    index       all of them by name

A picture is gathered as a list of marks in mm; its page size is the room they take. Labels are
marks too, so that a later one can look for a place where none stands.
"""

from cardrecipe.render.drawings.index import drawings, shown_drawings
from cardrecipe.render.drawings.svg import Drawing

__all__ = ["Drawing", "drawings", "shown_drawings"]
