"""Random hands on every list: the answers hold together, the text says what the
JSON says, and no line is wider than 80 columns."""
import collections
import fractions
import json
import math
import random
import re

import screens

KINDS = ([f"{rank}{suit}" for suit in "BCD" for rank in range(1, 10)]
         + ["E", "S", "W", "N", "R", "G", "Wh", "F", "J"])
SUITS = {"bam": "B", "crak": "C", "dot": "D"}
ROWS = 10  # of text


def tiles(text):
    """A multiset of kinds from the notation that answers are written in."""
    count = collections.Counter()
    for word in text.split():
        if word[-1] in "BCD":
            count.update(rank + word[-1] for rank in word[:-1])
        elif word.startswith("Wh"):
            count.update({"Wh": word.count("Wh"), "J": word.count("J")})
        else:
            count.update(word)
    return count


def tile_set(path):
    """The set of a list, by what its file says."""
    said = json.loads(path.read_text()).get("tiles", {})
    suits = {SUITS[suit] for suit in said.get("suits", SUITS)}
    count = collections.Counter({kind: 4 for kind in KINDS if kind[-1] in suits})
    if said.get("winds", True):
        count.update({kind: 4 for kind in "ESWN"})
    if said.get("dragons", True):
        count.update({kind: 4 for kind in ("R", "G", "Wh")})
    count.update({"F": said.get("flowers", 0), "J": said.get("jokers", 0)})
    return count


def random_hands(path, count):
    """Dealt hands, and some that are mostly of a few kinds: those come near."""
    size = json.loads(path.read_text()).get("hand", 14)
    wall = list(tile_set(path).elements())
    kinds = sorted(set(wall))
    for _ in range(count):
        chosen = random.sample(kinds, random.choice([6, 8, len(kinds)]))
        few = [tile for tile in wall if tile in chosen]
        number = min(random.choice([size, size, size - 1, 1]), len(few))
        yield " ".join(random.sample(few, number))


def row_problem(hand, row, ranking):
    keep, need = tiles(row["keep"]), tiles(row["need"])
    spare, joked, target = tiles(row["spare"]), tiles(row["joked"]), tiles(row["target"])
    if keep + spare != hand:
        return "keep and spare are not the hand"
    if sum(joked.values()) != keep["J"] or target["J"]:
        return "jokers are not where they stand"
    natural = collections.Counter(keep)
    del natural["J"]
    if natural + joked + need != target:
        return "keep, joked and need are not the target"
    if sum(need.values()) != row["away"]:
        return "need is not as many tiles as are away"
    part, whole = map(int, row["chance_exact"].split("/"))
    if whole != math.comb(ranking["unseen"], min(ranking["draws"], ranking["unseen"])):
        return "the draws are not all sets of draws"
    exact = fractions.Fraction(part, whole)
    if abs(fractions.Fraction(row["chance"]) - exact) > exact / 2**50:
        return "chance is not the fraction"
    if row["away"] == 0 and exact != 1:
        return "a complete hand is not certain"
    return ""


def order_problem(rows, names):
    def key(row):
        points = -row["points"] if row["points"] is not None else math.inf
        return (row["away"], -fractions.Fraction(row["chance_exact"]), points,
                names.index(row["pattern"]))
    return "" if rows == sorted(rows, key=key) else "the rows are not in order"


def answer_problem(answer, names, wall):
    hand = tiles(answer["hand"])
    rows = answer["targets"]
    if answer["tiles"] != sum(hand.values()):
        return "tiles is not the number of tiles"
    if answer["unseen"] != sum(wall.values()) - answer["tiles"]:
        return "unseen is not the rest of the set"
    if sorted([row["pattern"] for row in rows] + answer["dead"]) != sorted(names):
        return "the patterns are not those of the list"
    nearest = min((row["away"] for row in rows), default=None)
    if answer["nearest"] != nearest:
        return "nearest is not the nearest"
    if answer["within_one"] != sum(row["away"] <= nearest + 1 for row in rows):
        return "within_one is not their number"
    problems = [order_problem(rows, names)] + [row_problem(hand, row, answer) for row in rows]
    return next(filter(None, problems), "")


# ----------------------------------------------------- the text and the JSON

MARKS = {"(": "need", "<": "joked", ")": "keep", ">": "keep"}


def marked(text):
    """The tiles of a line of text by role, from its marks."""
    role, found = "keep", {"keep": [], "need": [], "joked": []}
    for word in text.split():
        suit = word[-1] if word[-1] in "BCD" else ""
        for part in re.findall(r"[()<>]|Wh|[1-9ESWNRGF]", word):
            if part in MARKS:
                role = MARKS[part]
            else:
                found[role].append(part + suit)
    return {role: collections.Counter(kinds) for role, kinds in found.items()}


def shown_rows(text):
    """Tiles away, and the tiles below, of each row of an answer in text."""
    rows = []
    for line in text.splitlines():
        head = re.match(r" {0,3}(\d+)  \S", line)
        if head:
            rows.append([int(head.group(1)), ""])
        elif line.startswith("        ") and rows:
            rows[-1][1] += line[8:] + "  "
    return rows


def text_problem(text, answer):
    rows = shown_rows(text)
    if len(rows) != min(ROWS, len(answer["targets"])):
        return f"{len(rows)} rows"
    for (away, below), row in zip(rows, answer["targets"]):
        target, _, spare = re.split(r"  if ", below)[0].partition("don't need ")
        roles = marked(target)
        natural = tiles(row["keep"])
        del natural["J"]
        if away != row["away"] or roles["need"] != tiles(row["need"]):
            return f"need of {row['pattern']}"
        if roles["joked"] != tiles(row["joked"]) or roles["keep"] != natural:
            return f"keep of {row['pattern']}"
        if tiles(spare) != tiles(row["spare"]):
            return f"spare of {row['pattern']}"
    return f"{screens.widest(text)} columns" if screens.widest(text) > 80 else ""


def near_hands(answers):
    """Hands that lack up to three tiles of a target out of the answers."""
    for answer in answers:
        if not answer["targets"]:
            continue
        row = random.choice(answer["targets"])
        target = list(tiles(row["target"]).elements())
        random.shuffle(target)
        yield " ".join(target[random.randrange(4):])


def list_checks(program, path, hands):
    words = ["--list", str(path)]
    names = [pattern["name"] for pattern in json.loads(path.read_text())["patterns"]]
    wall = tile_set(path)
    stdin = "".join(f"{hand}\n" for hand in hands).encode()
    answers = program.objects(program.run(*words, "--json", stdin=stdin).stdout)
    texts = program.run(*words, "--top", str(ROWS), stdin=stdin).stdout.decode().split("\n\n")
    answered = [answer for answer in answers if "error" not in answer]
    if len(answers) != len(hands) or len(texts) != len(answered) or not answered:
        yield f"{path.stem}: answers", f"{len(hands)} hands, {len(answers)}, {len(texts)}"
        return
    for answer, text in zip(answered, texts):
        yield f"{path.stem}: {answer['hand']}", (answer_problem(answer, names, wall)
                                                 or text_problem(text, answer))


def checks(program):
    for path in program.all_lists():
        hands = list(random_hands(path, 20))
        yield from list_checks(program, path, hands)
        stdin = "".join(f"{hand}\n" for hand in hands).encode()
        done = program.run("--list", str(path), "--json", stdin=stdin)
        yield from list_checks(program, path, list(near_hands(program.objects(done.stdout))))
