"""Guidance at the adjuster as plain content of JSON types, units in the key names."""

from dataclasses import asdict
from typing import Any

from steelyard.desk.guide import Guide

OUTLOOK = ("mending", "probability", "best_ratio", "best_low_ratio", "best_high_ratio", "best_percent")
ENDS = ("low_newton_metre", "high_newton_metre")


def guide_content(found: Guide) -> dict[str, Any]:
    """Everything a guide says; keys stay once they are published."""
    seen = found.outlook
    stretch = None if seen.stretch is None else {name: getattr(seen.stretch, name) for name in ENDS}
    return {
        "points": [asdict(point) for point in found.points],
        "readings": found.readings,
        "unread": list(found.unread),
        "advice": None if found.advice is None else {**asdict(found.advice), "sort": found.advice.sort.value},
        "way": found.way,
        "outlook": {
            **{name: getattr(seen, name) for name in OUTLOOK},
            "both_percent": found.both_percent,
            "lacking": list(found.lacking),
            "stretch": stretch,
        },
        "moved_percent": [list(row) for row in found.moved_percent],
        "moved_within_percent": [list(row) for row in found.moved_within_percent],
        "shift_percent": list(found.shift_percent),
        "shift_within_percent": list(found.shift_within_percent),
        "gain_newton_metre": list(found.gain_newton_metre) if found.gain_newton_metre else None,
        "learned_from": found.learned_from,
        "is_locked": found.is_locked,
        "question": asdict(found.question) if found.question is not None else None,
        "doubts": [
            {"code": doubt.code, "severity": doubt.severity.value, "facts": dict(doubt.facts)}
            for doubt in found.doubts
        ],
    }
