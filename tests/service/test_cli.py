"""The command line: what it prints, where, and how it ends; three commands as a process too."""

import http.client
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys

import pytest
from running import PATIENCE_S

from basinside import cli
from basinside.cli.listening import listen
from basinside.engine.door import answer
from basinside.service.http.document import examples
from basinside.service.store.shelf import SEED_FOLDER

USAGE = 2


@pytest.fixture
def asked(tmp_path):
    """Writes a request to a file and returns the file's name."""

    def write(request):
        file = tmp_path / "request.json"
        file.write_text(json.dumps(request))
        return str(file)

    return write


def printed(result):
    assert result.returncode == 0, result.stderr.decode()
    assert result.stderr == b""
    return result.stdout.decode()


def refused(result):
    assert (result.returncode, result.stdout) == (1, b"")
    said = result.stderr.decode()
    assert "Traceback" not in said
    return said.splitlines()


@pytest.mark.parametrize(
    "command",
    ["predict", "formulate", "judge", "weigh", "schedule", "mend", "lighten", "labels"],
)
def test_an_answer_is_the_doors_own_as_json(
    basinside, asked, prediction, formulation, judgement, command
):
    question, request = {
        "mend": ("mends", next(iter(examples.MENDS.values()))),
        "lighten": ("lightenings", next(iter(examples.LIGHTENINGS.values()))),
        "labels": ("labels", next(iter(examples.LABELS.values()))),
        "judge": ("judgements", judgement),
        "predict": ("predictions", prediction),
        "formulate": ("formulations", formulation),
        "weigh": ("mixes", next(iter(examples.MIXES.values()))),
        "schedule": ("schedules", next(iter(examples.SCHEDULES.values()))),
    }[command]
    reply = json.loads(answer(question, json.dumps(request).encode()).body)
    assert json.loads(printed(basinside(command, asked(request)))) == reply
    typed_in = basinside(command, "-", stdin=json.dumps(request).encode())
    assert json.loads(printed(typed_in)) == reply


@pytest.mark.parametrize(
    ("arguments", "asks"),
    [(["weigh", "-", "--table"], True), (["weigh", "-"], False), (["comb"], False)],
    ids=["an answer", "a refusal", "a usage error"],
)
def test_a_process_of_its_own_prints_and_ends_as_the_other_tests_see_it(
    basinside, basinside_alone, arguments, asks
):
    typed_in = json.dumps(next(iter(examples.MIXES.values()))).encode() if asks else b"{"
    # A usage is as wide as the terminal, and only one of them may have one.
    alone = basinside_alone(*arguments, stdin=typed_in, COLUMNS="80")
    here = basinside(*arguments, stdin=typed_in, COLUMNS="80")
    assert here == (alone.returncode, alone.stdout, alone.stderr)


def test_a_strip_as_a_table_has_a_row_a_minute_and_the_window(basinside, asked, prediction):
    reply = json.loads(answer("predictions", json.dumps(prediction).encode()).body)
    heading, *rows, blank, rinse = printed(
        basinside("predict", asked(prediction), "--table")
    ).splitlines()
    assert heading.split("  ")[0] == "min"
    assert (blank, rinse.partition(":")[0]) == ("", "Rinse")
    for row, minute in zip(rows, reply["strip"], strict=True):
        assert row.split()[0] == str(minute["minute"])
        looks = [minute[look] for look in ("on_head", "wiped", "if_rinsed")]
        assert re.findall("#[0-9a-f]{6}", row) == [look["hex"] for look in looks]
        assert minute["if_rinsed"]["words"] in row


def test_formulas_as_a_table_say_what_to_weigh_and_when_to_rinse(basinside, asked, formulation):
    reply = json.loads(answer("formulations", json.dumps(formulation).encode()).body)
    table = printed(basinside("formulate", asked(formulation), "--table"))
    rows = table.splitlines()[1 : 1 + len(reply["formulas"])]
    names = {p["id"]: f"{p['line']} {p['name']}" for p in formulation["products"]}
    for row, formula in zip(rows, reply["formulas"], strict=True):
        for part in formula["mix"]["parts"]:
            assert f"{part['grams']:g} g {names[part['product']]}" in row
        assert f"{formula['mix']['developer']['percent']:g} %" in row
        assert f"{formula['chance']:.0%}" in row
        assert formula["predicted"]["hex"] in row


