"""Two sheets and what changed between them → one page with both drawn side by side."""

from cardrecipe.render.side_by_side.page import render_side_by_side

__all__ = ["render_side_by_side"]
