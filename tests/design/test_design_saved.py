"""A design put on the disk: never over something that was not meant."""

import os
import stat
from pathlib import Path

import pytest
from design_texts import GOOD

from tracker.loading import save_design
from tracker.problems import ProblemsError


def test_a_new_file(tmp_path: Path) -> None:
    """It is made once; where something is there by now, that stays."""
    path = tmp_path / "band.design.toml"

    assert save_design(GOOD, path, over=None)
    assert not save_design("else", path, over=None)
    assert GOOD == path.read_text("utf-8")


def test_only_what_was_meant_is_written_over(tmp_path: Path) -> None:
    """The text that was read goes; another one stays. Rights and links stay as they were."""
    path, link = tmp_path / "band.design.toml", tmp_path / "link.design.toml"
    path.write_text(GOOD, "utf-8")
    path.chmod(0o640)
    link.symlink_to(path.name)

    assert not save_design("new", link, over="old")
    assert GOOD == path.read_text("utf-8")
    assert save_design("new", link, over=GOOD)
    assert "new" == path.read_text("utf-8")
    assert link.is_symlink()
    assert 0o640 == stat.S_IMODE(path.stat().st_mode)


@pytest.mark.parametrize("over", [None, GOOD])
def test_where_it_cannot_be_written(tmp_path: Path, over: str | None) -> None:
    """A folder that is not there is a problem that names the file."""
    path = tmp_path / "gone" / "band.design.toml"
    with pytest.raises(ProblemsError, match="cannot be") as error:
        save_design(GOOD, path, over=over)

    assert os.fspath(path) == error.value.file


def test_a_name_that_no_file_can_have() -> None:
    """A zero byte is a problem too."""
    with pytest.raises(ProblemsError, match="name another one"):
        save_design(GOOD, Path("a\0b"), over=None)
