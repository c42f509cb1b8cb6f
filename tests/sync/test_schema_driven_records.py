"""Requests drawn from the document for the calls on records, with a good token, none, a revoked."""

import gzip
import json

import pytest
import requests
import schemathesis
from drawing import LONG, seeds
from drawn import each_case
from hypothesis import strategies as st
from phone import Phone
from schemathesis.config import SchemathesisConfig
from schemathesis.generation import GenerationMode

from basinside.cli.devices import revoke
from basinside.cli.serve import Settings
from basinside.service.http.document.calls.export import EXPORT_CALLS
from basinside.service.http.document.calls.records import RECORD_CALLS
from basinside.service.http.document.openapi import openapi_text

CASES = 10 if LONG else 4
# Who is not let in is told so whatever was sent.
CASES_NOT_LET_IN = 10 if LONG else 2
DOCUMENTED = json.loads(openapi_text())
for methods in DOCUMENTED["paths"].values():
    for operation in methods.values():
        operation.pop("security", None)  # the token is ours, not what the tester would draw
CALLS = [call for call in (*EXPORT_CALLS, *RECORD_CALLS) if call.paired]
# A third of them each day.
TODAY = [CALLS[place] for place in seeds(len(CALLS), parts=3)]
# The live stream answers until the caller hangs up; a case of it would never end.
ENDING_TODAY = [call for call in TODAY if not call.events]
# What no schema can say: a bookmark or a cursor that was given out, a word among what was typed;
# and a whole number written as 1.0, which is refused although it is one by the schema.
REFUSED = {
    "positive_data_acceptance": {"expected-statuses": ["2xx", 400, 403, 409]},
    "negative_data_rejection": {"expected-statuses": [400, 403, 409, 413]},
}
NOT_LET_IN = {
    "positive_data_acceptance": {"expected-statuses": [401, 403]},
    "negative_data_rejection": {"expected-statuses": [401, 403]},
}


# Half of the drawn files are packed as they should be.
PLAIN = st.binary(max_size=200)
schemathesis.openapi.media_type("application/gzip", PLAIN | PLAIN.map(gzip.compress))


def ask_for_each(client, call, headers, checks, cases):
    """Draw, send and check so many cases of one call; return the statuses that came."""
    config = SchemathesisConfig.from_dict({"checks": checks})
    schema = schemathesis.openapi.from_dict(DOCUMENTED, config=config)
    operation = schema[call.path][call.method]
    statuses = set()

    def ask(case):
        drawn = case.as_transport_kwargs(base_url=str(client.base_url), headers=headers)
        sent = requests.Request(**drawn).prepare()
        reply = client.request(sent.method, sent.url, content=sent.body, headers=sent.headers)
        case.validate_response(reply)
        statuses.add(reply.status_code)

    for mode in GenerationMode:
        if mode is GenerationMode.POSITIVE or call.asked or call.query:  # else nothing to spoil
            each_case(operation, mode, cases, ask)
    return statuses


@pytest.mark.parametrize("call", ENDING_TODAY, ids=lambda call: call.operation)
def test_a_paired_device_gets_no_undocumented_answer(client, phone, call):
    headers = {"authorization": f"Bearer {phone.token}"}
    statuses = ask_for_each(client, call, headers, REFUSED, CASES)
    # A drawn body, or the id of a device, is hardly ever one that fits.
    assert 200 in statuses or call.asked or call.named or call.file


@pytest.mark.parametrize("call", TODAY, ids=lambda call: call.operation)
def test_whoever_is_not_paired_gets_nothing_else(client, phone: Phone, folder, call):
    assert ask_for_each(client, call, {}, NOT_LET_IN, CASES_NOT_LET_IN) == {401}
    revoke(Settings("127.0.0.1", 0, folder), phone.device_id)
    headers = {"authorization": f"Bearer {phone.token}"}
    assert ask_for_each(client, call, headers, NOT_LET_IN, CASES_NOT_LET_IN) == {403}
