"""What an author does wrong ends in a message, not in a traceback."""

import pytest

from calc import composition
from calc.data_file import DataFileError
from docs.build import site
from docs.build.error import BuildError


def test_a_menu_line_indented_wrongly_is_told(tmp_path, monkeypatch):
    config = tmp_path / "site_config.yml"
    text = site.CONFIG.read_text("utf-8")
    config.write_text(
        text.replace("nav:\n  - Start", "nav:\n   - Mine: mine.md\n  - Start"), "utf-8"
    )
    monkeypatch.setattr(site, "CONFIG", config)
    with pytest.raises(BuildError, match=r"site_config.yml: (.|\n)*Indent each line"):
        site.build_site(tmp_path / "site")


def test_a_slip_in_the_table_of_ingredients_stops_the_build(tmp_path, monkeypatch):
    def broken():
        raise DataFileError("calc/data/ingredients.csv, line 2: as it is")

    monkeypatch.setattr(composition, "table", broken)
    with pytest.raises(BuildError, match="line 2: as it is"):
        site.build_site(tmp_path / "site")


def test_a_folder_with_other_files_is_spared(tmp_path):
    (tmp_path / "thesis.txt").write_text("mine", "utf-8")
    with pytest.raises(BuildError, match=r"other files(.|\n)*Name a new folder"):
        site.build_site(tmp_path)
    assert (tmp_path / "thesis.txt").read_text("utf-8") == "mine"
