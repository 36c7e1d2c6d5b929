"""Where a hand leans and what it is worth, worked out again from the ranking of all
patterns; and what is left of it when some patterns are chosen."""
import fractions
import json
import math
import random
import re

import answers
import screens
from deals import compare

HANDS = 12
SLOW = "broad"  # a list that takes long to load
FEW = ["beginner", "skerry", "nameless", "traditional"]
ROUNDING = fractions.Fraction(1, 2**49)  # twice what a worth may be off


def ask(program, path, hands, *words):
    stdin = "".join(f"{hand}\n" for hand in hands).encode()
    done = program.run("rank", "--list", str(path), "--json", *words, stdin=stdin)
    return [answer for answer in program.objects(done.stdout) if "error" not in answer]


def chance(row):
    return fractions.Fraction(row["chance_exact"])


def worth(row):
    return fractions.Fraction(row["points"] or 0) * chance(row)


def after(row, names):
    """What decides between rows of one worth."""
    points = -row["points"] if row["points"] is not None else math.inf
    return (-chance(row), row["away"], points, names.index(row["pattern"]))


def worth_problem(rows, names):
    for row in rows:
        given = row["worth"]
        if (given is None) != (row["points"] is None):
            return f"worth of {row['pattern']}"
        if given is not None and abs(fractions.Fraction(given) - worth(row)) > abs(
                worth(row)) * ROUNDING:
            return f"worth of {row['pattern']} is {given}"
    for a, b in zip(rows, rows[1:]):
        if worth(a) < worth(b) - abs(worth(b)) * ROUNDING:
            return f"{a['pattern']} before {b['pattern']}"
        if worth(a) == worth(b) and after(a, names) > after(b, names):
            return f"{a['pattern']} before {b['pattern']}, which is worth as much"
    return ""


def sections_of(answer, data):
    """The sections as they must be, from the ranking of all patterns."""
    found = {}
    for row in answer["targets"]:
        found.setdefault(row["section"], []).append(row)
    return [{"section": name,
             "patterns": sum(pattern.get("section") == name for pattern in data["patterns"]),
             "live": len(rows),
             "within_one": sum(row["away"] <= rows[0]["away"] + 1 for row in rows),
             "best": rows[0]} for name, rows in found.items()]


def text_rows(text):
    """Tiles away, and those within a tile of how many, of each section."""
    return [tuple(map(int, found)) for found in
            re.findall(r"^ {0,3}(\d+)  .*?  +(\d+) of (\d+)  ", text, re.M)]


def order_checks(program, path, hands, order):
    data = json.loads(path.read_text())
    names = [pattern["name"] for pattern in data["patterns"]]
    words = ["--order", order]
    whole = ask(program, path, hands, *words)
    by_section = ask(program, path, hands, *words, "--by", "section")
    yield f"{path.stem}, {order}: as many answers", compare(len(by_section), len(whole))
    stdin = "".join(f"{answer['hand']}\n" for answer in whole).encode()
    command = ["rank", "--list", str(path), *words, "--by", "section"]
    texts = program.run(*command, "--top", "99", stdin=stdin).stdout.decode().split("\n\n")
    table = program.run(*command, "--format", "tsv", stdin=stdin).stdout.decode().splitlines()
    given = [line.split("\t") for line in table[1:]]
    head = table[0].split("\t")
    for answer, sections, text in zip(whole, by_section, texts):
        wanted = sections_of(answer, data)
        label = f"{path.stem}, {order}: {answer['hand']}"
        if order == "worth":
            yield f"{label} by worth", worth_problem(answer["targets"], names)
        yield f"{label} by section", compare(sections["sections"], wanted)
        yield f"{label} says the same of the whole", compare(
            {**sections, "sections": 0}, {**{key: value for key, value in answer.items()
                                             if key != "targets"}, "sections": 0})
        yield f"{label} in text", compare(text_rows(text), [
            (each["best"]["away"], each["within_one"], each["patterns"]) for each in wanted])
        yield f"{label}, width", "" if screens.widest(text) <= 80 else text
    columns = [head.index(name) for name in ("patterns", "live", "within_one", "away")]
    yield f"{path.stem}, {order}: as a table", compare(
        [[row[column] for column in columns] for row in given],
        [[str(each[name]) for name in ("patterns", "live", "within_one")]
         + [str(each["best"]["away"])] for answer in whole for each in sections_of(answer, data)])
    yield f"{path.stem}, {order}: columns", compare({len(row) for row in given}, {len(head)})


def choice_checks(program, path, hands):
    """--points-from, --aim and --section leave the other patterns out."""
    data = json.loads(path.read_text())["patterns"]
    points = sorted({pattern["points"] for pattern in data if "points" in pattern})
    sections = sorted({pattern["section"] for pattern in data if "section" in pattern})
    name = random.choice(data)["name"]
    cases = [(["--aim", name], lambda row: row["pattern"] == name)]
    if points:
        least = max(1, math.ceil(random.choice(points)))
        if least <= points[-1]:
            cases.append((["--points-from", str(least)],
                          lambda row: row["points"] is not None and row["points"] >= least))
    if sections:
        section = random.choice(sections)
        cases.append((["--section", section], lambda row: row["section"] == section))
    whole = ask(program, path, hands)
    for words, fits in cases:
        given = ask(program, path, hands, *words)
        yield f"{path.stem}: rank {' '.join(words)}", compare(
            [answer["targets"] for answer in given],
            [[row for row in answer["targets"] if fits(row)] for answer in whole])


def checks(program):
    for path in program.all_lists():
        if path.stem not in FEW:
            continue
        hands = list(answers.random_hands(path, HANDS))
        for order in ("away", "chance", "worth"):
            yield from order_checks(program, path, hands, order)
        yield from choice_checks(program, path, hands)
