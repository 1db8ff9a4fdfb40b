"""Every path that the page for developers names exists."""

import re
import sys

from metadata import ROOT

PAGE = "DEVELOPERS.md"
ENDINGS = (".rs", ".py", ".toml", ".proto", ".md", ".json", ".yaml")


def named(text):
    """Paths in code marks and in links. Code that only looks like one holds other signs."""
    marked = re.findall(r"`([^`\n]+)`", text)
    linked = re.findall(r"\]\(([^)#\s]+)[^)]*\)", text)
    for path in marked + linked:
        plain = re.fullmatch(r"[\w./-]+", path) and not path.startswith("/")
        if plain and "//" not in path and ("/" in path or path.endswith(ENDINGS)):
            yield path


def self_test():
    text = "`engine/x.rs`, [a](tests/y.md), `cargo test`, `a::b`, `https://x/y`, `Cargo.toml`"
    assert list(named(text)) == ["engine/x.rs", "Cargo.toml", "tests/y.md"]


def main():
    self_test()
    found = sorted(set(named((ROOT / PAGE).read_text())))
    missing = [path for path in found if not (ROOT / path).exists()]
    for path in missing:
        print(f"{PAGE} names {path}, which is not there", file=sys.stderr)
    if missing or not found:
        sys.exit(1)
    print(f"{PAGE}: {len(found)} paths, all there")


if __name__ == "__main__":
    main()
