"""The one step of the build that pyproject.toml cannot say: the documents go into the package as its help.

`docs` and `examples` lie beside `src`, where a reader of the repository looks for them; a wheel carries their
pages and pictures in `steelyard/web`. An editable install needs no copy: web/manual.py finds the folders.
"""

import shutil
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py

ROOT = Path(__file__).parent
CARRIED = {"docs": ("*.md", "*.png"), "examples": ("*.toml",)}


class BuildWithHelp(build_py):
    """Build the package, then put a copy of the documents into it."""

    def run(self) -> None:
        super().run()
        if not self.editable_mode:
            for folder in CARRIED:  # what an earlier build left there may be gone from the documents
                shutil.rmtree(Path(self.build_lib) / "steelyard" / "web" / folder, ignore_errors=True)
            for source, target in self.help_files():
                target.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, target)

    def help_files(self) -> list[tuple[Path, Path]]:
        """Each file that is carried, and where its copy goes; FileNotFoundError where a folder is missing."""
        web = Path(self.build_lib) / "steelyard" / "web"
        found = []
        for folder, patterns in CARRIED.items():
            if not (ROOT / folder).is_dir():
                raise FileNotFoundError(f"{ROOT / folder}: the documents belong into the package")
            for pattern in patterns:
                found += [(f, web / f.relative_to(ROOT)) for f in sorted((ROOT / folder).rglob(pattern))]
        return found

    def get_outputs(self, include_bytecode: bool = True) -> list[str]:
        copies = [] if self.editable_mode else [str(target) for _, target in self.help_files()]
        return [*super().get_outputs(include_bytecode), *copies]


setup(cmdclass={"build_py": BuildWithHelp})
