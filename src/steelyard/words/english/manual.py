"""Words around the documents where they are shown as help."""

MANUAL: dict[str, str] = {
    "manual-examples": "Examples of checks",
}
