"""The schema of pattern lists agrees with the lists: it accepts the shipped and
the good ones, and of the bad ones it refuses those whose mistake shows in the
shape of the text. The others are for the library, and so must pass here.

usage: schema_lists.py ROOT, the top folder of the project"""

import json
import pathlib
import sys

from jsonschema import Draft202012Validator
from jsonschema.exceptions import SchemaError, best_match


class Tally:
    def __init__(self):
        self.passed = 0
        self.failed = 0

    def check(self, good, what):
        if good:
            self.passed += 1
        else:
            self.failed += 1
            print(f"FAILED: {what}")


def objection(validator, path):
    """Why the list at `path` is refused, or None."""
    try:
        value = json.loads(path.read_bytes())
    except (json.JSONDecodeError, UnicodeDecodeError) as error:
        return f"not JSON: {error}"
    error = best_match(validator.iter_errors(value))
    return None if error is None else f"{error.json_path}: {error.message}"


def check_sound_lists(tally, validator, paths, where, least):
    tally.check(len(paths) >= least, f"{where}: {len(paths)} lists, at least {least} expected")
    for path in paths:
        why = objection(validator, path)
        tally.check(why is None, f"{where}/{path.name} is refused: {why}")


def read_index(path):
    rows = [line.split("\t") for line in path.read_text(encoding="utf-8").splitlines()]
    return {row[0]: row[1:] for row in rows}, rows


def check_bad_lists(tally, validator, folder):
    index, rows = read_index(folder / "index.tsv")
    tally.check(all(len(row) == 3 and row[1] in ("schema", "meaning") and row[2] for row in rows),
                "bad/index.tsv: a line is not file, \"schema\" or \"meaning\", words of the message")
    tally.check(len(index) == len(rows), "bad/index.tsv names a file twice")
    files = {path.name for path in folder.glob("*.json")}
    tally.check(files == set(index), f"bad/index.tsv and the folder differ: {files ^ set(index)}")
    for name in sorted(files & set(index)):
        why = objection(validator, folder / name)
        if index[name][0] == "schema":
            tally.check(why is not None, f"bad/{name} is accepted")
        else:
            tally.check(why is None, f"bad/{name} is refused, though only its meaning is bad: {why}")


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    root = pathlib.Path(sys.argv[1])
    tally = Tally()
    schema = json.loads((root / "patterns" / "list.schema.json").read_bytes())
    try:
        Draft202012Validator.check_schema(schema)
        tally.check(True, "")
    except SchemaError as error:
        tally.check(False, f"the schema itself: {error.message}")
    validator = Draft202012Validator(schema)
    shipped = sorted(path for path in (root / "patterns").glob("*.json")
                     if not path.name.endswith(".schema.json"))
    lists = root / "tests" / "lists"
    check_sound_lists(tally, validator, shipped, "patterns", 3)
    check_sound_lists(tally, validator, sorted((lists / "good").glob("*.json")), "good", 12)
    check_sound_lists(tally, validator, sorted((lists / "v0.1").glob("*.json")), "v0.1", 3)
    check_bad_lists(tally, validator, lists / "bad")
    print(f"{tally.passed} passed, {tally.failed} failed")
    return 1 if tally.failed else 0


if __name__ == "__main__":
    sys.exit(main())
