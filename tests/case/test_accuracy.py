import pytest

from contactfe.case.accuracy import parse_accuracy
from contactfe.errors import InputError


@pytest.mark.parametrize(
    ("text", "accuracy"), [("2 %", 0.02), ("0.1 %", 0.001), ("20%", 0.2), ("0.35 %", 0.0035)]
)
def test_reads_what_may_be_asked_for(text, accuracy):
    assert parse_accuracy(text) == pytest.approx(accuracy, rel=1e-15)


@pytest.mark.parametrize("text", ["0.09 %", "20.1 %", "0 %", "-2 %", "1e999 %"])
def test_what_is_too_fine_or_too_coarse_is_refused(text):
    with pytest.raises(InputError) as refusal:
        parse_accuracy(text)
    assert str(refusal.value) == "must be from 0.1 % to 20 %"


def test_a_bare_number_is_refused():
    with pytest.raises(InputError, match='write for example "2 %"'):
        parse_accuracy(0.02)
