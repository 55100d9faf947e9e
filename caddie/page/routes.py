"""The addresses of the page: its own files, what is looked at and changed as JSON, pictures and papers."""

import os
from collections.abc import Awaitable, Callable, Mapping

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from caddie.errors import CaddieError
from caddie.page.asked import read
from caddie.page.at_hand import at_hand
from caddie.page.changes import CHANGES, LOOKS, Answer, PageChange
from caddie.page.guard import door_of
from caddie.page.keys import Keys
from caddie.page.papers import report_paper
from caddie.page.service import Service, Views
from caddie.page.shell import ShellFile
from caddie.printable import one_line

COOKIE_LASTS_S = 400 * 24 * 3600
SVG_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
PAPER_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; sandbox"
Handle = Callable[[Request], Awaitable[Response]]


class Routes:
    """The requests that the page makes."""

    def __init__(self, service: Service, keys: Keys, files: Mapping[str, ShellFile]) -> None:
        """``files`` are the page's own, by name."""
        self._service, self._keys, self._files = service, keys, files

    def all(self) -> list[BaseRoute]:
        """Every address."""
        gets: dict[str, Handle] = {
            "/": self.shell,
            "/shell/{name}": self.shell,
            "/worker.js": self.shell,
            "/api/talk": self.talk,
            "/picture/shot/{number:int}": self.shot_picture,
            "/picture/bag": self.bag_picture,
            "/paper/report": self.report,
            "/paper/card": self.card,
            "/paper/card.pdf": self.card_pdf,
            "/paper/course": self.course,
            **{path: self._look(look) for path, look in LOOKS.items()},
        }
        posts = {path: self._change(change) for path, change in CHANGES.items()}
        return [
            *(Route(path, _told(handle), methods=["GET"]) for path, handle in gets.items()),
            *(Route(path, _told(handle), methods=["POST"]) for path, handle in posts.items()),
        ]

    async def shell(self, request: Request) -> Response:
        """The page's own files; with the key of the moment a browser is let in."""
        key = request.query_params.get("key")
        if request.url.path == "/" and key is not None:
            return _let_in(request, key)
        name = request.path_params.get("name") or {"/": "index.html"}.get(request.url.path, "worker.js")
        file = self._files.get(name)
        if file is None:
            return JSONResponse({"error": "there is no such page"}, 404)
        return Response(file.content, media_type=file.kind, headers={"cache-control": "no-cache"})

    async def talk(self, request: Request) -> Response:
        """The talk, with the token for changes."""
        state = await self._service.do(lambda views: views.talk.state())
        return JSONResponse({"token": self._keys.token, **state})

    async def shot_picture(self, request: Request) -> Response:
        """The picture of a plan."""
        number = request.path_params["number"]
        return _svg(await self._service.do(lambda views: views.talk.picture(number)))

    async def bag_picture(self, request: Request) -> Response:
        """The picture of the bag."""
        return _svg(await self._service.do(lambda views: views.bag.picture()))

    async def report(self, request: Request) -> Response:
        """The report."""
        demo = request.query_params.get("of") == "demo"
        return _paper(
            await self._service.do(lambda views: report_paper(views.log, views.bag.bag(), demo)),
            "text/html",
        )

    async def card(self, request: Request) -> Response:
        """The card for printing."""
        made = await self._service.do(lambda views: views.card.html(views.bag.bag(), views.competition))
        return _paper(made, "text/html")

    async def card_pdf(self, request: Request) -> Response:
        """The card as PDF."""
        made = await self._service.do(lambda views: views.card.pdf(views.bag.bag(), views.competition))
        return _paper(made, "application/pdf")

    async def course(self, request: Request) -> Response:
        """The notes of a course for printing."""
        name = request.query_params.get("of", "")
        return _paper(await self._service.do(lambda views: views.notes.course(name)), "text/html")

    def _look(self, look: Callable[[Views], Answer]) -> Handle:
        async def looked(_: Request) -> Response:
            return JSONResponse(await self._service.do(look))

        return looked

    def _change(self, change: PageChange) -> Handle:
        async def changed(request: Request) -> Response:
            wanted = await read(request, change.kind)
            return JSONResponse(await self._service.do(lambda views: change.act(views, wanted)))

        return changed


def _let_in(request: Request, key: str) -> Response:
    door = door_of(request.scope)
    answer = RedirectResponse("/", 303)
    cookie = door.let_in(key, request.headers.get("user-agent", ""))
    if cookie is not None:
        answer.set_cookie(
            door.cookie_name, cookie, max_age=COOKIE_LASTS_S, httponly=True, samesite="strict", path="/",
            secure=door.scheme == "https",
        )  # fmt: skip
    return answer


def _svg(picture: str) -> Response:
    return Response(picture, media_type="image/svg+xml", headers={"content-security-policy": SVG_POLICY})


def _paper(content: str | bytes, kind: str) -> Response:
    return Response(content, media_type=kind, headers={"content-security-policy": PAPER_POLICY})


def _told(handle: Handle) -> Handle:
    """The handler, whose errors are answered in one line each."""

    async def handled(request: Request) -> Response:
        try:
            return await handle(request)
        except CaddieError as error:
            return JSONResponse({"error": one_line(at_hand(str(error)))}, 400)
        except Exception as error:
            if os.environ.get("CADDIE_DEBUG"):
                raise
            name = one_line(f"{type(error).__name__}: {error}")
            return JSONResponse({"error": f"this should not happen ({name})"}, 500)

    return handled
