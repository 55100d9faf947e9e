"""The addresses of the page, each a line or two: read what is asked, call the view, answer as JSON."""

import os
from collections.abc import Awaitable, Callable, Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from caddie.errors import CaddieError
from caddie.page import asked
from caddie.page.asked import read
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
        posts: dict[str, Handle] = {
            "/api/say": self.say,
            "/api/fact": self.fact,
            "/api/pick": self.pick,
            "/api/result": self.result,
            "/api/bag/cell": self.cell,
            "/api/bag/undo": self.bag_undo,
            "/api/shots/remove": self.remove,
            "/api/shots/teach": self.teach,
            "/api/practice/start": self.begin,
            "/api/practice/tell": self.told,
            "/api/practice/stop": self.stop,
        }
        gets: dict[str, Handle] = {
            "/": self.shell,
            "/shell/{name}": self.shell,
            "/worker.js": self.shell,
            "/api/talk": self.talk,
            "/api/bag": self.bag,
            "/api/shots": self.shots,
            "/api/shots/lesson": self.lesson,
            "/api/practice": self.practice,
            "/picture/shot/{number:int}": self.shot_picture,
            "/picture/bag": self.bag_picture,
            "/paper/report": self.report,
            "/paper/card": self.card,
            "/paper/card.pdf": self.card_pdf,
        }
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

    async def say(self, request: Request) -> Response:
        """A sentence answered."""
        said = await read(request, asked.Saying)
        return await self._answer(lambda views: views.talk.say(said.id, said.text))

    async def fact(self, request: Request) -> Response:
        """A fact tapped."""
        tap = await read(request, asked.FactTap)
        return await self._answer(lambda views: views.talk.set_fact(tap.id, tap.name, tap.value))

    async def pick(self, request: Request) -> Response:
        """Another shot picked."""
        tap = await read(request, asked.Pick)
        return await self._answer(lambda views: views.talk.pick(tap.id, tap.number))

    async def result(self, request: Request) -> Response:
        """What became of the shot."""
        told = await read(request, asked.ResultTap)
        return await self._answer(lambda views: views.talk.tell(told.id, told.model_dump(exclude={"id"})))

    async def bag(self, request: Request) -> Response:
        """The table of carries."""
        return await self._answer(lambda views: views.bag.state())

    async def cell(self, request: Request) -> Response:
        """A carry written."""
        cell = await read(request, asked.Cell)

        def write(views: Views) -> dict[str, Any]:
            state = views.bag.set_cell(cell.digest, cell.club, cell.swing, cell.sand, cell.carry, cell.spread)
            views.bag_changed()
            return state

        return await self._answer(write)

    async def bag_undo(self, request: Request) -> Response:
        """The bag as it was before the last save."""
        seen = await read(request, asked.SeenBag)

        def undo(views: Views) -> dict[str, Any]:
            state = views.bag.undo(seen.digest)
            views.bag_changed()
            return state

        return await self._answer(undo)

    async def shots(self, request: Request) -> Response:
        """The last shots."""
        return await self._answer(_shots)

    async def remove(self, request: Request) -> Response:
        """A shot taken out."""
        which = await read(request, asked.ShotNumber)

        def remove(views: Views) -> dict[str, Any]:
            views.shots.remove(which.shot)
            return _shots(views)

        return await self._answer(remove)

    async def lesson(self, request: Request) -> Response:
        """What the shots would teach."""
        return await self._answer(lambda views: views.shots.lesson())

    async def teach(self, request: Request) -> Response:
        """The bag taught."""
        seen = await read(request, asked.SeenBag)

        def teach(views: Views) -> dict[str, Any]:
            views.shots.teach(seen.digest, seen.shots)
            views.bag_changed()
            return views.shots.lesson()

        return await self._answer(teach)

    async def practice(self, request: Request) -> Response:
        """What is practised, or may be."""
        return await self._answer(lambda views: views.practice.state(views.bag.bag()))

    async def begin(self, request: Request) -> Response:
        """A rehearsal, game, drill or range session begun."""
        wanted = await read(request, asked.PracticeWanted)
        return await self._answer(lambda views: views.practice.start(views.bag.bag(), wanted, views.seed))

    async def told(self, request: Request) -> Response:
        """What became of a ball."""
        said = await read(request, asked.Saying)
        return await self._answer(lambda views: views.practice.tell(views.bag.bag(), said.id, said.text))

    async def stop(self, request: Request) -> Response:
        """Practice ended."""
        await read(request, asked.Asked)
        return await self._answer(lambda views: views.practice.stop(views.bag.bag()))

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

    async def _answer(self, act: Callable[[Views], dict[str, Any]]) -> Response:
        return JSONResponse(await self._service.do(act))


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


def _shots(views: Views) -> dict[str, Any]:
    player = views.talk.bag.player
    return views.shots.state(player.name, player.distances_in)


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
            return JSONResponse({"error": one_line(str(error))}, 400)
        except Exception as error:
            if os.environ.get("CADDIE_DEBUG"):
                raise
            name = one_line(f"{type(error).__name__}: {error}")
            return JSONResponse({"error": f"this should not happen ({name})"}, 500)

    return handled
