"""How a refusal is told: to a program as JSON of one form, to a person in a sentence."""

from starlette.responses import JSONResponse, PlainTextResponse, Response


def told(
    error: str, sentence: str, *, field: str | None = None, try_again: bool = False
) -> dict[str, str | bool | None]:
    """What a program is told, in the form of `Refusal` of the interface for programs."""
    return {"error": error, "field": field, "sentence": sentence, "try_again": try_again}


def is_for_a_program(path: str) -> bool:
    """Whoever asks there reads JSON."""
    return path.startswith("/api/")


def at_the_door(path: str, status: int, error: str, sentence: str) -> Response:
    """A refusal before anything of the workshop is asked; to a person without a page around it."""
    if is_for_a_program(path):
        return JSONResponse(told(error, sentence), status)
    return PlainTextResponse(sentence, status)
