"""The cutting plan: the blanks of one paper from its stock sheets by cuts from edge to edge, fewest first."""
