"""Adapters against published worked examples. Values as printed, with their source."""

import math

import pytest

from printed import agrees
from steelyard.tools import setting_with_adapter, torque_with_adapter

# document, wanted at the bolt, tool length, adapter (− folded back), to set as printed or exact.
# Lengths in the document's own unit: only their ratio counts.
PUBLISHED = (
    ("TM 1-1500-204-23-9, fig. 8-16, lbf·in and in", 300, 10, 4, "214"),
    ("TM 1-1500-204-23-9, shortened, lbf·in and in", 135, 10, -1.5, "158.82"),
    ("PA-28-161 manual, 2-90, lbf·ft and ft", 30, 1, 0.25, "24"),
    (
        "NAVEDTRA 14315, fig. 3-45, lbf·in and in; figure not visible, worked out exactly",
        100,
        12,
        6,
        "66.666667",
    ),
)
# The example of TM 1-1500-204-23-9 (300, 10, 4) at other angles: worked out exactly from the lever law.
AT_ANGLE = {
    0: "214.285714",
    30: "222.814718",
    45: "233.855637",
    60: "250.000000",
    90: "300.000000",
    120: "375.000000",
    180: "500.000000",
}


@pytest.mark.parametrize(("document", "wanted", "length", "adapter", "printed"), PUBLISHED)
def test_published_examples(
    document: str, wanted: float, length: float, adapter: float, printed: str
) -> None:
    way = math.copysign(1, adapter)
    to_set = setting_with_adapter(wanted, tool_length_metre=length, adapter_metre=abs(adapter), cosine=way)
    agrees(to_set, printed)


@pytest.mark.parametrize("degree", AT_ANGLE)
def test_angles_both_ways(degree: int) -> None:
    cosine = math.cos(math.radians(degree))
    to_set = setting_with_adapter(300, tool_length_metre=10, adapter_metre=4, cosine=cosine)
    agrees(to_set, AT_ANGLE[degree])
    got = torque_with_adapter(float(AT_ANGLE[degree]), tool_length_metre=10, adapter_metre=4, cosine=cosine)
    assert got == pytest.approx(300, rel=3e-9)
