"""What the bench refuses, and doubts that show while pulls are read."""

BENCHING: dict[str, str] = {
    "want-damage-note": "a few words on what is damaged",
    "want-fitting-rig": "a rig that fits this kind of tool",
    "want-same-kit": "the kit the pulls were read with; strike them out first, or open a new check",
    "want-cautions-read": "a tick that the cautions were read and the kit stands ready",
    "want-strike-reason": "why the pull does not count",
    "want-set-up": "a kit that is set up; go back to that step",
    "want-planned-point": "a point of the plan",
    "want-adjusted-first": "a turn of the adjuster first; before that, pulls are as found",
    "want-no-more-found": "pulls as left; the adjuster was turned, so nothing can be found as it was any more",
    "want-known-pull": "a pull of this check",
    "want-one-way-of-load": "the load in one way: the weighed bucket, or the loads before and at the click",
    "want-all-pulls": "all planned pulls, or a tick that the missing ones are left out on purpose",
    "want-pull-since-turn": "a pull read since the adjuster was last turned; this one is of how the tool stood before",
    "turned-since": "the adjuster was turned again",
    "want-found-first": "the verdict as found first; what a turn changes can never be found again",
    "want-turns": "how far it was turned, such as 1/4",
    "want-later-day": "a day after the check, {day}",
    "want-left-verdict": "a verdict on the pulls as left; the adjuster was turned",
    "want-found-verdict": "a verdict on the pulls as found",
    "want-fewer-photographs": "at most {most} photographs in one check",
    "followed-through": "{point}: pull {pull} ({typed}) stands above the others. Did the hand stop at the click? A peak "
    "reading also catches what follows it.",
    "far-from-target": "{point}: pull {pull} ({typed}) is far from the target. Is it set right, and read right?",
    "exercise-skipped": "Pulls before the first reading: {done}. Usual at the maximum: {usual}.",
    "paused-long": "More than an hour has passed: a few pulls at the maximum first are usual.",
}
