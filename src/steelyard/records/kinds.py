"""The kinds of entry, and of what they are about."""

from enum import StrEnum


class Subject(StrEnum):
    """What an entry is about; a subject is written `tool:3f9a1c20`."""

    WORKSHOP = "workshop"
    TOOL = "tool"
    RIG = "rig"
    CHECK = "check"

    def named(self, name: str) -> str:
        """The subject of this sort with a name."""
        return f"{self.value}:{name}"


THE_WORKSHOP = Subject.WORKSHOP.named("this")


class Kind(StrEnum):
    """What happened."""

    WORKSHOP_SET = "workshop-set"
    PERSON_ADDED = "person-added"
    PERSON_FORGOTTEN = "person-forgotten"
    TOOL_ADDED = "tool-added"
    TOOL_CHANGED = "tool-changed"
    TOOL_EVENT = "tool-event"
    TOOL_RETIRED = "tool-retired"
    TOOL_RETURNED = "tool-returned"
    TOOL_CHECKED = "tool-checked"
    PIVOT_FOUND = "pivot-found"
    QUARANTINED = "quarantined"
    RELEASED = "released"
    RIG_ADDED = "rig-added"
    RIG_CHANGED = "rig-changed"
    RIG_SOLD = "rig-sold"
    WEIGHED = "weighed"
    CHECK_OPENED = "check-opened"
    LOOKED_OVER = "looked-over"
    KIT_CHOSEN = "kit-chosen"
    RIG_SET_UP = "rig-set-up"
    EXERCISED = "exercised"
    PULL_READ = "pull-read"
    TRIAL_ANSWERED = "trial-answered"
    ESTIMATE_GIVEN = "estimate-given"
    PULL_STRUCK_OUT = "pull-struck-out"
    PULL_TAKEN_BACK = "pull-taken-back"
    VERDICT_ASKED = "verdict-asked"
    ADJUSTER_TURNED = "adjuster-turned"
    TURN_CORRECTED = "turn-corrected"
    ADJUSTER_LOCKED = "adjuster-locked"
    ADJUSTING_WAIVED = "adjusting-waived"
    ATTACHMENT_KEPT = "attachment-kept"
    CHECK_CLOSED = "check-closed"
    CORRECTED = "corrected"
    RECORD_NUMBERED = "record-numbered"
    HISTORY_KEPT = "history-kept"
    SIGNED = "signed"
    KEY_MADE = "key-made"
    KEY_ACCEPTED = "key-accepted"
    KEY_DROPPED = "key-dropped"


def subject_sort(subject: str) -> Subject:
    """What sort of thing a subject is."""
    return Subject(subject.partition(":")[0])


def subject_name(subject: str) -> str:
    """The name in a subject."""
    return subject.partition(":")[2]
