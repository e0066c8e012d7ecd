"""Check forms that several tests start from, and a way to change one line of them."""

HUNG = """\
steelyard_check = 1
date = 2026-11-20
exercise_pulls = 5
draws = 10000

[place]
latitude = "54.3°"
height = "12 m"

[tool]
number = "T-01"
kind = "click-adjustable"
lowest = "20 N·m"
highest = "100 N·m"
graduation = "1 N·m"
grip_mark = "450 mm ± 2 mm"
mass = "1.300 kg ± 5 g"
balance_point = "220 mm ± 3 mm"

[limit]
percent = 4
source = "our own list"

[kit]
kind = "hung-weight"
name = "arm W-1"
arm = "450 mm ± 1 mm"
droop = "0° ± 1°"
drop = "0 mm ± 5 mm"
material = "cast-iron"

[[kit.scale]]
name = "S-2"
knows = "mass"
step = "5 g"
within = "10 g"

[[kit.mass]]
name = "M-10"
value = "10 kg ± 10 g"

[[kit.mass]]
name = "B-100"
value = "100 g ± 1 g"

[[point]]
target = "50 N·m"
pulls = [
  { no_click = "M-10", click = "M-10 + B-100" },
  { no_click = "M-10 + B-100", click = "M-10 + B-100 + 0.1 kg on S-2" },
  { bucket = "10.15 kg" },
]
"""
"""A click wrench on hung weights, loads in steps and a weighed bucket."""

ADAPTER = """\
steelyard_check = 1
date = 2026-11-20
exercise_pulls = 5
draws = 10000

[tool]
number = "T-04"
kind = "click-adjustable"
lowest = "20 N·m"
highest = "100 N·m"
graduation = "0.5 N·m"

[limit]
percent = 4
source = "our own list"

[kit]
kind = "transducer"
name = "adapter A-1"
resolution = "0.1 N·m"
stated_of_reading = "0.5 %"
axis = "vertical"
zeroed = "with-tool"
mode = "first-peak"

[[point]]
target = "100 N·m"
pulls = "96.1 97.0 96.6 96.8 96.5 N·m"
"""
"""A click wrench on a digital adapter without a paper."""

DRIVER = """\
steelyard_check = 1
date = 2026-11-20
draws = 10000

[tool]
number = "T-11"
kind = "driver-adjustable"
lowest = "1 N·m"
highest = "6 N·m"
graduation = "0.05 N·m"
directions = ["cw", "ccw"]

[limit]
published = "iso-6789-1-2017"

[kit]
kind = "transducer"
name = "bench transducer R-1"
resolution = "0.001 N·m"
axis = "vertical"
zeroed = "before-tool"

[kit.paper]
certificate = "TPB-0042"
issued = 2026-03-02
due = 2027-03-02
states = "error"
worked_shows = "5.00 N·m"
worked_true = "4.99 N·m"

[[kit.paper.row]]
at = "0.5 N·m"
error = "0.30 %"
U = "0.25 %"

[[kit.paper.row]]
at = "10 N·m"
error = "0.10 %"
U = "0.20 %"

[[point]]
target = "5 N·m"
pulls = "4.96 4.97 4.95 N·m"

[[point]]
target = "5 N·m"
direction = "ccw"
pulls = "-4.98 -4.99 -4.97 N·m"
"""
"""A torque driver on a transducer with a paper, in both directions."""

BEAM = """\
steelyard_check = 1
date = 2026-11-20
draws = 10000

[tool]
number = "T-07"
kind = "beam"
lowest = "10 N·m"
highest = "60 N·m"
graduation = "1 N·m"
grip_mark = "300 mm"
zeroed = true

[limit]
percent = 6
source = "our own list"

[kit]
kind = "hung-weight"
name = "arm W-1"
arm = "300 mm ± 1 mm"

[[kit.scale]]
name = "S-1"
knows = "mass"
step = "50 g"

[[kit.mass]]
name = "M-5"
value = "5 kg ± 5 g"

[[point]]
target = "20 N·m"
load = "M-5 + 2 kg ± 4 g"
pulls = "20.5 20.6 20.4 N·m"
"""
"""A beam wrench read against known weights; droop, drop, place, air and material left open."""

DRUM = """\
steelyard_check = 1
date = 2026-11-20
draws = 10000

[tool]
number = "T-12"
kind = "driver-preset"
lowest = "1 N·m"
highest = "6 N·m"

[limit]
percent = 6
source = "our own list"

[kit]
kind = "drum"
name = "drum D-1"
drum = "100 mm ± 0.2 mm"
cord = "3 mm ± 0.2 mm"

[[point]]
target = "5 N·m"
pulls = ["9.8 kg ± 5 g", "9.9 kg ± 5 g"]
"""
"""A preset driver on a drum with a cord."""

ALL = {"hung": HUNG, "adapter": ADAPTER, "driver": DRIVER, "beam": BEAM, "drum": DRUM}


def changed(text: str, old: str, new: str) -> str:
    """The form with one piece replaced; raises unless it stands there exactly once."""
    if text.count(old) != 1:
        raise ValueError(f"{old!r} stands {text.count(old)} times in the form")
    return text.replace(old, new)


def without(text: str, start: str) -> str:
    """The form without the one line that starts so."""
    lines = [line for line in text.splitlines(keepends=True) if line.startswith(start)]
    if len(lines) != 1:
        raise ValueError(f"{len(lines)} lines start with {start!r}")
    return changed(text, lines[0], "")
