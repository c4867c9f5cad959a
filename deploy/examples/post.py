#!/usr/bin/env python3
"""Writes speeds and feeds of a list of operations as lines of an NC program.

    SWARF_SERVER=http://127.0.0.1:8080 MACHINE=vmc-40 python3 post.py operations.txt part.nc

Each operation is recommended, its numbers are rounded down to whole ones as the control
takes them, and the rounded ones are estimated again. With any hold or refusal there is no
program at all; warnings stand in it as comments. A person who knows the machine reads it
before it runs: the limits of machine, tool and work holding come first.

Exit codes: 0 written, 4 refused, 5 no answer, 2 wrong usage.
"""
import json
import math
import os
import sys
import urllib.error
import urllib.parse
import urllib.request

SERVER = os.environ.get("SWARF_SERVER", "http://127.0.0.1:8080")
HEADERS = {"Accept": "application/json"}
if "SWARF_API_KEY" in os.environ:
    HEADERS["Authorization"] = "Bearer " + os.environ["SWARF_API_KEY"]


class Refused(Exception):
    """The operation must not run so."""


def ask(question, members):
    """Asks for one computation by GET and returns the answer."""
    address = f"{SERVER}/v1/{question}?{urllib.parse.urlencode(members)}"
    try:
        with urllib.request.urlopen(urllib.request.Request(address, headers=HEADERS), timeout=20) as answer:
            return json.load(answer)
    except urllib.error.HTTPError as problem:
        if problem.code == 429 or problem.code >= 500:
            raise ConnectionError(f"the server answers {problem.code}") from problem
        faults = json.load(problem)["faults"]
        raise Refused("; ".join(f"{f.get('field', '')}: {f['message']}" for f in faults)) from problem


def operations(name):
    """Reads the members of each operation."""
    with open(name, encoding="utf-8") as lines:
        for line in lines:
            if line.strip() and not line.startswith("#"):
                yield dict(pair.split("=", 1) for pair in line.split())


def settle(members):
    """Recommends, rounds down, and estimates what was rounded."""
    first = ask("recommendations", members)
    if "parameters" not in first:
        raise Refused(told(first, "refusal"))
    members = {name: value for name, value in members.items() if name not in ("cutting_speed", "feed_per_tooth", "feed_per_revolution")}
    members["spindle_speed"] = math.floor(first["parameters"]["spindle_speed"])
    members["feed_rate"] = math.floor(first["parameters"]["feed_rate"])
    rounded = ask("estimates", members)
    if first["data_revision"] != rounded["data_revision"]:
        raise Refused("the data changed between two answers; ask again")
    if first["verdict"] != "yes" or rounded["verdict"] != "yes":
        raise Refused(told(first, "refusal", "hold") or told(rounded, "refusal", "hold"))
    return members, rounded


def told(answer, *severities):
    return "; ".join(f"{f['code']}: {f['message']}" for f in answer["findings"] if f["severity"] in severities)


def comment(text):
    """A comment holds plain characters and no brackets of its own."""
    return "(" + text.replace("(", "[").replace(")", "]").encode("ascii", "replace").decode() + ")"


def main():
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    if os.path.exists(sys.argv[2]):
        os.remove(sys.argv[2])  # that of last time is not the one that was asked for
    lines, faults = [], []
    for members in operations(sys.argv[1]):
        members = {"units": "metric", "machine": os.environ.get("MACHINE", "vmc-40"), **members}
        try:
            members, answer = settle(members)
        except Refused as refusal:
            faults.append(f"{members['ref']}: {refusal}")
            continue
        except (OSError, ValueError) as lost:
            print(f"no answer: {lost}", file=sys.stderr)
            return 5
        lines.append(comment(f"{members['ref']} {members['operation']}, data revision {answer['data_revision']}"))
        lines += [comment("WARNING " + f["code"]) for f in answer["findings"] if f["severity"] == "warning"]
        lines.append(f"G94 G97 S{members['spindle_speed']} F{members['feed_rate']}")
    if faults:
        print("\n".join(faults), file=sys.stderr)
        return 4
    with open(sys.argv[2] + ".part", "w", encoding="ascii") as program:
        program.write("\n".join(lines) + "\n")
    os.replace(sys.argv[2] + ".part", sys.argv[2])
    return 0


if __name__ == "__main__":
    sys.exit(main())
