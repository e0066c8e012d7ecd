"""Records of another workshop and readings of checks in hand that come in from a table."""

READINGS_IN: dict[str, str] = {
    # what is wanted
    "want-file-once": "a file that was not taken in before; its readings stand in the check in hand of {tool}",
    "want-tried-again": "a file tried again: pulls were read meanwhile, and its readings would go to other points than shown",
    "want-check-in-hand": "a tool with a check in hand; begin one at the bench first",
    "want-one-check-in-hand": "a tool with one check in hand; it has {count}, so close those that are not meant",
    "want-steps-before-pull": "a check that is ready for a pull; at the bench “{step}” comes first",
    "want-trial-at-bench": "nothing here; yes/no answers are typed at the bench",
    "want-target-of-plan": "a point of the plan: {names}",
    "want-target-beyond-plan": "a point with fewer pulls than planned, or target and direction where more were read",
    "want-record-number": "the number of the record, as the other workshop has it",
    "want-not-below-zero": "a number that is not below zero",
    "want-digest-of-record": "the digest of a record: digits and letters a to f, at most 64",
    # what a table holds
    "in-what-records": "Records of another workshop: days and verdicts without readings",
    "in-what-records-hint": "As its table of records says them. They stand on the tool's page as history.",
    "in-what-pulls": "Pulls: readings for checks in hand",
    "in-what-pulls-hint": "One row for each reading. Each tool needs one check in hand, ready for a pull.",
    "in-go-bench": "To the checks in hand",
    # to which point a reading goes
    "pulls-in-as-found": "{name}, as found, point {point}",
    "pulls-in-as-left": "{name}, as left, point {point}",
    # what is kept of a record
    "record-in-untitled": "record {record}",
    "record-in-titled": "record {record} ({title})",
    "record-in-as-found": "as found",
    "record-in-as-left": "as left",
    "record-in-cant-tell": "can't tell",
    "record-in-no-limit": "no limit",
    "record-in-stopped": "stopped",
    "record-in-worst": "worst {off} % ± {expanded} % at {target}",
    "record-in-worst-somewhere": "worst {off} % ± {expanded} %",
    "record-in-digest": "digest {digest}",
}
