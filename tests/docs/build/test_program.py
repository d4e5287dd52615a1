"""The program that the site offers is whole, runs where it is unpacked, and is the same each time."""

import io
import subprocess
import sys
import zipfile

from docs.build.program import FOLDER, program


def test_the_program_runs_where_it_is_unpacked(tmp_path):
    assert program() == program()
    with zipfile.ZipFile(io.BytesIO(program())) as made:
        names = made.namelist()
        made.extractall(tmp_path)
    assert not [name for name in names if "node_modules" in name or "__pycache__" in name]
    check = "from exercises.cli import main; main(['check', 'exercises/sets/first-swaps.yml'])"
    done = subprocess.run([sys.executable, "-c", check], cwd=tmp_path / FOLDER, capture_output=True, text=True)  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "first-swaps.yml" in done.stdout
    building = "import docs.build.site as site; print(site.CONFIG.is_file(), site.ROOT)"
    done = subprocess.run([sys.executable, "-c", building], cwd=tmp_path / FOLDER, capture_output=True, text=True)  # fmt: skip
    assert done.stdout.split() == ["True", str(tmp_path / FOLDER)]
