"""A text → its outline, and what folds away."""
