from __future__ import annotations

import io
import json
from typing import Any

import pytest
from PIL import Image
from starlette.applications import Starlette
from starlette.testclient import TestClient

from tests.oven_page.orders import sheets, signed
from tests.services.invented import ANN, LIMIT, Clock, brief
from tuner import services
from tuner.oven_page import oven_routes
from tuner.services import Workspace
from tuner.services.cook_sheets import CookSheetRecord, withdraw_cook_sheet
from tuner.services.sheet_cooks import cook_photos

API = "/oven/api/v1"


def body(**changes: Any) -> dict[str, Any]:
    """A safe cook as the page sends it; None takes a field of the cook away."""
    cook = {
        "mass_g": 183.0,
        "start_temperature_c": 4.6,
        "core_temperature_c": [76.4, 77.0, 79.1],
        "probe_places": [1, 2, 3],
        "rest_s": 125,
        "rest_covered": True,
        "completed": True,
        "mass_out_g": 160.2,
        "cooked_at": "2026-03-02T10:15:00Z",
        "thermometer_checked_at": "2026-03-02T07:40:00Z",
        "cook": "R. Osei",
        **changes,
    }
    return {"client_id": "phone-1", "brief_version": 1, "cook": {name: one for name, one in cook.items() if one is not None}}


def send(client: TestClient, sheet: CookSheetRecord, sent: dict[str, Any], **headers: str) -> Any:
    return client.post(f"{API}/sheets/{sheet.id}/cooks", json=sent, headers={**signed(sheet), **headers})


def cooks(space: Workspace, development: str) -> tuple[services.CookRecord, ...]:
    return services.view_development(space, ANN, development_id=development).cooks


def test_a_sheet_opens_with_its_signature_and_shows_what_a_cook_needs(client: TestClient, sheet: CookSheetRecord) -> None:
    answer = client.get(f"{API}/sheets/{sheet.id}", headers=signed(sheet))
    assert answer.status_code == 200
    shown = answer.json()
    assert shown["program"]["duration_s"] == sheet.program.duration_s
    assert sum(shown["program"]["stage_seconds"]) == sheet.program.duration_s
    assert shown["rule"]["pass_line_c"] == 76
    assert {"C1", "C2", "C3", "C4"} <= set(shown["cautions"]["cook_sheet"])
    assert "C4" in shown["cautions"]["measuring"]
    assert "C11" in shown["cautions"]["verdict"]
    assert "secret" not in answer.text
    assert "customer" not in shown


def test_another_sheet_s_signature_opens_nothing(client: TestClient, space: Workspace, development: str) -> None:
    one, other = sheets(space, development, 2)
    for signature in (signed(other)["X-Sheet-Signature"].encode(), b"", b"0" * 64, b"\xc3\x9f"):
        headers: dict[str, Any] = {"X-Oven-Page": "1", "X-Sheet-Signature": signature}
        assert client.get(f"{API}/sheets/{one.id}", headers=headers).status_code == 404
    assert client.get(f"{API}/sheets/none", headers=signed(one)).status_code == 404


def test_a_form_of_a_foreign_page_is_refused(
    client: TestClient, sheet: CookSheetRecord, space: Workspace, development: str
) -> None:
    headers = {"X-Sheet-Signature": signed(sheet)["X-Sheet-Signature"]}
    answer = client.post(f"{API}/sheets/{sheet.id}/cooks", json=body(), headers=headers)
    assert (answer.status_code, answer.json()["error"]["code"]) == (403, "foreign")
    assert cooks(space, development) == ()


