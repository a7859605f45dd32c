"""The reference pages in contactfe/docs: current, and true of what is written."""

import pytest

from contactfe.assess.checks import Check
from contactfe.report import reference
from contactfe.report.verdicts import check_data


@pytest.mark.parametrize("name", reference.PAGES)
def test_the_page_is_current(name, tmp_path):
    reference.write(tmp_path)
    kept = (reference.FOLDER / name).read_text(encoding="utf-8")
    assert kept == (tmp_path / name).read_text(encoding="utf-8")


def test_every_key_of_a_check_is_said():
    check = Check(
        "k", "in words", "stress", "contact stress", "tube", "post", 1.0, 2.0, "stress", "source"
    )
    assert list(reference.CHECK_KEYS) == list(check_data(check))
