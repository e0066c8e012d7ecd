"""The options of each question of `steelyard reckon`, each with the code of what belongs there."""

QUESTIONS: dict[str, dict[str, str]] = {
    "torque": {"--to": "asking-to"},
    "adapter": {
        "--wanted": "asking-wanted",
        "--setting": "asking-setting",
        "--tool-length": "asking-adapter-tool-length",
        "--adapter": "asking-adapter-adapter",
        "--angle": "asking-adapter-angle",
    },
    "insert": {
        "--wanted": "asking-wanted",
        "--setting": "asking-setting",
        "--tool-length": "asking-insert-tool-length",
        "--standoff": "asking-insert-standoff",
        "--reference-standoff": "asking-insert-reference-standoff",
    },
    "hung": {
        "--load": "asking-hung-load",
        "--wanted": "asking-wanted",
        "--arm": "asking-arm",
        "--own-mass": "asking-hung-own-mass",
        "--balance": "asking-hung-balance",
        "--own-reading": "asking-hung-own-reading",
        "--own-at": "asking-hung-own-at",
        "--gravity": "asking-gravity",
        "--latitude": "asking-latitude",
        "--height": "asking-height",
        "--droop": "asking-hung-droop",
        "--to": "asking-hung-to",
    },
    "gravity": {"--latitude": "asking-latitude", "--height": "asking-height"},
    "mass": {
        "--step": "asking-step",
        "--with": "asking-mass-with",
        "--without": "asking-mass-without",
        "--placements": "asking-mass-placements",
        "--class": "asking-class",
        "--accuracy": "asking-accuracy",
    },
    "combinations": {
        "--row": "asking-combinations-row",
        "--step": "asking-step",
        "--class": "asking-class",
        "--accuracy": "asking-accuracy",
    },
    "water": {
        "--volume": "asking-water-volume",
        "--temperature": "asking-water-temperature",
        "--height": "asking-height",
        "--air-density": "asking-water-air-density",
        "--shows": "asking-water-shows",
        "--step": "asking-step",
    },
    "pivot": {
        "--near-load": "asking-pivot-near-load",
        "--near-arm": "asking-pivot-near-arm",
        "--far-load": "asking-pivot-far-load",
        "--far-arm": "asking-pivot-far-arm",
    },
    "set-to": {"--want": "asking-want", "--direction": "asking-direction", "--today": "asking-today"},
    "choose": {"--want": "asking-want", "--direction": "asking-direction", "--today": "asking-today"},
}
SWITCHES: dict[str, dict[str, str]] = {
    "adapter": {"--flexes": "asking-adapter-flexes"},
    "hung": {
        "--own-zero": "asking-hung-own-zero",
        "--no-buoyancy": "asking-hung-no-buoyancy",
    },
}
PLACED: dict[str, tuple[str, str, str | None]] = {
    "torque": ("text", "asking-torque", "+"),
    "set-to": ("file", "asking-check-form", None),
    "choose": ("file", "asking-check-forms", "+"),
}
REPEATED = ("--row",)
