"""What each class looks like on white paper; `charts.css` says the same for screens, light and dark.

The values stand in the picture as presentation attributes, which a style sheet overrides, so that a picture
without one (in a document) is complete too.
"""

INK, PAPER, QUIET, LINE = "#111", "#fff", "#555", "#888"
IN, OUT, DOUBT, ACCENT = "#0a5c36", "#a3150f", "#7a4b00", "#0b4f8a"

PALETTE: dict[str, dict[str, str]] = {
    "ch-chart": {},
    "ch-strip": {},
    "ch-mark": {},
    "ch-text": {"fill": INK, "font-size": "14"},
    "ch-quiet": {"fill": QUIET, "font-size": "14"},
    "ch-strong": {"fill": INK, "font-size": "14", "font-weight": "700"},
    "ch-measure": {"fill": ACCENT, "font-size": "14", "font-weight": "600"},
    "ch-axis": {"fill": "none", "stroke": LINE, "stroke-width": "1"},
    "ch-grid": {"fill": "none", "stroke": LINE, "stroke-width": "1", "stroke-opacity": "0.35"},
    "ch-band": {"fill": IN, "fill-opacity": "0.1"},
    "ch-edge": {"fill": "none", "stroke": INK, "stroke-width": "1.5"},
    "ch-hatch": {"fill": "none", "stroke": QUIET, "stroke-width": "1"},
    "ch-reach": {"fill": ACCENT, "fill-opacity": "0.16", "stroke": ACCENT, "stroke-width": "0.75"},
    "ch-curve": {"fill": "none", "stroke": ACCENT, "stroke-width": "2", "stroke-linejoin": "round"},
    "ch-bar": {"fill": ACCENT},
    "ch-rail": {"fill": "none", "stroke": LINE, "stroke-width": "1"},
    "ch-target": {"fill": "none", "stroke": INK, "stroke-width": "1.5", "stroke-dasharray": "7 4"},
    "ch-wait": {"fill": LINE},
    "ch-in": {"color": IN},
    "ch-out": {"color": OUT},
    "ch-doubt": {"color": DOUBT},
    "ch-none": {"color": QUIET},
    "ch-plain": {"color": INK},
    "ch-accent": {"color": ACCENT},
    "ch-open": {"fill": PAPER, "stroke": "currentColor", "stroke-width": "2"},
    "ch-full": {"fill": "currentColor", "stroke": "currentColor", "stroke-width": "1"},
    "ch-sign": {
        "fill": "none",
        "stroke": "currentColor",
        "stroke-width": "2",
        "stroke-linecap": "round",
        "stroke-linejoin": "round",
    },
    "ch-sign-on": {
        "fill": "none",
        "stroke": PAPER,
        "stroke-width": "2",
        "stroke-linecap": "round",
        "stroke-linejoin": "round",
    },
    "ch-cross": {"fill": "none", "stroke": "currentColor", "stroke-width": "3.5", "stroke-linecap": "round"},
    "ch-halo": {"fill": "none", "stroke": PAPER, "stroke-width": "6", "stroke-linecap": "round"},
    "ch-ring": {"fill": "none", "stroke": INK, "stroke-width": "2"},
    "ch-body": {"fill": PAPER, "stroke": INK, "stroke-width": "2", "stroke-linejoin": "round"},
    "ch-detail": {"fill": "none", "stroke": INK, "stroke-width": "1.25", "stroke-linecap": "round"},
    "ch-dark": {"fill": INK},
    "ch-ghost": {"fill": "none", "stroke": QUIET, "stroke-width": "1.25", "stroke-dasharray": "4 3"},
    "ch-centre": {"fill": "none", "stroke": QUIET, "stroke-width": "1", "stroke-dasharray": "12 3 2 3"},
    "ch-lead": {"fill": "none", "stroke": QUIET, "stroke-width": "1"},
    "ch-dimension": {"fill": "none", "stroke": ACCENT, "stroke-width": "1.5"},
    "ch-arrow": {"fill": ACCENT},
}
"""Class → presentation attributes. No text is smaller than 14 units."""
