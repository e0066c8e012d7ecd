"""The ledger's file: what verifying finds, and what may be wrong with a file."""

STORING: dict[str, str] = {
    "want-new-submission": "a token that was not used before for something else; nothing was written",
    "damaged-unreadable": "its content cannot be read",
    "damaged-no-ledger": "it is no ledger of this program",
    "damaged-not-whole": "some of its pages are broken",
    "damaged-chain": "its chain of entries does not hold",
    "damaged-other": "it is not the copy that was asked for",
    "want-digest": "at least the first 8 digits of the digest, as printed",
    "chain-cut": "entry {number}, as it was printed, is not in this ledger: entries were cut off or replaced after the printing",
    "entry-misfiled": "entry {number} is filed under something else than it says itself",
    "entry-unfoldable": "entry {number} cannot be read, or does not fit what came before it",
    "document-differs": "what is shown of {subject} differs from its entries: run steelyard store rebuild",
    "file-changed": "an attached file was changed after it was kept ({digest})",
    "file-missing": "an attached file is missing ({digest}, entry {number})",
}
