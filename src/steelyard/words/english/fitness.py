"""What a kit can decide, before any work."""

FITNESS: dict[str, str] = {
    "able-title": "What {kit} can decide of torque tool {number}",
    "able-point": "{mark} {target} {direction}: this kit knows it to ±{expanded:.2g} %, so it can pass only tools "
    "inside ±{passes:.2g} %.",
    "able-hopeless": "{mark} {target} {direction}: this kit knows it to ±{expanded:.2g} %, the limit is "
    "±{limit} %: hopeless, even a perfect tool would not pass.",
    "able-no-limit": "{mark} {target} {direction}: this kit knows it to ±{expanded:.2g} %; no limit applies here.",
    "able-better": "       {change} → ±{expanded:.2g} %, passes inside ±{passes:.2g} %",
    "able-better-no-limit": "       {change} → ±{expanded:.2g} %",
    "able-better-hopeless": "       {change} → ±{expanded:.2g} %, still not enough",
    "able-mass": "       hang {mass_kilogram:.3f} kg in all",
    "able-step": "       in steps of {step_kilogram:.3g} kg, the smallest mass of the kit; pouring water has none",
    "able-force": "       {force_newton:.0f} N at the grip, as much as {hand_kilogram:.3g} kg",
    "able-enough": "       Nothing cheap helps more than a little.",
    "able-assumes": "Assumed: {pulls} pulls, spread of single pulls {scatter:.2g} %{guessed}.",
    "able-guessed": " (not given; say tool.expected_scatter)",
    "change-arm": "arm to ±1 mm",
    "change-droop": "droop to ±0.5°",
    "change-drop": "suspension point to ±2 mm",
    "change-own-weight": "own weight to ±1 %",
    "change-pivot": "pivot of the head to ±5 mm",
    "change-load": "load to ±0.05 %",
    "change-gravity": "latitude and height of the place",
    "change-scale-gravity": "check of the scale on site",
    "change-paper": "paper for the transducer with U 0.3 %",
    "change-drift": "drift to ±0.1 %",
    "change-resolution": "transducer with a tenth of the step",
    "change-own-state": "zero before the tool goes on",
    "change-pulls": "10 pulls",
    "change-setting": "setting read to a fifth of a graduation",
}
