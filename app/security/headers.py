"""What every answer carries, and what is refused before any page sees it."""

from collections.abc import Callable, Mapping
from typing import Final
from urllib.parse import urlsplit

from fastapi import HTTPException
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

BODY_LIMIT_BYTES: Final = 2 * 1024 * 1024
BODY_TOO_LARGE: Final = 413
FORBIDDEN: Final = 403
SAFE_METHODS: Final = frozenset({"GET", "HEAD", "OPTIONS"})
OWN_SITES: Final = frozenset({"same-origin", "none"})

CONTENT_SECURITY_POLICY: Final = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS: Final = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}

HTTPS_ALONE: Final = {"Strict-Transport-Security": "max-age=31536000"}

Refuse = Callable[[Request, int, str], Response]


class Guard:
    """Middleware: security headers on every answer, cross-site changes and huge bodies refused.

    refuse: makes the answer to a request that goes no further, in the app's own voice.
    """

    def __init__(
        self, app: ASGIApp, *, refuse: Refuse, body_limit_bytes: int = BODY_LIMIT_BYTES
    ) -> None:
        self.app = app
        self.refuse = refuse
        self.body_limit_bytes = body_limit_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        answer = self._refusal(scope) or self.app
        await answer(scope, self._limited(receive), _with_headers(send, _headers_of(scope)))

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if scope["method"] not in SAFE_METHODS and comes_from_elsewhere(headers):
            text = "This came from another site. Open the page here and send it again."
            return self.refuse(Request(scope), FORBIDDEN, text)
        length = headers.get("content-length", "")
        if length.isascii() and length.isdigit() and int(length) > self.body_limit_bytes:
            return self.refuse(Request(scope), BODY_TOO_LARGE, self._too_large())
        return None

    def _too_large(self) -> str:
        return f"At most {self.body_limit_bytes // 1024:,} kB can be sent at once."

    def _limited(self, receive: Receive) -> Receive:
        """The same body, stopped where it grows past the limit, whatever length it claims."""
        seen = 0

        async def receive_limited() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > self.body_limit_bytes:
                raise HTTPException(BODY_TOO_LARGE, self._too_large())
            return message

        return receive_limited


def comes_from_elsewhere(headers: Headers) -> bool:
    """True when a browser says the request was made by another site's page.

    Programs that are no browser send neither header, and carry a token instead.
    """
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site not in OWN_SITES
    origin = headers.get("origin")
    return origin is not None and urlsplit(origin).netloc != headers.get("host")


def _headers_of(scope: Scope) -> dict[str, str]:
    """Where browsers come by https, they are told to come no other way."""
    settings = getattr(getattr(scope.get("app"), "state", None), "settings", None)
    safe = scope.get("scheme") == "https" or getattr(settings, "https", False)
    return {**HEADERS, **HTTPS_ALONE} if safe else HEADERS


def _with_headers(send: Send, told: Mapping[str, str]) -> Send:
    async def send_with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in told.items():
                headers.setdefault(name, value)
        await send(message)

    return send_with_headers
