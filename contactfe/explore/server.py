"""The page served on this machine: to itself alone, unless told."""

from __future__ import annotations

import errno
import logging
import socket
import webbrowser
from functools import partial
from pathlib import Path
from typing import Any, ClassVar

import panel
from panel.custom import JSComponent
from panel.io.server import get_server

from contactfe.case.wording import told
from contactfe.errors import InputError
from contactfe.explore.page import Tab
from contactfe.explore.state import opened

Json = dict[str, Any]

MOST_TABS = 6
"""Pages open at a time: each has two processes of 200 MB and more, a third for strikes."""

UNUSED, LOOKED_FOR = 3_000, 1_000
"""Milliseconds after which a page that was closed is, and how often that is looked for."""

_HERE = Path(__file__).parent


class Page(JSComponent):  # type: ignore[misc]
    """What is shown in a tab, as `page.js` draws it."""

    _esm = (_HERE / "page.js").read_text("utf-8")
    _stylesheets: ClassVar[list[str]] = [(_HERE / "page.css").read_text("utf-8")]


def serve(path: str | Path, address: str, port: int | None, show: bool) -> None:
    """Serve the page of a case until Ctrl-C; ``show`` opens it in the browser of this machine.

    It is asked for by ``address`` and the port alone, a free one where none is named: a page of
    another origin gets no answer. Raises InputError where the case or the address is none.
    """
    opened(path)
    port = _free(address, port)
    here = f"[{address}]:{port}" if ":" in address else f"{address}:{port}"
    url = f"http://{here}/"
    for name in ("bokeh", "tornado", "panel", "asyncio"):  # what goes wrong is said on the page
        logging.getLogger(name).setLevel(logging.CRITICAL)
    tabs: set[Tab] = set()
    server = get_server(
        lambda: _page(Path(path), tabs, {here, f"localhost:{port}"}),
        port=port,
        address=address,
        websocket_origin=[here],
        title="contactfe",
        unused_session_lifetime_milliseconds=UNUSED,
        check_unused_sessions_milliseconds=LOOKED_FOR,
    )
    try:
        server.start()
        print(f"{Path(path).name} is on {url}\nCtrl-C ends it.", flush=True)
        if show:
            webbrowser.open(url)
        server.io_loop.start()
    except KeyboardInterrupt:
        pass
    finally:
        for tab in tabs:
            tab.close()


def _page(path: Path, tabs: set[Tab], hosts: set[str]) -> Page:
    """A page of a tab's own; the case file is read anew for each.

    One that is asked for by another name than its ``hosts`` stays empty: a page of elsewhere, whose
    name was made to lead here, would be of one origin with this.
    """
    page, document = Page(sizing_mode="stretch_width"), panel.state.curdoc

    def send(part: Json) -> None:
        document.add_next_tick_callback(partial(page._send_msg, part))

    if panel.state.headers.get("Host") not in hosts:
        return page
    try:
        first, left = opened(path)
    except InputError as error:  # the file has changed since
        why = f"{path.name}: {told(error, str(path))}"
        page.on_msg(lambda _: send({"title": path.name, "say": why}))
        return page
    tab = Tab(first, left, path.absolute().parent, send)

    def got(event: Any) -> None:
        if tab not in tabs and len(tabs) >= MOST_TABS:
            send({"status": f"{MOST_TABS} pages are open already: close one, and load this again"})
            return
        tabs.add(tab)
        try:
            tab.got(event.data)
        except Exception as error:
            what = " ".join(f"{type(error).__name__}: {error}".split())
            send({"answers": 0, "say": f"a fault of contactfe itself ({what})"})

    def closed(_: object) -> None:
        tabs.discard(tab)
        tab.close()

    page.on_msg(got)
    document.on_session_destroyed(closed)
    return page


def _free(address: str, port: int | None) -> int:
    """The port, if it can be listened on; a free one where there is none."""
    try:
        family = socket.getaddrinfo(address, port or 0, type=socket.SOCK_STREAM)[0][0]
        with socket.socket(family, socket.SOCK_STREAM) as tried:
            tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            tried.bind((address, port or 0))
            return int(tried.getsockname()[1])
    except OSError as error:
        if error.errno in {errno.EADDRINUSE, errno.EACCES} and port is not None:
            raise InputError(
                f"--port {port}: cannot be listened on: {error.strerror}; name another, or none"
            ) from None
        raise InputError(
            f"--address {address}: is no address of this machine: {error.strerror}"
        ) from None
