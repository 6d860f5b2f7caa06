"""Who comes in: every request is held against the gate before its body is read."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from functools import partial
from typing import Final, Protocol

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import MutableHeaders
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.security.acts import Act
from app.security.acts import Scope as Part
from app.security.cookies import give_key, key_of
from app.security.gate import UNATTENDED, Found, Gate, Open
from app.security.machines import Machine, machine_of
from app.security.oidc.asking import Asking
from app.security.oidc.threads import in_own_thread
from app.security.standing import NOBODY, Standing, State, standing_of
from app.settings import Settings

STATIC: Final = "/static/"
LEADS_ON: Final = 307
NOT_FOUND: Final = 404
NOT_BY_THIS_METHOD: Final = 405
PATIENT: Final = "patient"


class Why(StrEnum):
    """Why a request goes no further."""

    SIGN_IN = "sign in"
    UNLOCK = "unlock"
    FORBIDDEN = "forbidden"
    CHOOSE_PASSWORD = "choose a password"
    NOT_WRITTEN = "not written"


@dataclass(frozen=True, slots=True)
class TurnedAway:
    """A person's request that goes no further. lacks: what the person may not do."""

    why: Why
    standing: Standing
    found: Found
    lacks: tuple[Act, ...] = ()


class Voice(Protocol):
    """How the app answers those who do not come in."""

    def refuse(self, request: Request, status: int, text: str = "") -> Response:
        """An answer that needs no more than a status."""

    async def turn_away(self, request: Request, turned: TurnedAway) -> Response:
        """The answer to a person."""

    def stop_machine(self, request: Request, machine: Machine) -> Response:
        """The answer to a program."""


class Door:
    """Middleware: finds out who asks, and lets through whoever may."""

    def __init__(
        self,
        app: ASGIApp,
        *,
        voice: Voice,
        gate: Gate | None = None,
        clock: Callable[[], datetime] | None = None,
    ) -> None:
        self.app = app
        self.voice = voice
        self.gate = gate or Gate()
        self.clock = clock or _clock

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http" or scope["path"].startswith(STATIC):
            await self.app(scope, receive, send)
            return
        request = Request(scope, receive)
        found = self._found(request)
        if isinstance(found.need, Part):
            answer = await self._machine(request, found.need) or self.app
            await answer(scope, receive, _not_kept(send))
            return
        standing = await self._standing(request, found)
        scope["state"] = {
            **scope.get("state", {}),
            "person": standing.present,
            "standing": standing,
        }
        answer = await self._answer(request, found, standing) or self.app
        await answer(scope, receive, _not_kept(_with_key(send, request, standing.new_key)))

    def _found(self, request: Request) -> Found:
        path = request.scope["path"]
        found = self.gate.find(request.method, path)
        if not found.template and path.endswith("/"):
            return self.gate.find(request.method, path[:-1])  # where _led_on() leads
        return found

    def _led_on(self, request: Request) -> Response | None:
        """To the address without a stroke at its end: on this very host, whatever one is named."""
        path, query = request.scope["path"], request.url.query
        if self.gate.find(request.method, path).template:
            return None
        return RedirectResponse(f"{path[:-1]}?{query}" if query else path[:-1], LEADS_ON)

    async def _standing(self, request: Request, found: Found) -> Standing:
        state = request.app.state
        key = key_of(request, state.settings)
        if not key:
            return NOBODY
        attended = (request.method, found.template) not in UNATTENDED
        look = partial(standing_of, state.engine, key, state.settings, attended=attended)
        standing = await run_in_threadpool(look, self.clock())
        asking: Asking | None = state.asking
        if asking is None or standing.new_key or not asking.is_due(standing, self.clock()):
            return standing
        await in_own_thread(asking.ask, state.engine, standing, self.clock())
        return await run_in_threadpool(look, self.clock())

    async def _machine(self, request: Request, part: Part) -> Response | None:
        state = request.app.state
        header = request.headers.get("authorization", "")
        machine = await run_in_threadpool(
            machine_of, state.engine, header, part, state.settings, self.clock()
        )
        request.scope["state"] = {**request.scope.get("state", {}), "machine": machine}
        return None if machine.comes_in else self.voice.stop_machine(request, machine)

    async def _answer(self, request: Request, found: Found, standing: Standing) -> Response | None:
        if not found.template:
            return self.voice.refuse(request, NOT_FOUND)
        settings: Settings = request.app.state.settings
        turned = turned_away(request, found, standing, settings)
        if turned is None:
            return self._led_on(request)
        answer = await self.voice.turn_away(request, turned)
        if turned.why is Why.NOT_WRITTEN and answer.status_code == NOT_BY_THIS_METHOD:
            answer.headers["allow"] = ", ".join(sorted(found.methods))
        return answer


def turned_away(
    request: Request, found: Found, standing: Standing, settings: Settings
) -> TurnedAway | None:
    """Why this person's request goes no further; None when it does.

    The lock page sends its form to the very address it stands at, so that the browser keeps its
    place in the page: a form sent to an address that is only read is that form, or a mistake.
    """
    need = found.need
    if need is None and request.method == "POST":
        need = found.methods.get("GET")
        if standing.state is State.OPEN or _may_anyone(need, request, settings):
            return TurnedAway(Why.NOT_WRITTEN, standing, found)
    if need is None:
        return TurnedAway(Why.NOT_WRITTEN, standing, found)
    if _may_anyone(need, request, settings):
        return None
    if standing.state is not State.OPEN or standing.person is None:
        locked = standing.state is State.LOCKED
        return TurnedAway(Why.UNLOCK if locked else Why.SIGN_IN, standing, found)
    if standing.must_change and need is not Open.SIGNED_IN:
        return TurnedAway(Why.CHOOSE_PASSWORD, standing, found)
    acts = ([need] if isinstance(need, Act) else []) + [Act.SEE_PATIENTS] * _asks_of_one(request)
    lacks = tuple(dict.fromkeys(act for act in acts if not standing.person.may(act)))
    return TurnedAway(Why.FORBIDDEN, standing, found, lacks) if lacks else None


def _may_anyone(need: object, request: Request, settings: Settings) -> bool:
    if need is Act.READ_CATALOGUE:
        return settings.open_reading and not _asks_of_one(request)
    return need is Open.ALL


def _asks_of_one(request: Request) -> bool:
    """True when the address names a patient of the unit, whatever page it is."""
    return any(value.strip() for value in request.query_params.getlist(PATIENT))


def _not_kept(send: Send) -> Send:
    """What people and machines are told stands in no cache, unless its page says otherwise."""

    async def send_not_kept(message: Message) -> None:
        if message["type"] == "http.response.start":
            MutableHeaders(scope=message).setdefault("Cache-Control", "no-store")
        await send(message)

    return send_not_kept


def _with_key(send: Send, request: Request, key: str) -> Send:
    """Gives the browser its new key, unless the page itself gave or took one."""
    if not key:
        return send
    carrier = give_key(Response(), request, request.app.state.settings, key)
    cookie = carrier.headers["set-cookie"]
    name = cookie.partition("=")[0]

    async def send_with_key(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            if not any(one.startswith(f"{name}=") for one in headers.getlist("set-cookie")):
                headers.append("set-cookie", cookie)
        await send(message)

    return send_with_key


def _clock() -> datetime:
    return datetime.now(UTC)
