"""What the program says about itself."""

PROGRAM: dict[str, str] = {
    "program-purpose": "What torque a hand torque tool really delivers, how sure that is, and whether it is good "
    "enough.",
    "program-check": "judge one check from a file: verdict, ± and what makes it, all doubts",
    "program-adjust": "guide an adjuster from a file: next turn, how sure, whether it can be mended",
    "program-able": "before any work: can this kit decide this tool?",
    "program-next": "yes/no trials of a check from a file: what to hang or set next, or that it is enough",
    "program-reckon": "units, adapters, hung weights, gravity, weighing, water, settings of checked tools",
    "program-simulate": "draw made-up tools and see whether the ± holds",
    "program-exit": "Exit: 0 in or done, 2 bad command, 3 input refused, 4 not found, 5 trouble with the ledger, "
    "10 out, 11 can't tell, 70 our fault.",
    "program-fault": "Our fault, not yours: {kind}. Please keep the file and report it. ({detail})",
    "program-stopped": "Stopped.",
    "program-progress": "{part} of {whole} …",
    "option-file": "check form, see docs/reference/file-form.md",
    "option-json": "the same as JSON, complete and stable",
    "option-version": "print the version and end",
}
