"""What is wanted where an input was refused. Each completes "… : {wanted}"."""

REFUSALS: dict[str, str] = {
    "refused-given": "{field}: “{given}” cannot be used; wanted is {wanted}.",
    "refused-missing": "{field}: nothing is given; wanted is {wanted}.",
    "not-found": "{what} is not there; look at the name and the folder.",
    "want-number": "a number such as 12.5 or 12,5",
    "want-finite-number": "an ordinary number, not {word}",
    "want-clear-thousands": "a number that reads one way (type {as_decimal} or {as_thousands}, as meant)",
    "want-plain-number": "a number of at most {digits} digits, between 1e-30 and 1e30",
    "want-set-apart": "values set apart by semicolons (type {as_two} or {as_one}, as meant)",
    "want-shorter": "a text of at most {longest} characters",
    "want-fewer-values": "a row of at most {most} values",
    "want-one-half-width": "a value with no more than one ± after it, such as {example} ± 1 %",
    "want-newton-metre": "N·m if newton metres are meant (nm is the nanometre)",
    "want-unit": "a number with its unit, such as {example}",
    "want-known-unit": "a unit of {dimension}, such as {examples}",
    "want-positive": "a {what} above zero, such as {example}",
    "want-not-negative": "a {what} of zero or more, such as {example}",
    "want-between": "a number from {least} to {most} {unit}",
    "want-one-of": "one of {names}",
    "want-covered-kind": "a kind of tool that {document} covers: {names}",
    "want-load-in-class": "at most {most} kg, which is {steps} intervals, the end of class {scale_class}",
}
