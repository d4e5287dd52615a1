"""Every measurement, one after the other: ``python -m tests.bench``. README.md says what each one is."""

from __future__ import annotations

import subprocess
import sys

from docs.build.site import ROOT

for name in ("first_answer", "next_page", "typed", "build_time", "diagnosis", "marking", "packs"):
    print(f"\n{name}\n", flush=True)
    subprocess.run([sys.executable, "-m", f"tests.bench.{name}"], check=True, cwd=ROOT)
