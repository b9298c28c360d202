"""Every operation of the contract, as it stands, is called with what it allows and with what it forbids.

All phases of schemathesis run (examples, boundaries, random, stateful) with all its checks and our own. One
check is replaced: `positive_data_acceptance` by `accepts_what_fits`, which excuses what no schema can say and
counts it (see fuzzing.py).
"""

from typing import Any

import schemathesis
from hypothesis import HealthCheck, settings

from service.http.app import create_app
from tests.contract.fuzzing import ANSWERED, REPLACED, contract_of, load

app = create_app()
schema = load(app, contract_of(app), {"generation": {"max-examples": 30}})


@schema.parametrize()
def test_operations_hold_the_contract(case: schemathesis.Case[Any]) -> None:
    case.call_and_validate(excluded_checks=REPLACED)


class Machine(schema.as_state_machine()):  # type: ignore[misc]  # made at run time
    """Follows the links of the contract, from an answer to the next request."""

    def validate_response(self, response: schemathesis.Response, case: schemathesis.Case[Any], **_: object) -> None:
        case.validate_response(response, excluded_checks=REPLACED)


TestLinks = Machine.TestCase
TestLinks.settings = settings(
    max_examples=15, stateful_step_count=4, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


def test_every_operation_was_answered_with_success() -> None:
    labels = {f"{method.upper()} {path}" for path, item in schema.raw_schema["paths"].items() for method in item}
    missing = labels - {label for label, status in ANSWERED if status == 200}
    assert not missing, "never computed (or only a part of this file was run)"
