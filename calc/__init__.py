"""Doughwater's calculations: standard library only, the same files in CPython and in the page.

Units inside ``calc``: masses in grams, shares as fractions (81 % is 0.81).
`calc.units` reads and writes the units a baker uses.
"""
