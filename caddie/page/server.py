"""The server of the page: on this machine alone, for as long as the command runs."""

import socket
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.routing import WebSocketRoute
from starlette.types import ASGIApp

from caddie.errors import CaddieError
from caddie.page.guard import Guard
from caddie.page.keys import Keys, kept_secret
from caddie.page.limits import LARGEST_SOUND_BYTES
from caddie.page.listening import Listening, Sound
from caddie.page.routes import Routes
from caddie.page.service import Service, Wanted

HOST = "127.0.0.1"
_WAITING = 64
_IDLE_S = 15
_GRACE_S = 3


def application(
    service: Service, keys: Keys, port: int, on_let_in: Callable[[], None], sound: Sound
) -> ASGIApp:
    """The page behind its guard; ``service`` is open already and closed with it."""
    listening = Listening(service, keys, sound)

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        yield
        listening.close()
        service.close()

    routes = [*Routes(service, keys, on_let_in).all(), WebSocketRoute("/voice", listening.serve)]
    return Guard(Starlette(routes=routes, lifespan=lifespan), keys, port)


def serve(wanted: Wanted, port: int, tell: Callable[[str], None], sound: Sound) -> None:
    """Serve until Ctrl-C; ``tell`` gets the address at which one browser is let in, and then the next.

    Raises:
        CaddieError: if the port is taken, or bag or secret cannot be read.
    """
    import uvicorn

    listening = _listening(port)
    with listening:
        keys = Keys(kept_secret(), port)
        service = Service(wanted)
        service.open()
        service.warm_up()
        page = application(service, keys, port, lambda: tell(address(keys, port)), sound)
        config = uvicorn.Config(
            page,
            log_config=None,
            access_log=False,
            proxy_headers=False,
            server_header=False,
            ws="websockets-sansio",
            ws_max_size=LARGEST_SOUND_BYTES,
            limit_concurrency=_WAITING,
            timeout_keep_alive=_IDLE_S,
            timeout_graceful_shutdown=_GRACE_S,
        )
        tell(address(keys, port))
        uvicorn.Server(config).run(sockets=[listening])


def address(keys: Keys, port: int) -> str:
    """Where a browser is let in, once."""
    return f"http://{HOST}:{port}/?key={keys.once}"


def _listening(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((HOST, port))
        listening.listen()
    except OSError as error:
        listening.close()
        why = error.strerror or error
        raise CaddieError(f"port {port} cannot be used ({why}): name another with --port") from None
    return listening
