"""Sentences of `steelyard simulate`."""

SIMULATING: dict[str, str] = {
    "simulate-coverage": "does the ± of a point hold the truth, and does a tool on its limit slip through?",
    "option-cases": "cases of the whole population, at 5 pulls (default {default})",
    "option-cells-cases": "cases in each cell of kit, dominant part and number of pulls; 0 leaves the cells out "
    "(default {default})",
    "option-draws": "Monte Carlo draws for each case (default {default})",
    "option-rig": "cells of this kind of rig only: known-masses, bucket, steps, paper, stated or beam",
    "option-pulls": "cells of this number of pulls only, 2 to 10",
    "option-seed": "of the random numbers (default {default})",
    "coverage-population": "Made-up tools on made-up kits: {lowest:.0f} to {highest:.0f} N·m, arms of {shortest:.0f} to {longest:.0f} mm, "
    "all errors drawn from the distributions stated for them; limit ±{limit} % (ISO deviation).",
    "coverage-whole-widths": "Whole population: every width from a third of the usual one to three times it; true "
    "deviations anywhere within ±{reach} %.",
    "coverage-cell-widths": "Cells: one part of the ± wide, all others a fifth of the usual; the true deviation on "
    "the limit.",
    "coverage-kinds-head": "Kinds of rig, and what may make most of their ±:",
    "coverage-kind": "  {kind}: {parts}",
    "coverage-seed": "Seed {seed}, {draws} draws for each case.",
    "coverage-overall": "{mark} Over all {cases} cases at {pulls} pulls the interval holds the truth in {held:.2f} % "
    "(standard error {error:.2f} %; wanted {low:.0f} to {high:.0f} %).",
    "coverage-by-kind": "     {kind}: {held:.2f} % of {cases}",
    "coverage-cells": "{mark} Cells: {count} with {cases} cases each; {violations} outside the bounds: truth held in "
    "{low:.0f} to {high:.0f} %, on the limit and called in in at most {most_in:.1f} %, each with {errors} standard "
    "errors of the cell's count allowed for chance.",
    "coverage-table-head": "Truth held, lowest to highest over {fewest} to {most} pulls; called in at most:",
    "coverage-row": "  {kind:<42} {part:<26} {low:5.1f} to {high:5.1f} %   {called_in:4.1f} %",
    "coverage-worst-low": "Cells that hold the truth least often:",
    "coverage-worst-high": "Cells that hold it most often:",
    "coverage-worst-in": "Cells that call most tools on the limit in:",
    "coverage-violations": "Cells outside the bounds:",
    "coverage-cell": "  {kind}, {part}, {pulls} pulls: held {held:.1f} % (± {error:.1f} %), called in {called_in:.1f} %",
    "rig-known-masses": "dial wrench under hung known masses",
    "rig-bucket": "poured bucket, force-type scale",
    "rig-steps": "hung load added in steps",
    "rig-paper": "transducer with a paper",
    "rig-stated": "transducer with a stated accuracy",
    "rig-beam": "beam wrench read under known weights",
    "part-arm": "length of the arm",
    "part-load": "load",
    "part-own": "own weight",
    "part-pivot": "pivot",
    "part-droop": "droop",
    "part-spread": "spread of the pulls",
    "part-setting": "setting, made once",
    "part-setting-each": "setting, made each time",
    "part-display": "last digit of a display",
    "part-step": "step of the load",
    "part-paper": "paper",
    "part-stated": "stated accuracy",
}
