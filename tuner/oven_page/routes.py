"""Routes of the page at the oven: its files, and the interface they call (documented in docs/oven-page-api.json)."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, RedirectResponse, Response
from starlette.routing import Route

from tuner.oven_page.answers import HEADERS, SIGNATURE_HEADER, Refused, answer, spoken
from tuner.services import Workspace, open_workspace
from tuner.services.cook_sheets import open_cook_sheet
from tuner.services.sheet_cooks import receive_cook, receive_photo

LARGEST_COOK = 200_000
LARGEST_PHOTO = 3_000_000
_JPEG = b"\xff\xd8\xff"
_FILES = Path(__file__).parent / "files"
_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
}
_FIELDS = frozenset({"client_id", "cook", "brief_version", "may_taste", "accept"})
Opened = Callable[[], Workspace]


@cache
def opened_workspace() -> Workspace:
    """The workspace of this process, opened at the first call."""
    return open_workspace()


def oven_routes(workspace: Opened = opened_workspace) -> list[Route]:
    """All routes under `/oven/`.

    Parameters
    ----------
    workspace
        Gives the opened work; called for each call of the interface.
    """
    api = "/oven/api/v1"
    return [
        Route("/oven", _to_page),
        Route("/oven/", partial(_file, "index.html")),
        Route(f"{api}/alive", spoken(_alive)),
        Route(f"{api}/sheets/{{sheet_id}}", spoken(partial(_sheet, workspace))),
        Route(f"{api}/sheets/{{sheet_id}}/cooks", spoken(partial(_cook, workspace)), methods=["POST"]),
        Route(f"{api}/sheets/{{sheet_id}}/cooks/{{client_id}}/photo", spoken(partial(_photo, workspace)), methods=["PUT"]),
        Route("/oven/api/{rest:path}", spoken(_nothing), methods=["GET", "POST", "PUT", "DELETE", "PATCH"]),
        Route("/oven/{asset}", _asset),
    ]


async def _to_page(_: Request) -> Response:
    return RedirectResponse("/oven/", headers=dict(HEADERS))


async def _file(name: str, _: Request) -> Response:
    path = _FILES / name
    # "no-cache" asks the server each time whether the file is still the same; without network the service worker answers.
    return FileResponse(path, media_type=_TYPES[path.suffix], headers={**HEADERS, "Cache-Control": "no-cache"})


@cache
def _assets() -> frozenset[str]:
    return frozenset(path.name for path in _FILES.iterdir() if path.suffix in _TYPES)


async def _asset(request: Request) -> Response:
    name = request.path_params["asset"]
    if name not in _assets():
        return Response("There is no such file.", 404, headers=dict(HEADERS), media_type="text/plain")
    return await _file(name, request)


async def _alive(_: Request) -> Response:
    return answer({"alive": True})


async def _nothing(_: Request) -> Response:
    raise Refused(404, "no_such_call", "The interface has no such call. Load the page again: it may be older than the server.")


async def _sheet(workspace: Opened, request: Request) -> Response:
    opened = partial(
        open_cook_sheet,
        workspace(),
        sheet_id=request.path_params["sheet_id"],
        signature=_signature(request),
        on_paper=request.query_params.get("paper") == "1",
    )
    return answer(await run_in_threadpool(opened))


async def _cook(workspace: Opened, request: Request) -> Response:
    if not request.headers.get("content-type", "").startswith("application/json"):
        raise Refused(415, "not_json", "A cook is sent as application/json.")
    sent = _read_cook(await _body(request, LARGEST_COOK))
    kept = await run_in_threadpool(
        partial(
            receive_cook,
            workspace(),
            sheet_id=request.path_params["sheet_id"],
            signature=_signature(request),
            client_id=sent["client_id"],
            cook=sent["cook"],
            brief_version=sent["brief_version"],
            may_taste=sent.get("may_taste"),
            accept=tuple(sent.get("accept") or ()),
        )
    )
    verdict = kept.record.verdict
    return answer(
        {
            "cook_id": kept.record.id,
            "number": kept.record.number,
            "verdict": verdict.status,
            "reasons": list(verdict.reasons),
        },
        201 if kept.new else 200,
    )


async def _photo(workspace: Opened, request: Request) -> Response:
    data = await _body(request, LARGEST_PHOTO)
    if not data.startswith(_JPEG):
        raise Refused(415, "not_jpeg", "The photo is no JPEG picture. Take it again.")
    kept = partial(
        receive_photo,
        workspace(),
        sheet_id=request.path_params["sheet_id"],
        signature=_signature(request),
        client_id=request.path_params["client_id"],
        data=data,
    )
    return answer({"kept": True}, 201 if await run_in_threadpool(kept) else 200)


def _signature(request: Request) -> str:
    return request.headers.get(SIGNATURE_HEADER, "")


async def _body(request: Request, largest: int) -> bytes:
    """The body, read no further than allowed."""
    too_large = Refused(413, "too_large", f"More than {largest // 1000} kB were sent. Nothing of it was kept.")
    said = request.headers.get("content-length", "0")
    if said.isdigit() and int(said) > largest:
        raise too_large
    read = bytearray()
    try:
        async for piece in request.stream():
            read += piece
            if len(read) > largest:
                raise too_large
    except ClientDisconnect as error:
        raise Refused(400, "cut_off", "The connection ended before everything was sent. It will be sent again.") from error
    return bytes(read)


def _read_cook(body: bytes) -> dict[str, Any]:
    try:
        sent = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise Refused(400, "not_json", "The cook can't be read as JSON.") from error
    ways: dict[str, Callable[[Any], bool]] = {
        "client_id": lambda one: isinstance(one, str),
        "cook": lambda one: isinstance(one, dict),
        "brief_version": lambda one: isinstance(one, int) and not isinstance(one, bool),
        "may_taste": lambda one: (
            one is None or (isinstance(one, dict) and all(isinstance(answered, bool) for answered in one.values()))
        ),
        "accept": lambda one: one is None or (isinstance(one, list) and all(isinstance(code, str) for code in one)),
    }
    if not isinstance(sent, dict) or set(sent) - _FIELDS:
        raise Refused(422, "invalid", f"A cook is sent as an object with {', '.join(sorted(_FIELDS))}.")
    for name, fits in ways.items():
        if not fits(sent.get(name)):
            raise Refused(422, "invalid", f"{name} is missing or of another kind than the interface asks. Load the page again.")
    return sent
