"""That the shipped lists are in balance by what wins. tests/lists/wins/NAME.json is what a
survey of many games counted; points must follow the wins.

    wins.py [--again | --update] PROGRAM ROOT

--again plays the surveys again, which takes minutes: the same bytes must come. --update
writes down what they find.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import checking

GAMES = 20_000
MOST_SHARE = 0.1  # of the wins, for any one pattern
LEAST_RANK_CORRELATION = 0.9
LEAST_WON = {"club": 45, "jokers": 40}


def survey(program, root, name, *words):
    return subprocess.run([program, "survey", "--list", f"patterns/{name}.json", "--games",
                           str(GAMES), "--json", *words], cwd=root, capture_output=True,
                          check=False)


def resumed(program, root, name, record):
    """What the program prints that goes on from a record, which leaves no game to play."""
    with tempfile.TemporaryDirectory() as folder:
        part = pathlib.Path(folder) / "part.json"
        part.write_bytes(record)
        return survey(program, root, name, "--out", part, "--resume")


# ------------------------------------------------------------------ figures

def places(values):
    """Their places in ascending order; equal ones share the middle of theirs."""
    return [sum(other < value for other in values) + (values.count(value) + 1) / 2
            for value in values]


def correlation(left, right):
    """Pearson's."""
    middles = sum(left) / len(left), sum(right) / len(right)
    left, right = ([value - middle for value in values]
                   for values, middle in zip((left, right), middles))
    both = sum(one * other for one, other in zip(left, right))
    return both / (sum(one * one for one in left) * sum(one * one for one in right)) ** 0.5


def figures(points, wins):
    """The largest share of the wins and whose it is; how many patterns were won; Spearman's
    rank correlation of points and fair points; how many points are within a third of these.
    Fair points are as `nearhand survey` prints them: for each pattern that was won, what makes
    all of them bring the same, and together what they brought."""
    won = [name for name in wins if wins[name] > 0]
    top = max(won, key=lambda name: wins[name])
    each = sum(points[name] * wins[name] for name in won) / len(won)
    fair = [each / wins[name] for name in won]
    paid = [points[name] for name in won]
    near = sum(3 / 4 <= pay / due <= 4 / 3 for pay, due in zip(paid, fair))
    return wins[top] / sum(wins.values()), top, len(won), correlation(places(paid),
                                                                      places(fair)), near


# ------------------------------------------------------------------- checks

def list_checks(root, name, record):
    patterns = json.loads((root / f"patterns/{name}.json").read_bytes())["patterns"]
    points = {pattern["name"]: pattern["points"] for pattern in patterns}
    wins = {row["pattern"]: row["won"] for row in record["patterns"]}
    far = [row["pattern"] for row in record["patterns"] if row["far_off"]]
    share, top, won, follow, near = figures(points, wins)
    print(f"{name}: {top} is won most, in {share:.1%} of {sum(wins.values())} wins; {won} of "
          f"{len(wins)} patterns are won; points follow fair points with a rank correlation of "
          f"{follow:.2f}, {near} of them within a third")
    yield f"{name}: games", "" if record["games"] == GAMES else f"{record['games']}"
    yield f"{name}: no pattern wins too often", "" if share <= MOST_SHARE else f"{top}: {share}"
    yield f"{name}: many patterns win", "" if won >= LEAST_WON[name] else f"{won}"
    yield f"{name}: points follow wins", "" if follow >= LEAST_RANK_CORRELATION else f"{follow}"
    yield f"{name}: within a third, as far as chance explains", f"{far}" if far else ""


def checks(mode, program, root):
    for name in LEAST_WON:
        path = root / f"tests/lists/wins/{name}.json"
        if mode:
            played = survey(program, root, name)
            if mode == "--update":
                path.write_bytes(played.stdout)
            same = played.stdout == path.read_bytes()
            yield f"{name}: played again", "" if same else played.stderr.decode() or "other bytes"
        record = path.read_bytes()
        told = resumed(program, root, name, record)
        yield f"{name}: the record is of this list", (
            "" if told.stdout == record else told.stderr.decode() or "other bytes")
        yield from list_checks(root, name, json.loads(record))


def figure_checks():
    """Figures that are known: wins of 1, 2 and 3 paid by their fair points, and turned round."""
    wins = {"one": 1, "two": 2, "three": 3, "none": 0}
    found = figures({"one": 60, "two": 30, "three": 20, "none": 5}, wins)
    yield "fair points", "" if found[1:3] == ("three", 3) and found[4] == 3 else f"{found}"
    yield "shares", "" if found[0] == 0.5 and abs(found[3] - 1) < 1e-9 else f"{found}"
    found = figures({"one": 20, "two": 30, "three": 60, "none": 5}, wins)
    yield "points against wins", "" if abs(found[3] + 1) < 1e-9 and found[4] == 0 else f"{found}"
    found = figures({"one": 30, "two": 30, "three": 20, "none": 5}, wins)
    yield "equal points", "" if abs(found[3] - 0.75 ** 0.5) < 1e-9 else f"{found}"


def main():
    words = sys.argv[1:]
    mode = words.pop(0) if words[:1] in (["--again"], ["--update"]) else ""
    if len(words) != 2:
        sys.exit(__doc__)
    program, root = (pathlib.Path(word).resolve() for word in words)
    sys.exit(checking.run(figure_checks(), checks(mode, program, root)))


if __name__ == "__main__":
    main()
