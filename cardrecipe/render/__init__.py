"""Sheet to pages: drawings once, used by HTML, PDF, Markdown and JSON."""
