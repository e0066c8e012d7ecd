"""Files of other people that browser and paper need: check them against their lock, or renew them.

    python tools/vendor.py            check; needs no network; exit 1 with one line per doubt
    python tools/vendor.py --update   fetch what vendor.json names with `npm pack`, copy single files and each
                                      licence, write the vendor.lock of each folder

There is no build step: a file is taken as published, or not at all.
"""

import argparse
import base64
import hashlib
import json
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
PACKAGE = HERE.parent / "src" / "steelyard"
LOCK = "vendor.lock"
Lock = dict[str, dict[str, Any]]  # file name: what is known of it


@dataclass(frozen=True)
class Parcel:
    """One published package of which we take a few files."""

    name: str
    npm: str
    version: str
    licence: str
    folder: str  # in our package, where its files lie
    files: dict[str, str]  # our name: its name in the package
    licence_in_package: str = "LICEN"  # how the name of its licence text begins there

    @property
    def licence_file(self) -> str:
        """Under which name its licence text lies beside its files."""
        return f"{self.name}.LICENSE.txt"


def wanted() -> list[Parcel]:
    """What vendor.json asks for."""
    asked = json.loads((HERE / "vendor.json").read_text("utf-8"))
    return [Parcel(name=name, **facts) for name, facts in asked.items()]


def by_folder() -> dict[str, list[Parcel]]:
    """Folder in our package: the parcels whose files lie there."""
    parcels = wanted()
    return {
        folder: [p for p in parcels if p.folder == folder] for folder in {p.folder: None for p in parcels}
    }


def read_lock(folder: Path) -> Lock:
    """The lock of a folder; empty when there is none."""
    path = folder / LOCK
    return dict(json.loads(path.read_text("utf-8"))) if path.exists() else {}


def sha256(content: bytes) -> str:
    """Hexadecimal digest."""
    return hashlib.sha256(content).hexdigest()


def doubts(folder: Path, parcels: list[Parcel]) -> Iterator[str]:
    """All that speaks against the files in `folder`; nothing yielded means they are what the lock says."""
    lock = read_lock(folder)
    present = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()} - {LOCK}
    yield from (f"{name}: stands in the lock, is not in the folder" for name in sorted(lock.keys() - present))
    yield from (f"{name}: is in the folder, not in the lock" for name in sorted(present - lock.keys()))
    for name in sorted(present & lock.keys()):
        if sha256((folder / name).read_bytes()) != lock[name]["sha256"]:
            yield f"{name}: is not the file that was locked"
    for parcel in parcels:
        for name in [*parcel.files, parcel.licence_file]:
            if lock.get(name, {}).get("version") != parcel.version:
                yield f"{name}: is not of {parcel.npm} {parcel.version}, which vendor.json asks for"


def fetch(parcel: Parcel, into: Path) -> tuple[Path, str]:
    """The published archive, fetched into a folder, and its integrity (algorithm and digest)."""
    command = ["npm", "pack", f"{parcel.npm}@{parcel.version}", "--json", "--ignore-scripts"]
    answer = json.loads(
        subprocess.run(
            [*command, "--pack-destination", str(into)], check=True, stdout=subprocess.PIPE, text=True
        ).stdout
    )
    told = next(iter(answer.values() if isinstance(answer, dict) else answer))
    archive = into / told["filename"]
    integrity = "sha512-" + base64.b64encode(hashlib.sha512(archive.read_bytes()).digest()).decode("ascii")
    if integrity != told["integrity"]:
        raise SystemExit(f"{parcel.npm} {parcel.version}: the archive is not the one that was published")
    return archive, integrity


def contents(parcel: Parcel, archive: Path) -> dict[str, bytes]:
    """Our name: content, of the wanted files and the licence."""
    with tarfile.open(archive) as tar:
        places = {ours: f"package/{theirs}" for ours, theirs in parcel.files.items()}
        beginning = f"package/{parcel.licence_in_package}".upper()
        places[parcel.licence_file] = next(n for n in tar.getnames() if n.upper().startswith(beginning))
        found: dict[str, bytes] = {}
        for ours, theirs in places.items():
            stream = tar.extractfile(theirs)
            if stream is None:
                raise SystemExit(f"{parcel.npm} {parcel.version}: {theirs} is not a file")
            found[ours] = stream.read()
    return found


def update(folder: Path, parcels: list[Parcel]) -> None:
    """Renew the files of `parcels` in `folder` and its lock.

    Raises SystemExit when a locked version has other bytes now: what is published never changes.
    """
    before, after = read_lock(folder), {}
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        for parcel in parcels:
            archive, integrity = fetch(parcel, Path(scratch))
            for name, content in contents(parcel, archive).items():
                known = before.get(name, {})
                if known.get("version") == parcel.version and known["integrity"] != integrity:
                    raise SystemExit(f"{parcel.npm} {parcel.version}: not the archive that was locked")
                (folder / name).write_bytes(content)
                after[name] = {
                    "package": parcel.npm,
                    "version": parcel.version,
                    "licence": parcel.licence,
                    "licence_file": parcel.licence_file,
                    "bytes": len(content),
                    "sha256": sha256(content),
                    "integrity": integrity,
                }
    for name in before.keys() - after.keys():
        (folder / name).unlink(missing_ok=True)
    text = json.dumps(after, indent=1, sort_keys=True, ensure_ascii=False)
    (folder / LOCK).write_text(text + "\n", "utf-8", newline="\n")


def run() -> int:
    """Check, after renewing where asked; 1 when a doubt is left."""
    reader = argparse.ArgumentParser(description="Check or renew the files of other people.")
    reader.add_argument("--update", action="store_true", help="fetch them again with npm and write the lock")
    reader.add_argument("--package", type=Path, default=PACKAGE, help="another place of our package")
    asked = reader.parse_args()
    found, count = [], 0
    for name, parcels in by_folder().items():
        folder = asked.package / name
        if asked.update:
            update(folder, parcels)
        found += doubts(folder, parcels)
        count += len(read_lock(folder))
    for doubt in found:
        print(doubt)
    if not found:
        print(f"{count} files are what their lock says")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(run())
