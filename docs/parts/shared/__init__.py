"""What the interactive parts share. The Python here travels to the page with theirs."""
