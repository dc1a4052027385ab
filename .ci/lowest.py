"""The lowest versions that pyproject.toml names, as pins for pip: one line for each direct dependency."""

import re
import tomllib
from pathlib import Path

project = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["project"]
for words in project["dependencies"]:
    name, lowest = re.fullmatch(r"([A-Za-z0-9_-]+)>=([0-9.]+)", words).groups()
    print(f"{name}=={lowest}")