def test_labels_as_a_table_say_what_each_tube_makes_beside_its_name(basinside, asked):
    request = next(iter(examples.LABELS.values()))
    told = json.loads(answer("labels", json.dumps(request).encode()).body)["labels"]
    heading, *rows = printed(basinside("labels", asked(request), "--table")).splitlines()
    assert heading.split("  ")[0] == "tube"
    for row, product, label in zip(rows, request["products"], told, strict=True):
        assert row.startswith(f"{product['line']} {product['name']}")
        assert label["hair"] in row
        assert f"{label['makes']['words']} {label['makes']['hex']}" in row
        if "promises" in label:
            assert row.endswith(f"{label['delta_e']:.1f}")
        else:
            assert "no dye" in row


def test_a_judgement_as_a_table_says_what_to_do_under_the_strip(basinside, asked, judgement):
    judgement["readings"][0] |= {"source": "instrument", "lab": [25, 30, -25]}
    del judgement["readings"][0]["words"]
    reply = json.loads(answer("judgements", json.dumps(judgement).encode()).body)
    strip, said = printed(basinside("judge", asked(judgement), "--table")).split("\n\n")
    assert len(strip.splitlines()) == 1 + len(reply["strip"])
    for words in (reply["this_head"], reply["advice"]["words"], reply["surprise"]["words"]):
        assert words in said
    for suspect in reply["surprise"]["could_be"]:
        assert suspect["words"] in said


def test_mends_as_a_table_lead_with_the_advised_way(basinside, asked):
    request = next(iter(examples.MENDS.values()))
    reply = json.loads(answer("mends", json.dumps(request).encode()).body)
    table = printed(basinside("mend", asked(request), "--table"))
    rows = table.splitlines()[1 : 1 + len(reply["mends"])]
    for row, mend in zip(rows, reply["mends"], strict=True):
        assert mend["do"].replace("_", " ") in row
        assert mend["predicted"]["hex"] in row
    assert reply["mends"][0]["words"] in table


def test_a_lightening_as_a_table_is_its_words(basinside, asked):
    request = next(iter(examples.LIGHTENINGS.values()))
    reply = json.loads(answer("lightenings", json.dumps(request).encode()).body)
    assert printed(basinside("lighten", asked(request), "--table")).strip() == reply["words"]


def test_a_shelf_that_falls_short_says_so_under_the_table(basinside, asked, formulation):
    formulation["hair"]["level"] = 7
    formulation["wish"] = {"level": 10, "tone": ["silver"]}
    reply = json.loads(answer("formulations", json.dumps(formulation).encode()).body)
    table = printed(basinside("formulate", asked(formulation), "--table"))
    assert reply["shortfall"]["words"] in table


def test_a_mix_as_a_table_is_a_ladder_from_the_tare_on(basinside, asked):
    thinned = next(iter(examples.MIXES.values()))
    reply = json.loads(answer("mixes", json.dumps(thinned).encode()).body)
    _, tare, *rows = printed(basinside("weigh", asked(thinned), "--table")).splitlines()
    assert tare.split() == ["tare", "0"]
    for row, rung in zip(rows, reply["recipe"], strict=False):
        assert row.startswith(rung["name"])
        assert row.endswith(f"{rung['words']}  {rung['reading_words']:>11}")
    assert reply["developer"]["words"] in rows


def test_a_schedule_as_a_table_says_what_to_do_when_or_why_it_cannot_be(basinside, asked):
    possible, impossible = examples.SCHEDULES.values()
    reply = json.loads(answer("schedules", json.dumps(possible).encode()).body)
    _, *rows, blank, last = printed(basinside("schedule", asked(possible), "--table")).splitlines()
    assert (blank, last.partition(" ")[0]) == ("", str(reply["total_min"]))
    for row, step in zip(rows, reply["steps"], strict=True):
        assert row.split()[0] == f"{step['starts_min']}–{step['ends_min']}"
        assert row.endswith(step["words"])
    table = printed(basinside("schedule", asked(impossible), "--table"))
    for miss in json.loads(answer("schedules", json.dumps(impossible).encode()).body)["impossible"]:
        assert miss["words"] in table
        assert all(f"- {mend['words']}" in table for mend in miss["mends"])