def test_opening_is_kept_once_and_paper_is_not_counted(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    def state() -> str:
        return services.list_cook_sheets(space, ANN, development_id=development)[0].state

    client.get(f"{API}/sheets/{sheet.id}?paper=1", headers=signed(sheet))
    assert state() == "sent"
    for _ in range(2):
        assert client.get(f"{API}/sheets/{sheet.id}", headers=signed(sheet)).status_code == 200
    assert state() == "opened"
    assert len([entry for entry in _records(space, development) if entry == "cook_sheet_opened"]) == 1


def _records(space: Workspace, development: str) -> list[str]:
    with space.store.read(None) as reading:
        return [kept.kind for kept in reading.records.of_development(development)]


def test_sent_twice_is_kept_once_and_the_server_s_verdict_comes_back(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    answers = [send(client, sheet, body()) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [201, 200]
    assert answers[0].json() == answers[1].json()
    assert answers[0].json()["verdict"] == "safe_to_taste"
    assert len(cooks(space, development)) == 1
    assert services.list_cook_sheets(space, ANN, development_id=development)[0].state == "cooked"
    assert cooks(space, development)[0].cook.program == sheet.program
    assert cooks(space, development)[0].logged_by == "R. Osei (by cook sheet)"


def test_a_known_cook_is_answered_even_after_the_sheet_was_withdrawn(
    client: TestClient, space: Workspace, sheet: CookSheetRecord
) -> None:
    send(client, sheet, body())
    withdraw_cook_sheet(space, ANN, sheet_id=sheet.id, reason="enough")
    assert send(client, sheet, body()).status_code == 200


def test_other_content_under_the_same_id_is_a_conflict(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    send(client, sheet, body())
    answer = send(client, sheet, body(mass_g=184.0))
    assert (answer.status_code, answer.json()["error"]["code"]) == (409, "other_content")
    assert [record.cook.mass_g for record in cooks(space, development)] == [183.0]


def test_a_withdrawn_sheet_neither_opens_nor_takes_cooks(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    withdraw_cook_sheet(space, ANN, sheet_id=sheet.id, reason="other program")
    opened = client.get(f"{API}/sheets/{sheet.id}", headers=signed(sheet))
    assert opened.status_code == 409
    assert "other program" in opened.json()["error"]["message"]
    sent = send(client, sheet, {**body(), "accept": ["sheet_withdrawn"]})
    assert (sent.status_code, sent.json()["error"]["code"]) == (409, "sheet_withdrawn")
    assert cooks(space, development) == ()


def test_an_expired_sheet_opens_nothing_but_takes_what_waited_on_a_device(
    client: TestClient, space: Workspace, clock: Clock, sheet: CookSheetRecord
) -> None:
    clock.forward(days=15)
    assert client.get(f"{API}/sheets/{sheet.id}", headers=signed(sheet)).status_code == 409
    assert send(client, sheet, body()).status_code == 201
    clock.forward(days=30)
    late = send(client, sheet, {**body(), "client_id": "phone-2"})
    assert late.json()["error"]["code"] == "sheet_expired"


def test_a_changed_brief_and_a_second_cook_are_told_and_taken_when_accepted(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    stricter = brief(critical_limit={**LIMIT, "core_temperature_c": 75})
    services.edit_brief(space, ANN, development_id=development, brief=stricter, expected_version=1)
    told = send(client, sheet, body())
    assert (told.status_code, told.json()["error"]["code"], told.json()["error"]["may_be_accepted"]) == (
        409,
        "recipe_changed",
        True,
    )
    taken = send(client, sheet, {**body(), "accept": ["recipe_changed"]})
    assert (taken.status_code, taken.json()["verdict"]) == (201, "not_safe")  # by the brief as it is now
    second = {**body(), "client_id": "phone-2", "brief_version": 2}
    assert send(client, sheet, second).json()["error"]["code"] == "sheet_cooked"
    assert send(client, sheet, {**second, "accept": ["sheet_cooked"]}).status_code == 201
    assert len(cooks(space, development)) == 2


@pytest.mark.parametrize("attribute", ["texture", "moisture"])
@pytest.mark.parametrize(
    "changes", [{"core_temperature_c": [75.9, 77.0, 79.1]}, {"rest_covered": None}, {"thermometer_checked_at": None}]
)
def test_no_tasting_of_a_cook_that_is_not_safe(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord, attribute: str, changes: dict[str, Any]
) -> None:
    sent = {**body(**changes, scores=[{"taster": "R. Osei", attribute: 3}]), "may_taste": {"R. Osei": True}}
    answer = send(client, sheet, sent)
    assert (answer.status_code, answer.json()["error"]["code"]) == (409, "not_allowed")
    assert cooks(space, development) == ()
    by_eye = {**body(**changes, scores=[{"taster": "R. Osei", "browning": 3}]), "may_taste": {"R. Osei": True}}
    assert send(client, sheet, by_eye).status_code == 201


def test_other_marks_and_old_cooks_are_no_way_round(client: TestClient, sheet: CookSheetRecord) -> None:
    liking = body(core_temperature_c=[70.0, 77.0, 79.1], scores=[{"taster": "A", "other": {"liking": 5}}])
    assert send(client, sheet, {**liking, "may_taste": {"A": True}}).json()["error"]["code"] == "not_allowed"
    assert send(client, sheet, body(history=True)).json()["error"]["code"] == "not_allowed"
    assert send(client, sheet, body(scores=[{"taster": "A", "texture": 3}])).json()["error"]["code"] == "not_allowed"


def test_a_foreign_program_or_purpose_is_replaced_by_the_sheet_s(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    other = {
        "air_temperature_c": 200,
        "duration_s": 20,
        "stages": [{"share_pct": 100, "air_speed_pct": 10, "microwave_pct": 0}],
    }
    assert send(client, sheet, body(program=other, purpose="benchmark")).status_code == 201
    kept = cooks(space, development)[0].cook
    assert (kept.program, kept.purpose) == (sheet.program, "first_guess" if kept.purpose == "first_guess" else "search")


def test_unlikely_values_are_asked_about_by_code(client: TestClient, sheet: CookSheetRecord) -> None:
    answer = send(client, sheet, body(mass_g=230.0))
    asked = answer.json()["error"]
    assert (answer.status_code, asked["code"]) == (409, "questions")
    again = body(mass_g=230.0, confirmed=[question["code"] for question in asked["questions"]])
    assert send(client, sheet, again).status_code == 201


@pytest.mark.parametrize(
    "sent, status",
    [
        (b"{", 400),
        (b"[" * 100_000, 400),
        (b"[]", 422),
        (json.dumps({**body(), "client_id": 7}).encode(), 422),
        (json.dumps({**body(), "client_id": ""}).encode(), 422),
        (json.dumps({**body(), "more": 1}).encode(), 422),
        (json.dumps({**body(), "may_taste": {"A": "yes"}}).encode(), 422),
        (json.dumps(body(core_temperature_c=[999.0])).encode(), 422),
        (json.dumps(body(unknown_field=1)).encode(), 422),
        (json.dumps(body(cook=" ")).encode(), 422),
        (json.dumps(body(cook="\ud800")).encode(), 422),
        (b" " * 200_001, 413),
    ],
)
def test_what_is_no_cook_is_answered_in_words(
    client: TestClient, space: Workspace, development: str, sheet: CookSheetRecord, sent: bytes, status: int
) -> None:
    headers = {**signed(sheet), "Content-Type": "application/json"}
    answer = client.post(f"{API}/sheets/{sheet.id}/cooks", content=sent, headers=headers)
    assert answer.status_code == status, answer.text
    assert answer.json()["error"]["message"]
    assert "Traceback" not in answer.text
    assert cooks(space, development) == ()


def test_a_failing_server_tells_no_secrets(sheet: CookSheetRecord, caplog: pytest.LogCaptureFixture) -> None:
    def broken() -> Workspace:
        raise RuntimeError("secret path")

    with TestClient(Starlette(routes=oven_routes(broken)), raise_server_exceptions=False) as client:
        answer = client.get(f"{API}/sheets/{sheet.id}", headers=signed(sheet))
    assert (answer.status_code, answer.json()["error"]["code"]) == (500, "server")
    assert "secret path" not in answer.text


def picture(*, where: bool = True) -> bytes:
    made, written = Image.new("RGB", (2400, 1200), (160, 90, 40)), io.BytesIO()
    exif = Image.Exif()
    if where:
        exif[0x010E] = "kitchen of somebody"
        exif.get_ifd(0x8825)[2] = (52.0, 31.0, 12.0)
    made.save(written, "JPEG", exif=exif)
    return written.getvalue()


def test_a_photo_is_written_anew_without_its_position(client: TestClient, space: Workspace, sheet: CookSheetRecord) -> None:
    url = f"{API}/sheets/{sheet.id}/cooks/phone-1/photo"
    assert client.put(url, content=picture(), headers=signed(sheet)).status_code == 404  # the cook first
    cook_id = send(client, sheet, body()).json()["cook_id"]
    assert [client.put(url, content=picture(), headers=signed(sheet)).status_code for _ in range(2)] == [201, 200]
    (kept,) = cook_photos(space, ANN, cook_id=cook_id)
    opened = Image.open(io.BytesIO(kept))
    assert max(opened.size) <= 1600
    assert not opened.getexif()
    assert b"kitchen of somebody" not in kept


@pytest.mark.parametrize(
    "data, status",
    [(b"\x89PNG....", 415), (b"<svg/>", 415), (b"\xff\xd8\xff" + b"0" * 50, 422), (b"\xff\xd8\xff" + b"0" * 3_000_000, 413)],
)
def test_what_is_no_photo_is_refused(client: TestClient, sheet: CookSheetRecord, data: bytes, status: int) -> None:
    send(client, sheet, body())
    answer = client.put(f"{API}/sheets/{sheet.id}/cooks/phone-1/photo", content=data, headers=signed(sheet))
    assert (answer.status_code, bool(answer.json()["error"]["message"])) == (status, True)


def test_every_answer_carries_a_strict_policy(client: TestClient, sheet: CookSheetRecord) -> None:
    for path in ("/oven/", "/oven/entry.js", "/oven/none.js", f"{API}/alive", f"{API}/sheets/{sheet.id}", "/oven/api/v2/alive"):
        answer = client.get(path, headers={"X-Oven-Page": "1"})
        policy = answer.headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
    assert client.get("/oven/api/v2/alive", headers={"X-Oven-Page": "1"}).json()["error"]["code"] == "no_such_call"
    assert client.get("/oven/..%2f..%2fapp.py").status_code == 404
    assert client.get("/oven", follow_redirects=False).headers["location"] == "/oven/"
