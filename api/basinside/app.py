"""Wires the calls, the pages and the one exception handler into an application."""

from pathlib import Path

from litestar import Litestar
from litestar.datastructures import State

from .service import ROOT
from .service.http.calculations import calculations
from .service.http.document import document, reference, reference_style
from .service.http.errors import BODY_LIMIT_BYTES, on_any_error
from .service.http.headers import add_headers
from .service.http.health import health
from .service.http.pages import pages
from .service.http.products import products
from .service.http.safety import safety_rules
from .service.store.shelf import read_shelf, seed_if_new

WEB_FOLDER = ROOT / "web" / "dist"


def create_app(data_folder: Path, web_folder: Path = WEB_FOLDER) -> Litestar:
    """Return the application, with the demo salon seeded into a data folder that is new.

    Raises `Unready` when the data folder cannot be used.
    """
    seed_if_new(data_folder)
    return Litestar(
        route_handlers=[
            *calculations,
            products,
            safety_rules,
            health,
            document,
            reference,
            reference_style,
            pages,
        ],
        exception_handlers={Exception: on_any_error},
        before_send=[add_headers],
        request_max_body_size=BODY_LIMIT_BYTES,
        state=State({"shelf": read_shelf(data_folder), "web_folder": web_folder}),
        # We write the document ourselves (service/http/openapi.py says why).
        openapi_config=None,
        logging_config=None,
    )
