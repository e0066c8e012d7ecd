"""Everything the pages do, for a program: JSON in and out, described at /api/openapi.json."""

from importlib import import_module

from fastapi import APIRouter

ROOMS = ("api_rack", "api_rigs", "api_bench", "api_book", "api_today")

router = APIRouter()
for room in ROOMS:
    router.include_router(import_module(f"steelyard.web.{room}").router)
