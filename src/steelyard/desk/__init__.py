"""One function per thing a person does: judge a check, ask what a kit can decide, reckon.

In: what the doors took from a person (bytes of a form, texts). Out: values with findings; no sentences.
Refuses: what the rooms below refuse. Does no I/O.
"""

from steelyard.desk.able import AbleKit, AblePoint, ask_kit
from steelyard.desk.check import JudgedCheck, JudgedPoint, judge_check, judge_form
from steelyard.desk.content import check_content

__all__ = [
    "AbleKit",
    "AblePoint",
    "JudgedCheck",
    "JudgedPoint",
    "ask_kit",
    "check_content",
    "judge_check",
    "judge_form",
]
