"""Two sheets → what changed for the maker."""
