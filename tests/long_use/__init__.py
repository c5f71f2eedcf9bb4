"""Long use: what a process holds after thousands of builds and edits is what it held after the first few."""
