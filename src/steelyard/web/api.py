"""Everything the pages do, for a program: JSON in and out.

Texts are sent as a person would type them: `"50,2 N·m"`, `"yes"`; a number without a unit gets the one that
stands beside its field on the page. A change is heard where the header `Origin` names this address, as a
browser of this computer would send it, or where `Sec-Fetch-Site` is `none`; any other is refused with 403.

Who acts is said in the header `Steelyard-Person`, by a key from `/api/people`; on what, in
`Steelyard-Device`. Both may be left out.

A change with a `submission` may be sent again when no answer came: it is written once. One with `seen`, the
`last` that was known of a thing, is refused with 409 where somebody wrote since: look, then send again. A
sealed record refuses every change but a correction.
"""

from importlib import import_module

from fastapi import APIRouter

from steelyard.web.api_sent import REFUSALS

ROOMS = (
    "api_rack",
    "api_labels",
    "api_pivot",
    "api_weigh",
    "api_rigs",
    "api_adjust",
    "api_bench",
    "api_trials",
    "api_book",
    "api_proof",
    "api_today",
    "api_exchange_out",
    "api_exchange_in",
)

router = APIRouter(responses=REFUSALS)
for room in ROOMS:
    router.include_router(import_module(f"steelyard.web.{room}").router)
