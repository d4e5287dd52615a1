"""Check the words of files: ``python -m tests.words docs/pages/lessons/x.md …``; without a name, all."""

from __future__ import annotations

import sys
from pathlib import Path

from tests.words.check import check, files
from tests.words.prose import READERS, passages
from tests.words.reading import measure


def main(arguments: list[str]) -> int:
    """Print what to mend, and each file's measures; 1 when there is something to mend."""
    found = 0
    for file in map(Path, arguments) if arguments else files():
        if not file.is_file() or file.suffix not in READERS:
            print(f"{file}: not a file this reads ({', '.join(READERS)})")
            found += 1
            continue
        findings = check(file)
        found += len(findings)
        for finding in findings:
            print(finding)
        reading = measure(passages(file))
        if reading and arguments:
            print(
                f"{file}: {reading.words} words, school year {reading.grade:.1f}, "
                f"{reading.mean_sentence:.1f} words a sentence, {reading.passive_share:.0%} look passive, "
                f"{len(findings)} to mend"
            )
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
