"""Doubts and patterns, one sentence each."""

FINDINGS: dict[str, str] = {
    "severity-note": "note",
    "severity-warn": "look",
    "severity-grave": "stop",
    "limit-caution-iso-6789-1-2017": "The limit is recalled, not read in the standard: look it up before relying on it; slipping tools may belong to a part still to come.",
    "limit-caution-asme-style": "The limit is put together from two American documents; its 6 % is for wrenches that click both ways.",
    "limit-caution-as-4115": "The limit is quoted for most torque wrenches; which ones are left out is not known.",
    "limit-caution-common-practice": "No standard stands behind this limit; the maker's own figure goes first.",
    "not-traceable": "The kit has no certificate with a number: the result is not traceable.",
    "gravity-unknown": "The place is not given, so gravity may be anything on Earth; give latitude and height.",
    "buoyancy-off": "The lift of the air is left out on purpose (about 0.015 %).",
    "air-assumed": "The height is not given; air of 0.95 to 1.25 kg/m³ is assumed.",
    "material-assumed": "The material of the load is not given; 6600 to 8400 kg/m³ (iron, steel, brass) is assumed.",
    "drop-assumed": "How far below or above the arm the load hangs is not given; ± 15 mm is assumed.",
    "scale-assumed": "Nothing is stated for scale {scale}; what such household scales usually do is assumed.",
    "drum-side-load": "A drum loads the driver's bearing from the side; that is not in the ±.",
    "own-weight-left-out": "The tool's own weight is left out on purpose. It is usually 2 to 9 % of the torque, "
    "so the tool may deliver more than stands here.",
    "own-weight-zeroed": "The tool was zeroed in position, so its own weight cancels but for the droop.",
    "own-weight-state-unknown": "Axis or zero are not known, so the tool's own weight may count or not; "
    "the ± holds both.",
    "pivot-unknown": "Where the click head pivots is not known; 0 to 40 mm from the drive axis is assumed.",
    "droop-by-eye": "The arm was levelled by eye or worse (± 3°); a spirit level narrows the ±.",
    "peak-follow-through": "Peak reading on a tool that signals: if the hand did not stop at the click, "
    "the kit shows more than the tool's trip.",
    "paper-without-due-date": "The paper of {kit} names no date when it runs out.",
    "paper-overdue": "The paper of {kit} ran out on {due}.",
    "drift-not-given": "No drift since the paper of {kit} is given; none is in the ±.",
    "comparison-only": "{kit} is itself a torque tool: this compares two tools and is no check against a reference.",
    "room-change": "The room changed by {change_celsius:.2g} °C during the check; 1 °C is usual.",
    "load-time": "From 80 % to the reading took {load_seconds:.2g} s; 0.5 to 4 s is usual, and the rate matters.",
    "outside-paper": "{point}: the paper does not reach here; the stated accuracy stands in.",
    "room-temperature": "The room was at {room_celsius:.3g} °C; 18 to 28 °C is usual for a check.",
    "exercise-short": "Before the first pull {usual} pulls at the maximum are usual; fewer, or none, are noted.",
    "quick-check": "This is a quick check: fewer than three targets or fewer than five pulls somewhere.",
    "heavy-load": "{load_kilogram:.3g} kg on the handle. Above about 25 kg use a longer arm, a hoist or a transducer.",
    "no-limit-here": "{point}: the limit does not reach down to this torque.",
    "kit-coarse": "{point}: the kit is {times:.2g} times better than the limit; 4 times is what standards ask.",
    "pull-just-outside": "{point}: pull {pull} ({deviation_percent:+.2f} %) is outside the limit by less than the ±.",
    "rough-curvature": "{point}: the ranking of the ± is rough here, because something acts to one side only.",
    "rough-bounds": "{point}: the ranking of the ± is rough here, because one line with hard bounds rules it.",
    "rough-few-pulls": "{point}: the ranking of the ± is rough here, because there are few pulls.",
    "curved": "{point}: something that acts to one side only shifts the expected deviation by {shift_percent:+.2f} %.",
    "no-spread": "{point}: all pulls are the same; the step of the reading is coarser than the tool.",
    "never-clicked": "{point}: pull {pull} ({typed}) never clicked; the mean leaves it out, so it may be too low.",
    "unit-suspected": "{point}: pull {pull} ({typed}) fits a kit showing {likely} instead of {taken}. "
    "Look at its display; nothing was converted.",
    "reading-outside-range": "{point}: outside the tool's range lie pulls {pulls}.",
    "pattern-nothing-beyond": "{direction}: no deviation beyond the ± at any point.",
    "pattern-constant-amount": "{direction}: about the same amount everywhere ({amount_newton_metre:+.3g} N·m): "
    "a zero, a preload or a weight, in tool or set-up.",
    "pattern-constant-percent": "{direction}: about the same percentage everywhere ({level_percent:+.2f} %): "
    "spring or lever of the tool.",
    "pattern-tool-or-kit": "{direction}: about the same percentage everywhere ({level_percent:+.2f} %), within "
    "what all points share of the ±: tool or kit, this kit cannot say which.",
    "pattern-bent": "{direction}: the deviation changes with torque ({slope_percent:+.2f} % from lowest to "
    "highest), neither as an amount nor as a percentage.",
    "pattern-scatter": "{point}: the pulls scatter widely (s {s_percent:.2f} %); hand, wear or dry parts.",
    "pattern-first-pulls": "The first pull of most points stands apart from the others: exercise it more first.",
    "pattern-directions": "{target}: {first} and {second} differ by {apart_percent:+.2f} %.",
}
