"""Licence, source and bans of every crate in the lock file, as `deny.toml` allows them."""

import re
import sys
import tomllib

from metadata import ROOT, metadata


def allowed(expression, allow):
    """Whether an SPDX expression can be met with these licences: `or` needs one, `and` all."""
    # Older manifests write a slash for `or`.
    text = expression.replace("/", " OR ")
    words = re.findall(r"\(|\)|[^\s()]+", text)
    place = 0

    def term():
        nonlocal place
        if words[place] == "(":
            place += 1
            value = either()
            place += 1
            return value
        name = words[place]
        place += 1
        if place < len(words) and words[place].upper() == "WITH":
            name = f"{name} WITH {words[place + 1]}"
            place += 2
        return name in allow

    def both():
        nonlocal place
        value = term()
        while place < len(words) and words[place].upper() == "AND":
            place += 1
            value = term() and value
        return value

    def either():
        nonlocal place
        value = both()
        while place < len(words) and words[place].upper() == "OR":
            place += 1
            value = both() or value
        return value

    value = either()
    if place != len(words):
        raise ValueError(f"cannot read the licence `{expression}`")
    return value


def faults(packages, rules):
    """What of the packages is not allowed, in words."""
    allow = set(rules["licenses"]["allow"])
    banned = {entry["crate"]: entry["reason"] for entry in rules["bans"]["deny"]}
    registries = {f"registry+{address}" for address in rules["sources"]["allow-registry"]}
    for package in packages:
        name = f"{package['name']} {package['version']}"
        if not package["license"]:
            yield f"{name} states no licence"
        elif not allowed(package["license"], allow):
            yield f"{name}: `{package['license']}` is not allowed"
        if package["name"] in banned:
            yield f"{name} is banned: {banned[package['name']]}"
        if package["source"] is not None and package["source"] not in registries:
            yield f"{name} comes from {package['source']}"


def self_test():
    """What has to be refused is refused."""
    allow = {"MIT", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "Unicode-3.0"}
    for good in ["MIT", "GPL-3.0 OR MIT", "MIT/GPL-3.0", "(MIT OR X) AND Unicode-3.0",
                 "Apache-2.0 WITH LLVM-exception OR X"]:
        assert allowed(good, allow), good
    for bad in ["GPL-3.0", "MIT AND GPL-3.0", "(MIT OR X) AND GPL-3.0", "MIT WITH X"]:
        assert not allowed(bad, allow), bad
    rules = {
        "licenses": {"allow": ["MIT"]},
        "bans": {"deny": [{"crate": "x", "reason": "because"}]},
        "sources": {"allow-registry": ["https://good"]},
    }
    bad = {"name": "x", "version": "1", "license": "GPL-3.0", "source": "git+https://bad"}
    assert len(list(faults([bad], rules))) == 3


def main():
    self_test()
    rules = tomllib.loads((ROOT / "deny.toml").read_text())
    packages = metadata()["packages"]
    told = list(faults(packages, rules))
    for fault in told:
        print(fault, file=sys.stderr)
    if told:
        sys.exit(1)
    print(f"licences: {len(packages)} crates, all allowed")


if __name__ == "__main__":
    main()
