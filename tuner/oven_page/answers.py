"""Answers of the page at the oven: strict headers on each, errors as JSON in words, never a stack trace."""

from __future__ import annotations

import logging
from collections.abc import Awaitable, Callable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from tuner.domain import InvalidDocument, NeedsConfirmation, NotAllowed, NotFound, StoreProblem, TunerError
from tuner.services.sheet_cooks import SheetConflict

PAGE_HEADER = "x-oven-page"
"""A header that a form of a foreign page can't send; every call of the interface must carry it."""
SIGNATURE_HEADER = "x-sheet-signature"
HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
_LOG = logging.getLogger(__name__)


class Refused(Exception):
    """A call that is answered with an error of the interface."""

    def __init__(self, status: int, code: str, message: str) -> None:
        self.status, self.code, self.message = status, code, message
        super().__init__(message)


def answer(content: Mapping[str, Any], status: int = 200) -> Response:
    """JSON that nobody keeps in between."""
    return JSONResponse(dict(content), status, headers={**HEADERS, "Cache-Control": "no-store"})


def refusal(status: int, code: str, message: str, **more: Any) -> Response:
    """An error in words; `code` is for the page."""
    return answer({"error": {"code": code, "message": message, **more}}, status)


Endpoint = Callable[[Request], Awaitable[Response]]


def spoken(endpoint: Endpoint) -> Endpoint:
    """The endpoint with every error answered as JSON, and calls from foreign pages refused."""

    async def called(request: Request) -> Response:
        try:
            if request.headers.get(PAGE_HEADER) != "1":
                raise Refused(403, "foreign", "This call came from no page of ours. Open the cook sheet's link.")
            return await endpoint(request)
        except Refused as error:
            return refusal(error.status, error.code, error.message)
        except TunerError as error:
            return _told(error)
        except Exception:
            _LOG.exception("a call of the page at the oven failed")
            return refusal(500, "server", "The server failed. Nothing was half kept; it will be sent again.")

    return called


def _told(error: TunerError) -> Response:
    if isinstance(error, SheetConflict):
        return refusal(409, error.code, str(error), may_be_accepted=error.may_be_accepted)
    if isinstance(error, NeedsConfirmation):
        asked = [{"code": question.code, "text": question.text} for question in error.questions]
        return refusal(409, "questions", str(error), questions=asked)
    if isinstance(error, NotFound):
        return refusal(404, "not_found", str(error))
    if isinstance(error, NotAllowed):
        return refusal(409, "not_allowed", str(error))
    if isinstance(error, InvalidDocument):
        return refusal(422, "invalid", str(error))
    if isinstance(error, StoreProblem):
        return refusal(503, "store", str(error))
    return refusal(409, "conflict", str(error))
