"""A page to PDF, by a browser of the Chromium family if this machine has one."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
PATIENCE = 300


class PdfError(RuntimeError):
    """There is no browser, or it failed; the message says what to do instead."""


def browser() -> str | None:
    """The path of a Chromium on this machine, if there is one."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def print_pdf(html: Path, pdf: Path) -> None:
    """Print an HTML file of ours to PDF. Raises PdfError."""
    program = browser()
    if program is None:
        raise PdfError("No Chromium was found for PDFs. Open the HTML and print it from there.")
    # As root a browser has no sandbox; the page is ours and runs no scripts.
    as_root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with tempfile.TemporaryDirectory() as profile:
        command = [
            program,
            "--headless",
            "--disable-gpu",
            *as_root,
            f"--user-data-dir={profile}",
            "--no-pdf-header-footer",
            f"--print-to-pdf={pdf.resolve()}",
            html.resolve().as_uri(),
        ]
        try:
            done = subprocess.run(command, capture_output=True, timeout=PATIENCE, check=False)
        except (OSError, subprocess.TimeoutExpired):
            done = None
    if done is None or done.returncode or not pdf.exists():
        raise PdfError("The browser made no PDF. Open the HTML and print it from there.")
