"""The server of the page: for this machine alone, and with ``--lan`` for phones beside it too."""

import asyncio
import contextlib
import socket
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from ipaddress import IPv4Address
from types import FrameType
from typing import TYPE_CHECKING

import uvicorn
from starlette.applications import Starlette
from starlette.routing import WebSocketRoute
from starlette.types import ASGIApp

from caddie.errors import CaddieError
from caddie.page.devices import Devices
from caddie.page.door import HOST, LanDoor, OwnDoor
from caddie.page.guard import Guard
from caddie.page.hearing import Sound
from caddie.page.keys import Keys, kept_secret
from caddie.page.limits import LARGEST_SOUND_BYTES
from caddie.page.listening import Listening
from caddie.page.routes import Routes
from caddie.page.service import Service, Wanted
from caddie.page.shell import ShellFile, shell_files

if TYPE_CHECKING:
    from caddie.page.certificate import Certificate

_WAITING = 64
_IDLE_S = 15
_GRACE_S = 3


@dataclass(frozen=True)
class Announced:
    """What the person in front of the terminal is told."""

    own: Callable[[str], None]
    """The address at which one browser of this machine is let in, and then the next."""
    lan: Callable[[LanDoor, "Certificate"], None]
    """How one device is let in, and then the next."""


class _Beside(uvicorn.Server):
    """A server that is ended by another one."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Leave signals to the other."""
        yield


class _First(uvicorn.Server):
    """The server that a signal ends, with those beside it."""

    def __init__(self, config: uvicorn.Config, beside: Sequence[_Beside]) -> None:
        super().__init__(config)
        self._beside = beside

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """End all."""
        for server in self._beside:
            server.should_exit = True
        super().handle_exit(sig, frame)


def application(service: Service, keys: Keys, listening: Listening, authority: bytes = b"") -> Starlette:
    """The page, to be put behind a guard; ``service`` is open already."""
    files = dict(shell_files())
    if authority:
        files["authority.crt"] = ShellFile(authority, "application/x-x509-ca-cert")
    routes = [*Routes(service, keys, files).all(), WebSocketRoute("/voice", listening.serve)]
    return Starlette(routes=routes)


def serve(wanted: Wanted, port: int, told: Announced, sound: Sound, lan: IPv4Address | None = None) -> None:
    """Serve until Ctrl-C: this machine, and phones that reach ``lan``, an address of this machine.

    Raises:
        CaddieError: if the port is taken, or bag, secret or certificate cannot be read.
    """
    with contextlib.ExitStack() as ends:
        own_socket = ends.enter_context(_listening(HOST, port))
        lan_socket = ends.enter_context(_listening(str(lan), port)) if lan else None
        keys, certificate = Keys(kept_secret(), port), _certificate(lan)
        service = Service(wanted)
        ends.callback(service.close)
        service.open()
        service.warm_up()
        listening = Listening(service, keys, sound)
        ends.callback(listening.close)
        page = application(service, keys, listening, certificate.authority if certificate else b"")
        own = OwnDoor(keys, port, lambda: told.own(own.address))
        told.own(own.address)
        beside: dict[_Beside, socket.socket] = {}
        if lan and certificate and lan_socket:
            shown = certificate
            door = LanDoor(lan, port, Devices(), lambda: told.lan(door, shown))
            secure = _config(Guard(page, keys, door), ssl_certfile=str(shown.file))
            beside[_Beside(secure)] = lan_socket
            told.lan(door, shown)
        asyncio.run(_run(_First(_config(Guard(page, keys, own)), list(beside)), own_socket, beside))


async def _run(first: _First, its_socket: socket.socket, beside: Mapping[_Beside, socket.socket]) -> None:
    """Serve all until they are told to end."""
    serving = [server.serve(sockets=[listening]) for server, listening in beside.items()]
    await asyncio.gather(first.serve(sockets=[its_socket]), *serving)


def _config(page: ASGIApp, ssl_certfile: str | None = None) -> uvicorn.Config:
    return uvicorn.Config(
        page,
        lifespan="off",
        log_config=None,
        access_log=False,
        proxy_headers=False,
        server_header=False,
        ws="websockets-sansio",
        ws_max_size=LARGEST_SOUND_BYTES,
        limit_concurrency=_WAITING,
        timeout_keep_alive=_IDLE_S,
        timeout_graceful_shutdown=_GRACE_S,
        ssl_certfile=ssl_certfile,
    )


def _certificate(lan: IPv4Address | None) -> "Certificate | None":
    if lan is None:
        return None
    from caddie.page.certificate import certificate_for

    return certificate_for(lan)


def _listening(host: str, port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((host, port))
        listening.listen()
    except OSError as error:
        listening.close()
        why = error.strerror or error
        what = f"port {port}" if host == HOST else f"address {host}, port {port},"
        raise CaddieError(f"{what} cannot be used ({why}): name another") from None
    return listening
