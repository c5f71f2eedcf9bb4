"""Tree to card: papers, pieces and sections, with every size still open."""
