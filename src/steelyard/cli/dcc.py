"""`steelyard dcc FILE`: what a certificate in XML says of a transducer, as the paper of a check form."""

import argparse

from steelyard.cli.files import read_file
from steelyard.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    parser.add_argument("file", metavar="FILE", help=say("option-dcc-file"))


def answer(read: argparse.Namespace) -> int:
    """Print the table, with what it lacks as comments above it; returns 0."""
    import tomli_w

    from steelyard.paper.dcc import paper_of_dcc

    paper = paper_of_dcc(read_file(read.file), field="the file", name=read.file)
    for note in paper.notes:
        print(f"# {say(note.code, **note.facts)}")
    print(f"# {say('dcc-note-worked')}")
    print(tomli_w.dumps({"kit": {"paper": paper.table}}), end="")
    return 0