def test_a_wrong_shape_is_one_sentence_with_its_place(basinside, asked, formulation):
    formulation["products"][0]["developer_percent"] = [40]
    assert refused(basinside("formulate", asked(formulation))) == [
        "/products/0/developer_percent/0: Developer must be at most 12 % peroxide; got 40."
        " Did you enter the volume? 40 vol is 12 %."
    ]


def test_a_wrong_meaning_is_one_sentence_for_each_place(basinside, asked, prediction):
    prediction["mix"]["parts"] = [{"product": "a", "grams": 5}, {"product": "b", "grams": 5}]
    sentences = refused(basinside("predict", asked(prediction)))
    assert [sentence.partition(":")[0] for sentence in sentences] == [
        "/mix/parts/0/product",
        "/mix/parts/1/product",
    ]


def test_a_body_that_is_not_json_is_a_sentence_without_a_place(basinside):
    assert refused(basinside("predict", "-", stdin=b"{")) == [
        "The JSON stops in the middle, at byte 1. Send the whole of it."
    ]


def test_a_file_that_is_not_there_is_named(basinside, tmp_path):
    (sentence,) = refused(basinside("predict", str(tmp_path / "gone.json")))
    assert "gone.json cannot be read: No such file or directory." in sentence


@pytest.mark.parametrize("arguments", [(), ("comb",), ("predict",), ("serve", "--fast")])
def test_a_command_that_does_not_exist_is_a_usage_error(basinside, arguments):
    result = basinside(*arguments)
    assert result.returncode == USAGE
    assert result.stderr.startswith(b"usage: basinside")


@pytest.mark.parametrize("command", ["openapi", "safety"])
def test_the_kept_document_is_up_to_date(basinside, command):
    assert printed(basinside(command, "--check")) == ""


def test_the_page_of_safety_rules_names_every_rule_and_source_and_what_it_cannot_do():
    page = cli.safety_page()
    assert page.count("\n**") >= 85
    assert "## What it cannot do" in page
    assert all(f"| {key} |" in page for key in ("EU-12", "SCCS-19", "UK-AAT", "FDA-QA", "METAL-T"))
    assert "common practice, no published source" in page


def test_a_document_that_has_drifted_is_one_sentence(monkeypatch, tmp_path, capsys):
    folder = tmp_path / "openapi"
    shutil.copytree(cli.FOLDER, folder)
    monkeypatch.setattr(cli, "FOLDER", folder)
    again = "run `basinside openapi` and commit the file.\n"
    for name, old, new, line in (
        ("openapi.json", '"title": "Basinside"', '"title": "Otherwise"', 4),
        ("examples/formulate.json", '"A pearl blonde', '"A pale blonde', 4),
    ):
        whole = (folder / name).read_text()
        assert old in whole
        (folder / name).write_text(whole.replace(old, new, 1))
        assert cli.main(["openapi", "--check"]) == 1
        out_of_date = f"openapi/{name} is out of date, first at line {line}: "
        assert capsys.readouterr().err == out_of_date + again
        assert cli.main(["openapi"]) == 0
        assert cli.main(["openapi", "--check"]) == 0
    stale = folder / "examples" / "oldCall.json"
    stale.write_text("{}")
    assert cli.main(["openapi", "--check"]) == 1
    assert capsys.readouterr().err == f"openapi/examples/oldCall.json is not needed: {again}"
    assert cli.main(["openapi"]) == 0
    assert not stale.exists()


