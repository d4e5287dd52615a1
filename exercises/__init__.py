"""Problem sets, and marking from the student's own working. Builds on `calc`; knows no HTML."""
