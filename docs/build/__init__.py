"""The build: MkDocs, one pass over each page, then the files that the page needs beside it.

It knows everything below `docs`; of that, only the engine and offline use know its errors and its policy.
"""

# Before all that it tells of.
from docs.build import stamp as stamp