def test_the_doctor_has_a_line_for_each_thing(basinside, tmp_path):
    result = basinside("doctor", BASINSIDE_DATA=str(tmp_path / "salon"))
    lines = result.stdout.decode().splitlines()
    assert [line.split(":")[0].split()[-1] for line in lines] == [
        *("Python", "Packages", "folder", "Room", "Shelf", "Records", "Backups", "Page", "Engine")
    ]
    wrong = [line for line in lines if line.startswith("wrong")]
    assert result.returncode == (1 if wrong else 0)
    # The page may not be built here, and the disk may be nearly full.
    assert all("Page" in line or "Room" in line for line in wrong), wrong


def test_the_doctor_finds_a_shelf_that_is_broken(basinside, tmp_path):
    (tmp_path / "shelf.json").write_text('{"products": [{"id": "a b"}]}')
    result = basinside("doctor", BASINSIDE_DATA=str(tmp_path))
    assert result.returncode == 1
    assert re.search(r"^wrong  Shelf: .*products\[0\]", result.stdout.decode(), re.MULTILINE)


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.20", "::", "example.org"])
def test_a_host_that_others_can_reach_is_refused(basinside, tmp_path, host):
    (sentence,) = refused(basinside("serve", HOST=host, PORT="0", BASINSIDE_DATA=str(tmp_path)))
    assert f"got {host}" in sentence
    assert "127.0.0.1" in sentence


@pytest.mark.parametrize("port", ["65536", "-1", "http", "8000.5"])
def test_a_port_that_is_none_is_refused(basinside, tmp_path, port):
    (sentence,) = refused(basinside("serve", PORT=port, BASINSIDE_DATA=str(tmp_path)))
    assert f"got {port}" in sentence


def test_a_port_in_use_is_one_sentence(basinside, tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        (sentence,) = refused(basinside("serve", PORT=str(port), BASINSIDE_DATA=str(tmp_path)))
    assert sentence.startswith(f"Port {port} on 127.0.0.1 is in use.")


def test_replies_do_not_wait_for_more_to_send():
    # asyncio turns Nagle's algorithm (RFC 896) off only for sockets that name TCP.
    with listen("127.0.0.1", 0) as listening:
        assert listening.proto == socket.IPPROTO_TCP


def test_a_data_folder_that_cannot_be_written_is_one_sentence(basinside, tmp_path):
    (tmp_path / "file").write_text("in the way")
    blocked = tmp_path / "file" / "salon"
    (sentence,) = refused(basinside("serve", PORT="0", BASINSIDE_DATA=str(blocked)))
    assert f"The data folder {blocked} cannot be written: Not a directory." in sentence


def test_an_interrupted_server_ends_cleanly_and_leaves_its_port(tmp_path):
    environment = os.environ | {"PORT": "0", "BASINSIDE_DATA": str(tmp_path)}
    process = subprocess.Popen(
        [sys.executable, "-m", "basinside.cli", "serve"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment,
    )
    port = int(re.search(rb":(\d+)/", process.stdout.readline())[1])
    process.send_signal(signal.SIGINT)
    rest, said = process.communicate(timeout=PATIENCE_S)
    assert (process.returncode, rest, said) == (0, b"", b"")
    with socket.socket() as free:
        free.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        free.bind(("127.0.0.1", port))


def test_questions_that_wait_as_the_server_stops_are_refused_in_words(tmp_path, formulation):
    process = subprocess.Popen(
        [sys.executable, "-m", "basinside.cli", "serve"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"PORT": "0", "BASINSIDE_DATA": str(tmp_path)},
    )
    port = int(re.search(rb":(\d+)/", process.stdout.readline())[1])
    formulation["products"] = json.loads((SEED_FOLDER / "shelf.json").read_text())["products"]
    asking = [http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S) for _ in range(6)]
    for connection in asking:
        connection.request("POST", "/api/formulations", json.dumps(formulation))
    first, *waiting = asking
    assert first.getresponse().status == 200  # one thread: the others are behind it
    process.send_signal(signal.SIGINT)
    replies = [connection.getresponse() for connection in waiting]
    assert {reply.status for reply in replies} <= {200, 503}
    assert replies[-1].status == 503
    assert json.load(replies[-1])["detail"] == "The server is stopping. Ask again once it runs."
    for connection in asking:
        connection.close()
    _, said = process.communicate(timeout=PATIENCE_S)
    assert (process.returncode, said) == (0, b"")
