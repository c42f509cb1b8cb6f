"""Wires the calls, the pages and the one exception handler into an application."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from pathlib import Path

from litestar import Litestar
from litestar.datastructures import State

from .service import ROOT
from .service.http.backups import keep_backing_up
from .service.http.calculations import calculations
from .service.http.devices import list_devices, offer_code, pair_device, revoke_device
from .service.http.document.calls.table import CALLS
from .service.http.document.served import document, reference, reference_start, reference_style
from .service.http.errors import BODY_LIMIT_BYTES, on_any_error
from .service.http.export import readings
from .service.http.headers import add_headers
from .service.http.health import health
from .service.http.importing import import_file
from .service.http.live import follow_live
from .service.http.matters import list_matters
from .service.http.open_desk import Desk, now_ms
from .service.http.pages import pages
from .service.http.photos import fetch_photo, list_missing_photos, send_photo
from .service.http.products import products
from .service.http.query import Parameters, refuse_unknown_at_once
from .service.http.recheck import keep_looking_again
from .service.http.record_search import search_records
from .service.http.rescue import offer_records, rescue_records
from .service.http.safety import safety_rules
from .service.http.spared import spare_what_is_held
from .service.http.sync import pull_changes, push_operations, take_snapshot
from .service.store.salon import DATABASE_FILE, Salon
from .service.store.shelf import read_shelf, seed_if_new
from .service.sync.refused import Refused
from .service.whole.erasing import erase_due, put_off, replay
from .service.whole.ledger import Ledger
from .service.whole.tide import begin, keep_tide

WEB_FOLDER = ROOT / "web" / "dist"


def create_app(data_folder: Path, web_folder: Path = WEB_FOLDER) -> Litestar:
    """Return the application; seed the demo salon into a new data folder.

    Raises `Unready` when the data folder cannot be used.
    """
    seed_if_new(data_folder)
    salon = Salon(data_folder / DATABASE_FILE)
    salon.check_pages()
    if begin(salon, now_ms()):
        put_off(salon, now_ms())
    replay(salon, Ledger(data_folder))
    erase_due(salon, Ledger(data_folder), now_ms())
    return Litestar(
        route_handlers=[
            *calculations,
            push_operations,
            pull_changes,
            take_snapshot,
            follow_live,
            offer_records,
            rescue_records,
            import_file,
            send_photo,
            fetch_photo,
            list_missing_photos,
            pair_device,
            list_devices,
            offer_code,
            revoke_device,
            *readings,
            search_records,
            list_matters,
            products,
            safety_rules,
            health,
            document,
            reference,
            reference_style,
            reference_start,
            pages,
        ],
        exception_handlers={Exception: on_any_error},
        before_request=refuse_unknown_at_once,
        before_send=[add_headers],
        middleware=[spare_what_is_held],
        request_max_body_size=BODY_LIMIT_BYTES,
        lifespan=[_open_desk],
        state=State(
            {
                "shelf": read_shelf(data_folder),
                "web_folder": web_folder,
                "desk": Desk(salon),
                "parameters": Parameters(
                    {call.path: [each.name for each in call.query] for call in CALLS},
                    {call.path for call in CALLS if call.paired},
                ),
            }
        ),
        # We write the document ourselves (docs/decisions/0002 says why).
        openapi_config=None,
        logging_config=None,
    )


@asynccontextmanager
async def _open_desk(app: Litestar) -> AsyncIterator[None]:
    """Keep the file that says how far the database has got at most a second behind it."""
    desk: Desk = app.state.desk

    async def follow() -> None:
        while True:
            await asyncio.sleep(1)
            with suppress(Refused):  # no room, or held by another process: try in a second
                await desk.read(keep_tide, desk.salon)
                if await desk.write(erase_due, desk.salon, desk.ledger, now_ms()):
                    desk.changed()

    beside = [
        asyncio.create_task(follow()),
        asyncio.create_task(keep_looking_again(desk)),
        asyncio.create_task(keep_backing_up(desk)),
    ]
    try:
        yield
    finally:
        for task in beside:
            task.cancel()
            with suppress(asyncio.CancelledError):
                await task
        with suppress(Refused):
            await desk.read(keep_tide, desk.salon)
        await desk.close()
