"""The guide as pages for a browser, for those who have the program and no project: ``write_guide(root, target)``."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from markdown_it import MarkdownIt  # comes with rich

PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{title}</title>
<style>
body {{ font: 1rem/1.55 system-ui, sans-serif; max-width: 52rem; margin: 2rem auto; padding: 0 1rem; color: #1f1d1a;
       background: #fbf9f4 }}
pre, code {{ font: .875rem/1.4 ui-monospace, monospace; background: #f3f0e8 }}
pre {{ padding: .7rem; overflow-x: auto }}
table {{ border-collapse: collapse; display: block; overflow-x: auto }}
td, th {{ border: 1px solid #cfc8b8; padding: .25rem .5rem; text-align: left; vertical-align: top }}
img {{ max-width: 100% }}
a {{ color: #00598f }}
@media (prefers-color-scheme: dark) {{
  body {{ color: #efeae0; background: #22211e }} pre, code {{ background: #191816 }} a {{ color: #6fbfef }}
  img {{ background: #fff }} }}
</style></head><body>{back}
{body}
</body></html>
"""
BACK = '<p><a href="index.html">The guide for the bench</a></p>'
FOLDERS = ("pictures", "figures")
LEFT_OUT = ("CONTRIBUTING.md",)


def write_guide(root: Path, target: Path) -> None:
    """Write every page of ``root``/docs and its pictures to the folder ``target``; it begins with ``index.html``."""
    target.mkdir(parents=True, exist_ok=True)
    text_of = MarkdownIt("commonmark", {"html": False}).enable("table")
    for page in sorted((root / "docs").glob("*.md")):
        if page.name in LEFT_OUT:
            continue
        first = page.name == "README.md"
        text = page.read_text("utf-8")
        title = re.search(r"^# (.+)$", text, re.MULTILINE)
        body = re.sub(r'<a href="([^"]+)">(.*?)</a>', _linked, text_of.render(text), flags=re.DOTALL)
        whole = PAGE.format(title=title[1] if title else "Flankwise", back="" if first else BACK, body=body)
        (target / ("index.html" if first else f"{page.stem}.html")).write_text(whole, "utf-8")
    for name in FOLDERS:
        shutil.copytree(root / "docs" / name, target / name, ignore=shutil.ignore_patterns("*.py", "__pycache__"))


def _linked(match: re.Match[str]) -> str:
    """A link between pages of the project; its words alone where it leads to one that does not come along."""
    address, mark, part = match[1].partition("#")
    if address == "README.md":
        address = "index.html"
    elif address.endswith(".md") and "/" not in address:
        address = address.removesuffix(".md") + ".html"
    elif "://" not in address and not address.startswith(("../sample_images/", *(f"{name}/" for name in FOLDERS))):
        return match[2] if address else match[0]
    return f'<a href="{address}{mark}{part}">{match[2]}</a>'
