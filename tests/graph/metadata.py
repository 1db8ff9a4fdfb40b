"""What cargo knows about the workspace and everything it is built from."""

import json
import pathlib
import subprocess

ROOT = pathlib.Path(__file__).resolve().parents[2]


def metadata():
    """The metadata of the whole workspace, every feature on, exactly as locked."""
    command = ["cargo", "metadata", "--format-version", "1", "--locked", "--all-features"]
    return json.loads(subprocess.run(command, cwd=ROOT, check=True, capture_output=True).stdout)


def reachable(data):
    """For each crate of the workspace the names of all crates that its build needs.

    Dependencies of tests alone are left out: they are in no program.
    """
    name = {package["id"]: package["name"] for package in data["packages"]}
    needs = {}
    for node in data["resolve"]["nodes"]:
        kinds = lambda dep: {kind["kind"] for kind in dep["dep_kinds"]}
        needs[node["id"]] = [dep["pkg"] for dep in node["deps"] if kinds(dep) != {"dev"}]

    def all_of(start):
        seen, waiting = set(), [start]
        while waiting:
            for found in needs[waiting.pop()]:
                if found not in seen:
                    seen.add(found)
                    waiting.append(found)
        return {name[found] for found in seen}

    return {name[member]: all_of(member) for member in data["workspace_members"]}


def thin_client():
    """Names of all crates that the command line needs without the service inside it."""
    command = ["cargo", "tree", "--locked", "-p", "fishplate-cli", "--no-default-features"]
    command += ["-e", "normal,build", "--prefix", "none", "-f", "{p}"]
    text = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    return {line.split()[0] for line in text.splitlines() if line.strip()}
