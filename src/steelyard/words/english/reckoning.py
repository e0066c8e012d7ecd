"""Sentences of the quick answers of `steelyard reckon`."""

RECKONING: dict[str, str] = {
    "reckon-same": "{given} = {same}",
    "reckon-ratio": "1 {one} is {there}; 1 {other} is {back}.",
    "reckon-set": "Set the tool to {result}; the bolt then gets {given}.",
    "reckon-gets": "The bolt gets {result} when the tool is set to {given}.",
    "reckon-adapter-lever": "With the adapter the lever is {after} instead of {before}. Pull at the grip "
    "mark.",
    "reckon-adapter-square": "At a right angle the adapter changes nothing. Pull at the grip mark.",
    "reckon-insert-lever": "With this insert the lever is {after} instead of {before}. Pull at the grip "
    "mark.",
    "reckon-caution-in-range": "The setting must lie in the range in which the tool was found good.",
    "reckon-hung-torque": "{torque} at the drive.",
    "reckon-hung-mass": "Hang {mass} in all, hook and rope included; that gives {torque}.",
    "reckon-hung-own": "Of the torque, {own} comes from the tool's own weight ({percent} %).",
    "reckon-hung-level": "Reckoned with the arm level and gravity {gravity} m/s².",
    "reckon-hung-droop": "Reckoned with the arm {droop} below level and gravity {gravity} m/s².",
    "reckon-air-taken-off": "The lift of the air is taken off (0.015 %).",
    "reckon-air-left-out": "The lift of the air is left out (0.015 %).",
    "reckon-own-left-out": "This leaves out the tool's own weight, usually 2 to 9 % of the torque.",
    "reckon-no-within": "No ± was given, so none is worked out.",
    "reckon-within": "The ± holds in 95 of 100 cases and comes from {counted}.",
    "reckon-within-but": "The ± holds in 95 of 100 cases and comes from {counted}; taken as exact: {exact}.",
    "reckon-caution-feet": "Keep feet and hands clear of what hangs, and never stand under it.",
    "reckon-caution-floor": "Let it hang a few centimetres above the floor or a crate: a tool that clicks "
    "jumps.",
    "reckon-caution-hook": "Use a hook that cannot slip off, with a second strap, and lower the load gently.",
    "reckon-caution-heavy": "That is more than {most_kilogram} kg: take a longer arm, a hoist or a "
    "transducer.",
    "reckon-gravity": "Gravity there is {gravity}.",
    "reckon-gravity-standard": "That is {percent} % from standard gravity, {standard} m/s²; torque from "
    "hung weights changes by as much.",
    "reckon-gravity-within": "The ± holds in 95 of 100 cases; hills and rock nearby are in it.",
    "reckon-mass": "The load is {mass}.",
    "reckon-mass-within": "The ± holds in 95 of 100 cases and is {percent} % of the load; both weighings "
    "count.",
    "reckon-scale-elsewhere": "A scale that was adjusted elsewhere may be off by some tenths of a per "
    "cent more; check it with water.",
    "reckon-water": "A scale that is right shows {mass}, the vessel taken off.",
    "reckon-water-not-gauged": "The volume has no ±, so it counts as not gauged: ± 1 %.",
    "reckon-water-right": "The water does not show the scale wrong: it is {percent} off, no more than the ±.",
    "reckon-water-high": "The scale shows {percent} too much: divide what it shows by {divisor}.",
    "reckon-water-low": "The scale shows {percent} too little: divide what it shows by {divisor}.",
}
