"""The bench: what is bought, what happens to it, and the printed aids that help."""
