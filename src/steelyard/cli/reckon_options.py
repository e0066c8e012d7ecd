"""The options of each question of `steelyard reckon`."""

WITHIN = "May carry a ±."
CHECK_FORM = "check form of a judged check, see docs/reference/file-form.md"
BASE_OPTIONS: dict[str, str] = {
    "--arm": f"drive axis to the mark where the load hangs. {WITHIN}",
    "--gravity": "such as 9.81 m/s², or the word standard",
    "--latitude": "of the place, such as 51.5 or 33.9 S",
    "--height": "of the place above sea level, such as 35 m",
    "--wanted": f"the torque you want. {WITHIN}",
    "--setting": f"what the tool is set to. {WITHIN}",
    "--step": "step of the scale's display, such as 100 g",
    "--class": "in the oval on the scale: III or IIII",
    "--accuracy": "stated, such as 0.1 %% + 50 g, or the word household",
    "--want": "the torque for the bolt, such as 70 N·m",
    "--direction": "in which the bolt is turned, cw or ccw; the tool's main one when left out",
    "--today": "the day asked about, such as 2026-11-25; today when left out",
}
QUESTIONS: dict[str, tuple[str, dict[str, str]]] = {
    "torque": (
        "a torque in other units",
        {"--to": "the unit wanted; without it all of them"},
    ),
    "adapter": (
        "what to set with an adapter between tool and bolt",
        {
            "--wanted": "",
            "--setting": "",
            "--tool-length": f"drive axis to the grip mark. {WITHIN}",
            "--adapter": f"drive axis to the bolt. {WITHIN}",
            "--angle": "between tool and adapter: 0° straight out (also when left out), 180° folded back",
        },
    ),
    "insert": (
        "what to set with another insert head",
        {
            "--wanted": "",
            "--setting": "",
            "--tool-length": f"bolt to the grip mark, with the insert the tool was adjusted with. {WITHIN}",
            "--standoff": f"seat to bolt of this insert. {WITHIN}",
            "--reference-standoff": f"the same of the insert the tool was adjusted with. {WITHIN}",
        },
    ),
    "hung": (
        "the torque of a hung load, or the load for a torque",
        {
            "--load": f"mass of all that hangs, hook and rope included. {WITHIN}",
            "--wanted": "",
            "--arm": "",
            "--own-mass": f"mass of the tool. {WITHIN}",
            "--balance": f"drive axis to the tool's balance point. {WITHIN}",
            "--own-reading": f"what a scale under the level tool shows. {WITHIN}",
            "--own-at": f"drive axis to where that scale carries it. {WITHIN}",
            "--gravity": "",
            "--latitude": "",
            "--height": "",
            "--droop": f"of the arm below level, under load; level when left out. {WITHIN}",
            "--to": "unit of the torque in the answer",
        },
    ),
    "gravity": ("gravity at a place", {"--latitude": "", "--height": ""}),
    "mass": (
        "a mass weighed with and without, or several times",
        {
            "--step": "",
            "--with": "what the scale shows with the load",
            "--without": "what it shows without",
            "--placements": "what it shows each time the load alone is put on, such as 9.62 9.63 9.61 kg",
            "--class": "",
            "--accuracy": "",
        },
    ),
    "combinations": (
        "several masses weighed together in several ways",
        {
            "--row": "what lay on the scale and what it showed, such as A + B = 15.02 kg; once for each row",
            "--step": "",
            "--class": "",
            "--accuracy": "",
        },
    ),
    "water": (
        "check a scale with a known volume of water",
        {
            "--volume": f"of the water. {WITHIN}",
            "--temperature": f"of the water. {WITHIN}",
            "--height": "",
            "--air-density": "in place of the height",
            "--shows": "what the scale shows, the vessel taken off",
            "--step": "",
        },
    ),
    "pivot": (
        "where the pivot of a click head lies, from the loads at the click at two marks",
        {
            "--near-load": f"mass of all that hung at the click, at the mark nearer to the drive. {WITHIN}",
            "--near-arm": f"drive axis to that mark. {WITHIN}",
            "--far-load": f"the same at the mark farther out. {WITHIN}",
            "--far-arm": f"drive axis to that mark. {WITHIN}",
        },
    ),
    "set-to": (
        "what to set on a checked tool for a torque",
        {"--want": "", "--direction": "", "--today": ""},
    ),
    "choose": (
        "which of several checked tools to take for a torque",
        {"--want": "", "--direction": "", "--today": ""},
    ),
}
SWITCHES: dict[str, dict[str, str]] = {
    "adapter": {"--flexes": "there is a flex joint in between"},
    "hung": {
        "--own-zero": "leave the tool's own weight out on purpose",
        "--no-buoyancy": "leave the lift of the air out",
    },
}
PLACED: dict[str, tuple[str, str, str | None]] = {
    "torque": ("text", "such as 80 ft-lb", "+"),
    "set-to": ("file", CHECK_FORM, None),
    "choose": ("file", f"{CHECK_FORM}; one for each tool", "+"),
}
REPEATED = ("--row",)
