"""The ledger: what it refuses and how it is looked after."""

KEEPING: dict[str, str] = {
    "record-sealed": "record {record} is sealed: it can be followed by a correction, never changed",
    "written-meanwhile": "another window or person wrote here meanwhile (entries: {count}): look at what stands now, then "
    "send yours again; what you typed is still here",
    "store-trouble": "the ledger at {place} cannot be used",
    "store-busy": "another program holds the ledger at {place}: nothing was written; try again in a moment",
    "store-served": "Steelyard is open at {address} with the ledger at {place}: nothing was written; end Steelyard first "
    "(Ctrl-C where it was started), then do this again",
    "store-full": "no room is left on the disk of {place}: nothing was written and nothing is lost; free some space, then "
    "try again",
    "store-read-only": "{place} may not be written: nothing was written; mend the permissions of the file and its folder",
    "store-damaged": "the ledger at {place} is damaged ({what}): leave the file as it is and restore the last backup beside "
    "it with steelyard restore",
    "store-too-new": "the ledger at {place} was written by a newer Steelyard: upgrade this one, or open an older backup; "
    "nothing was changed",
    "chain-gap": "entry {number} is missing; entry {found} stands in its place",
    "chain-changed": "entry {number} was changed after it was written",
    "chain-joint": "entry {number} does not follow the entry before it",
}
