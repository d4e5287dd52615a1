"""What is made of a set and its answers for people and other programs: pages, paper, packages."""
