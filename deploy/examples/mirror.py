#!/usr/bin/env python3
"""Keeps a copy of the catalogue for an ERP system, one CSV file per table; run it by night.

    SWARF_SERVER=http://127.0.0.1:8080 python3 mirror.py FOLDER

Tables are fetched with the tag of the copy, so that what is still good is not sent again,
and all are of one revision. Where the server keeps a history, what changed since the last
run is written to changes.csv, and only the tables that it touches are asked for. A run that
breaks off leaves the copy of last night as it was.

Exit codes: 0 the copy is up to date, 5 no answer, 2 wrong usage.
"""
import csv
import json
import os
import sys
import urllib.error
import urllib.parse
import urllib.request

SERVER = os.environ.get("SWARF_SERVER", "http://127.0.0.1:8080")
# The tables that a change of each kind touches; any other kind touches all.
TOUCHED = {
    "machine": ["machines", "ratings"],
    "source": ["sources", "hardness"],
    "material": ["materials", "designations", "conditions", "properties"],
    "tool-class": ["tools", "tool-properties"],
    "record": ["force", "starting", "life"],
    "cut": [],
}


def get(path, parameters, tag=None):
    """Reads a path. The answer is None when the copy with the tag is still good."""
    headers = {"If-None-Match": tag} if tag else {}
    if "SWARF_API_KEY" in os.environ:
        headers["Authorization"] = "Bearer " + os.environ["SWARF_API_KEY"]
    address = f"{SERVER}{path}?{urllib.parse.urlencode(parameters)}"
    try:
        with urllib.request.urlopen(urllib.request.Request(address, headers=headers), timeout=60) as answer:
            return answer.read(), answer.headers
    except urllib.error.HTTPError as problem:
        if problem.code == 304:
            return None, problem.headers
        raise


def changes_after(revision):
    """Lists what changed, and the revision that it leads to. Without a history: None."""
    found, parameters = [], {"after": revision, "limit": 500}
    while True:
        try:
            body, _ = get("/v1/changes", parameters)
        except urllib.error.HTTPError as problem:
            if json.load(problem).get("code") == "storage-not-configured":
                return None, None
            raise
        page = json.loads(body)
        found += page["items"]
        if page["next_cursor"] is None:
            # What came while the pages were read is for the next run.
            return [c for c in found if c["revision"] <= page["data_revision"]], page["data_revision"]
        parameters["cursor"] = page["next_cursor"]


def replace(name, content):
    """Puts a file in its place as a whole."""
    with open(name + ".part", "wb") as part:
        part.write(content)
        part.flush()
        os.fsync(part.fileno())
    os.replace(name + ".part", name)


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    folder = sys.argv[1]
    os.makedirs(folder, exist_ok=True)
    in_folder = lambda name: os.path.join(folder, name)
    state = {"revision": 0, "tags": {}}
    if os.path.exists(in_folder("state.json")):
        with open(in_folder("state.json"), encoding="utf-8") as file:
            state = json.load(file)

    tables = [s["sheet"] for s in json.loads(get("/v1/sheets", {})[0])["items"]]
    changes, revision = changes_after(state["revision"])
    pinned = {} if revision is None else {"as_of": revision}
    wanted = set(tables)
    if changes is not None and state["tags"]:
        wanted = {t for c in changes for t in TOUCHED.get(c["kind"], tables)}

    fetched = {}
    for table in tables:
        if table in wanted:
            body, headers = get("/v1/exports/" + table, {"format": "csv", "units": "metric", **pinned}, state["tags"].get(table))
            if body is not None:
                fetched[table] = body
                state["tags"][table] = headers["ETag"]
                revision = revision or int(headers["Data-Revision"])
    # Nothing is replaced before everything is here.
    for table, body in fetched.items():
        replace(in_folder(table + ".csv"), body)
    if changes:
        with open(in_folder("changes.csv"), "a", encoding="utf-8", newline="") as file:
            rows = csv.writer(file)
            rows.writerows([c["revision"], c["at"], c["kind"], c["id"], c["action"], c["who"], c.get("reason", "")] for c in changes)
    state["revision"] = revision or state["revision"]
    replace(in_folder("state.json"), json.dumps(state, indent=1, sort_keys=True).encode())
    print(f"revision {state['revision']}: {len(fetched)} of {len(tables)} tables are new, {len(changes or [])} changes")
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except (OSError, ValueError) as lost:
        print(f"no answer: {lost}", file=sys.stderr)
        sys.exit(5)
