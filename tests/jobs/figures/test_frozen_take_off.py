"""A take-off that is kept."""

import json

import pytest

from jobs.figures.frozen import frozen_take_off, thawed_take_off
from materials.estimator.spec import JobSpec
from materials.estimator.takeoff import take_off
from tests.jobs.quote_samples import long_pear, six_acorns


@pytest.mark.parametrize("spec", [long_pear(), six_acorns()], ids=lambda spec: spec.name)
def test_it_comes_back_from_json_as_it_was(spec: JobSpec) -> None:
    worked = take_off(spec)
    assert thawed_take_off(json.loads(json.dumps(frozen_take_off(worked), allow_nan=False))) == worked
