"""The shipped meters and limits, read from their files as the program reads them."""

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.meters.records import MeterRecord


@pytest.fixture(scope="session")
def meters() -> dict[str, MeterRecord]:
    files = sorted((shipped_folder("resources") / "meters").glob("*.yaml"))
    records = [build_model(read_document(file), MeterRecord) for file in files]
    return {record.meter: record for record in records}


@pytest.fixture(scope="session")
def profiles() -> dict[str, LimitProfile]:
    files = sorted((shipped_folder("resources") / "limits").glob("*.yaml"))
    found = [build_model(read_document(file), LimitProfile) for file in files]
    return {profile.limits: profile for profile in found}


@pytest.fixture(scope="session")
def gb(profiles) -> LimitProfile:
    return profiles["gb"]
