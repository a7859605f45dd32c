import pytest
from bodies import member, plate


@pytest.fixture(scope="session")
def tube():
    return member(75.0, 50.0, 1.1, "beam shear")


@pytest.fixture(scope="session")
def bed():
    return plate(300.0, 60.0, 1.1)
