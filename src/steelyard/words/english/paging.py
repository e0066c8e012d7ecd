"""Pages in general: troubles, the way back, what stands where nothing was said."""

PAGING: dict[str, str] = {
    "field-choose": "Choose one.",
    "field-wanted": "Wanted is {wanted}.",
    "field-given": "“{given}” cannot be used here; wanted is {wanted}.",
    "workshop-unnamed": "Workshop",
    "other-origin": "This request came from another site and was refused; nothing was changed.",
    "page-not-there": "There is no such page. It may have been moved or mistyped.",
    "page-not-so": "This page cannot be asked for in that way.",
    "request-not-understood": "The request was not understood ({where}).",
    "request-not-readable": "The request cannot be read.",
    "request-too-large": "The request is too large.",
    "our-fault": "This is our fault, not yours. Nothing that was kept is damaged. If you report it, give the number {number}.",
    "our-fault-log": "our fault, number {number}",
    "trouble-title": "That did not go through",
    "trouble-today": "Go to Today",
    "want-free-port": "a port that is free; none is up to {most}",
    "want-known-person": "somebody who is on the list",
}
