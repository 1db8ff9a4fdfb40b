"""Which crate may need which: the arrows of the design, held against what cargo resolves."""

import sys

from metadata import metadata, reachable, thin_client

ENGINE = ["fishplate-quantity", "fishplate-solver", "fishplate-strength", "fishplate-mounts"]
OUTSIDE = ["fishplate-proto", "fishplate-service", "tokio", "tonic", "serde", "tracing-subscriber"]
CLIENTS = ["fishplate-cli", "fishplate-report", "fishplate-tests"]


def faults(reach, thin):
    """Every arrow that points the wrong way, in words."""
    told = []

    def never(crate, others, why):
        if crate not in reach:
            told.append(f"{crate} is not in the workspace; the rules of this check are out of date")
            return
        for other in others:
            if other in reach[crate]:
                told.append(f"{crate} reaches {other}: {why}")

    ours = sorted(reach)
    never("fishplate-quantity", ours, "it is below everything and knows no other crate of ours")
    never("fishplate-solver", ["fishplate-strength"], "mechanics and standards never meet")
    never("fishplate-strength", ["fishplate-solver"], "mechanics and standards never meet")
    for crate in ENGINE:
        never(crate, OUTSIDE + CLIENTS, "the engine knows no wire, no threads of others, no client")
    for crate in ENGINE[:3]:
        never(crate, ["fishplate-mounts"], "only the job uses the wings, never the other way")
    above = [crate for crate in ENGINE if crate != "fishplate-quantity"]
    never("fishplate-proto", above + CLIENTS, "the contract stands on nothing")
    never("fishplate-service", CLIENTS, "a server knows no client")
    never("fishplate-report", above + ["fishplate-service"], "a report is drawn from answers alone")
    for crate in above + ["fishplate-service"]:
        if crate in thin:
            told.append(f"fishplate-cli without `embedded` reaches {crate}: it asks over the wire")
    return told


def self_test(reach, thin):
    """A check that cannot fail checks nothing: every planted arrow has to be told."""
    planted = [
        ("fishplate-solver", "fishplate-strength"),
        ("fishplate-strength", "fishplate-solver"),
        ("fishplate-quantity", "fishplate-proto"),
        ("fishplate-mounts", "tokio"),
        ("fishplate-report", "fishplate-mounts"),
    ]
    for crate, other in planted:
        wrong = {name: set(found) for name, found in reach.items()}
        wrong[crate].add(other)
        assert any(crate in told and other in told for told in faults(wrong, thin)), (crate, other)
    assert faults(reach, thin | {"fishplate-solver"}), "an engine crate in the thin client"


def main():
    reach, thin = reachable(metadata()), thin_client()
    self_test(reach, thin)
    told = faults(reach, thin)
    for fault in told:
        print(fault, file=sys.stderr)
    if told:
        sys.exit(1)
    print(f"crate graph: {len(reach)} crates of ours, every arrow points down")


if __name__ == "__main__":
    main()
