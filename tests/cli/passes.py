"""Passes: every figure against listing all draws the plain way, for a list of few
tiles; the player's own pass, the Charleston and the courtesy exchange against
the answers that they are made of; any number of threads writes the same."""
import collections
import fractions
import itertools
import json
import math
import pathlib
import random
import re
import tempfile

import answers
import screens

ALL = "2024"  # passes at most
NONE = math.inf
SMALL = {"format": 1, "title": "Few tiles", "hand": 5,
         "tiles": {"suits": ["bam"], "winds": False, "dragons": False, "flowers": 3},
         "charleston": {"tiles": 2, "keep": "9B", "courtesy": 3},
         "patterns": [{"name": "Same", "groups": [{"pung": "any"}, {"pair": "any"}]},
                      {"name": "Row", "groups": [{"chow": "any"}, {"pair": "flower"}]},
                      {"name": "Run", "groups": [{"run": "any", "length": 5}]}]}
RANKS = [f"{rank}B" for rank in range(1, 10)]


# ------------------------------------------------------------- the plain way

def bag(*tiles):
    return collections.Counter(tiles)


def targets():
    """Those of SMALL, by pattern."""
    same = [bag(*[a] * 3, *[b] * 2) for a in RANKS for b in RANKS]
    row = [bag(*RANKS[i:i + 3], "F", "F") for i in range(7)]
    return {"Same": same, "Row": row, "Run": [bag(*RANKS[i:i + 5]) for i in range(5)]}


def wall():
    return collections.Counter({**{kind: 4 for kind in RANKS}, "F": 3})


def away(hand, gone, aims):
    """The distance of each pattern aimed at."""
    left = wall() - gone
    return {name: min((sum((target - hand).values()) for target in targets_of
                       if target <= left), default=NONE)
            for name, targets_of in aims.items()}


def draws(unseen, count):
    """All sets of draws with the ways in which they come."""
    for kinds in itertools.combinations_with_replacement(sorted(unseen), count):
        drawn = bag(*kinds)
        ways = math.prod(math.comb(unseen[kind], number) for kind, number in drawn.items())
        if ways > 0:
            yield drawn, ways


def plain_choice(hand, gone, passed, aims):
    rest, after = hand - passed, gone + passed
    unseen = wall() - hand - gone
    whole = math.comb(sum(unseen.values()), sum(passed.values()))
    live = {name: [target for target in targets_of if target <= wall() - after]
            for name, targets_of in aims.items()}
    was = min(away(hand, gone, aims).values())
    now = away(rest, after, aims)
    expected = nearer = 0
    lacks = [target - rest for targets_of in live.values() for target in targets_of]
    for drawn, ways in draws(unseen, sum(passed.values())):
        reached = min((sum((lack - drawn).values()) for lack in lacks), default=NONE)
        expected += ways * reached
        nearer += ways * (reached < was)
    nearest = min(now.values())
    return {"expected": None if nearest == NONE else fractions.Fraction(expected, whole),
            "nearer": fractions.Fraction(nearer, whole),
            "away": None if nearest == NONE else nearest,
            "keeps": [name for name, number in now.items() if number == nearest != NONE]}


def plain_passes(hand, count):
    may = list((hand - bag(*["9B"] * 4)).elements())
    return {tuple(sorted(kinds)) for kinds in itertools.combinations(may, count)}


# --------------------------------------------------------------- comparing

def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def exact(choice, key):
    text = choice[f"{key}_exact"]
    if text is None:
        return None
    part, _, whole = text.partition("/")
    value = fractions.Fraction(text)
    if (int(part), int(whole or 1)) != (value.numerator, value.denominator):
        raise ValueError(f"{text} is not in lowest terms")
    if float(value) != choice[key]:
        raise ValueError(f"{choice[key]} is not {text}")
    return value


def key_of(choice):
    return tuple(sorted(answers.tiles(choice["pass"]).elements()))


def figures(choice):
    return {"expected": exact(choice, "expected"), "nearer": exact(choice, "nearer"),
            "away": choice["away"], "keeps": choice["keeps"]}


def ask(program, *words):
    done = program.run("pass", "--json", "--any-size", *words)
    if done.returncode != 0:
        raise ValueError(done.stderr.decode())
    answer, = program.objects(done.stdout)
    return answer


def order_key(choice):
    expected = exact(choice, "expected")
    return (NONE if expected is None else expected, -exact(choice, "nearer"))


def small_checks(program, path):
    tiles = list(wall().elements())
    for trial in range(12):
        random.shuffle(tiles)
        size, count = random.choice([3, 4, 5, 5]), random.choice([0, 1, 1, 2, 2, 3])
        hand, gone = bag(*tiles[:size]), bag(*tiles[size:size + random.choice([0, 4, 24])])
        if len(list((hand - bag(*["9B"] * 4)).elements())) < count:
            continue
        names = random.choice([["Same", "Row", "Run"], ["Row"], ["Same", "Run"]])
        aims = {name: found for name, found in targets().items() if name in names}
        words = ["--list", str(path), "--top", ALL, "--count", str(count),
                 "--seen", " ".join(gone.elements()), " ".join(hand.elements())]
        if len(names) < 3:
            words[:0] = [word for name in names for word in ("--aim", name.upper())]
        answer = ask(program, *words)
        given = {key_of(choice): figures(choice) for choice in answer["choices"]}
        wanted = {passed: plain_choice(hand, gone, bag(*passed), aims)
                  for passed in plain_passes(hand, count)}
        yield f"few tiles, {words}", (
            compare(given, wanted)
            or compare(answer["choices"], sorted(answer["choices"], key=order_key))
            or compare(answer["passes"], len(wanted)))


def rests(exposed):
    """What is left of the targets with a pung or a chow on the table."""
    first, *others = exposed.elements()
    pung = others == [first] * 2
    return {"Same": [bag(*[kind] * 2) for kind in RANKS] if pung else [],
            "Row": [] if pung else [bag("F", "F")], "Run": []}


def exposed_checks(program, path):
    for trial in range(6):
        start = random.randrange(7)
        exposed = bag(*[RANKS[start]] * 3) if trial % 2 else bag(*RANKS[start:start + 3])
        tiles = list((wall() - exposed).elements())
        random.shuffle(tiles)
        hand, gone = bag(*tiles[:2]), bag(*tiles[2:2 + random.choice([0, 4, 20])])
        count = random.randrange(1 + min(2, sum((hand - bag(*["9B"] * 4)).values())))
        text = "".join(kind[0] for kind in sorted(exposed.elements())) + "B"
        words = ["--list", str(path), "--top", ALL, "--count", str(count), "--exposed", text,
                 "--seen", " ".join(gone.elements()), " ".join(hand.elements())]
        answer = ask(program, *words)
        given = {key_of(choice): figures(choice) for choice in answer["choices"]}
        wanted = {passed: plain_choice(hand, gone + exposed, bag(*passed), rests(exposed))
                  for passed in plain_passes(hand, count)}
        yield f"sets on the table, {words}", (
            compare(given, wanted) or compare(answer["exposed"], [text]))
    plain = ask(program, "--list", str(path), "1123B")
    yield "without sets nothing is said of them", compare("exposed" in plain, False)
    done = program.run("pass", "--list", str(path), "--exposed", "999B", "1234B")
    yield "tiles of sets are no tiles of the hand", (
        compare(done.returncode, 1)
        or ("" if b"a hand has at most 2 beside the sets" in done.stderr else done.stderr.decode()))


# -------------------------------------------------------- the player's own

def mine_checks(program, hand, name):
    words = ["--list", name, "--count", "3"]
    choices = ask(program, *words, "--top", ALL, hand)["choices"]
    for choice in random.sample(choices, 3):
        mine = ask(program, *words, "--mine", choice["pass"], hand)["mine"]
        own = exact(choice, "expected")
        place = 1 + sum(exact(other, "expected") < own for other in choices)
        yield f"{name}, {hand}: {choice['pass']} is the row of all passes", compare(
            {key: mine[key] for key in choice}, choice)
        yield f"{name}, {hand}: {choice['pass']} has its place and cost", compare(
            (mine["place"], exact(mine, "cost")), (place, own - exact(choices[0], "expected")))


def text_checks(program, hand, name):
    words = ["--list", name, hand]
    choices = ask(program, *words)["choices"]
    lines = program.run("pass", *words).stdout.decode().splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("Place"))
    rows = [(line[7:18].strip(), line[25:35].strip()) for line in lines[start + 1:start + 6]]
    yield f"{name}, {hand}: the text says what the JSON says", compare(
        rows, [(choice["pass"], f"{choice['expected']:.3f}") for choice in choices])


def more_checks(program, hand, name):
    """The rows of the table, the player's own among them, and the passes that are left out
    are all passes."""
    for words in ([], ["--courtesy"]):
        words = ["--list", name, *words]
        choices = ask(program, *words, "--top", ALL, hand)["choices"]
        for mine in random.sample(choices, 2):
            for top in ("0", "1", "3"):
                text = program.run("pass", *words, "--top", top, "--mine", mine["pass"],
                                   hand).stdout.decode()
                table = text[text.index("Place  Pass"):text.index(" more pass")]
                rows = re.findall(r"^ +\d+  .*", table, re.M)
                more = re.search(r"^(\d+) more pass(?:es)?; --top (\d+) shows all\.$", text, re.M)
                yield f"{' '.join(words)} --mine {mine['pass']} --top {top} {hand}", compare(
                    (len(rows) + int(more.group(1)), int(more.group(2))),
                    (len(choices), len(choices)))


def ahead_checks(program, path):
    """Estimates are marked by their standard errors, until each mark has come up."""
    tiles, marks, seen = list(wall().elements()), {"", "; closest", "; perhaps as close"}, set()
    for trial in range(60):
        if trial >= 6 and seen >= marks:
            break
        random.shuffle(tiles)
        words = ["--list", str(path), "--top", ALL, "--ahead", "200", " ".join(tiles[:5])]
        ahead = [choice["ahead"] for choice in ask(program, *words)["choices"] if "ahead" in choice]
        least = min(ahead, key=lambda row: row["estimate"], default=None)
        wanted = ["; closest" if row is least and len(ahead) > 1 else "; perhaps as close"
                  if row["estimate"] - least["estimate"] <= 2 * math.hypot(row["error"],
                                                                           least["error"])
                  else "" for row in ahead]
        text = program.run("pass", *words).stdout.decode()
        yield f"marks of estimates, {words}", compare(
            re.findall(r", standard error [0-9.]+(.*)$", text, re.M), wanted)
        seen.update(wanted)
    yield "marks of estimates, all of them", compare(seen, marks)


# ----------------------------------------------------------- the Charleston

def courtesy_checks(program, hand, name):
    words = ["--list", name, hand]
    answer = ask(program, "--courtesy", "--top", "30", *words)
    best = [ask(program, "--count", str(count), "--top", "30", *words) for count in range(4)]
    yield f"{name}, {hand}: the best of each number", compare(
        [(row["count"], row["pass"], row["expected_exact"]) for row in answer["courtesy"]],
        [(row["count"], row["pass"], row["expected_exact"]) for row in best])
    merged = sorted((choice for row in best for choice in row["choices"]), key=order_key)[:30]
    yield f"{name}, {hand}: all numbers in one order", compare(
        [order_key(choice) for choice in answer["choices"]], [order_key(row) for row in merged])


def stopping(program, name, gone, hand):
    """What stopping leaves: of the best passes of up to so many tiles the best one, the
    smallest of those alike."""
    found = []
    for theirs in range(4):
        row = ask(program, "--list", name, "--seen", gone, "--count", str(theirs), "--top", "1", hand)
        now = {key: row[key] for key in ("pass", "expected", "expected_exact")}
        best = found[-1] if found and exact(found[-1], "expected") <= exact(now, "expected") else now
        found.append({**best, "theirs": theirs})
    return found


def size_checks(program):
    """Before play a hand has 13 tiles, or 14 with the dealer."""
    tiles = random.sample([f"{rank}{suit}" for rank in range(1, 10) for suit in "BCD"], 18)
    for size in (1, 12, 13, 14, 15):
        hand = " ".join(tiles[:size])
        plain, told = (program.run("pass", "--json", "--count", "1", *words, hand)
                       for words in ([], ["--any-size"]))
        yield f"a hand of {size} tiles", (
            "" if plain.returncode == (size not in (13, 14))
            and (b"--any-size" in plain.stdout) == (size not in (13, 14))
            and program.objects(told.stdout)[0]["tiles"] == size else f"{plain} {told}")


def walk_checks(program, name):
    path = program.root / f"patterns/{name}.json"
    rounds = json.loads(path.read_text())["charleston"]["rounds"]
    steps = [(r, s) for r in range(len(rounds)) for s in range(len(rounds[r]))]
    hand = "5B 6C E F"
    others = answers.tile_set(path) - answers.tiles(hand) - bag(*["J"] * 8)
    given = random.sample(list(others.elements()), 3 * len(steps))
    for number, (r, s) in enumerate(steps):
        gone = " ".join(given[:3 * number])
        words = ["--list", name, "--count", "1"]
        words += ["--given", gone, hand]
        told = ask(program, "--round", str(r + 1), "--step", str(s + 1), *words)
        found = ask(program, *words)
        later = steps[number + 1:]
        yield f"{name}: pass {number + 1} follows", compare(found, told)
        yield f"{name}: pass {number + 1}", compare(
            [found[key] for key in ("round", "step", "direction", "optional", "remaining",
                                    "remaining_optional")],
            [r + 1, s + 1, rounds[r][s], r > 0, len(later), sum(other > 0 for other, _ in later)])
        agree = {"expected": found["expected"], "expected_exact": found["expected_exact"],
                 "stop": found["away"], "stopping": stopping(program, name, gone, hand)}
        yield f"{name}: whether to agree before pass {number + 1}", compare(
            found.get("agree"), agree if r > 0 and s == 0 else None)
    over = ask(program, "--list", name, "--given", " ".join(given), hand)
    yield f"{name}: the courtesy exchange comes last", compare(
        (over["round"], len(over["courtesy"])), (None, 4))


# ----------------------------------------------------------------- the rest

def jobs_checks(program):
    hands = program.run("deal", "--seed", str(random.randrange(10**9)), "--hands", "70").stdout
    hands += b"1X\n"
    for words in (["--json", "--top", "2"], ["--top", "1"]):
        alone, many = (program.run("pass", "--jobs", jobs, *words, stdin=hands) for jobs in "15")
        yield f"threads write the same, {words}", compare(
            (many.returncode, many.stdout, many.stderr), (1, alone.stdout, alone.stderr))


def width_checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "odd.json"
        path.write_text(screens.with_random_names(program.root / "patterns/jokers.json"))
        for hand in list(answers.random_hands(path, 4)):
            done = program.run("pass", "--any-size", "--list", str(path), "--courtesy", "--mine",
                               "", hand)
            wide = screens.widest(done.stdout.decode())
            yield f"odd names, {hand}", "" if wide <= 80 else f"{wide} columns"


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "few.json"
        path.write_text(json.dumps(SMALL))
        yield from small_checks(program, path)
        yield from exposed_checks(program, path)
        yield from ahead_checks(program, path)
    for name in ("club", "jokers"):
        dealt = program.objects(program.run("deal", "--list", name, "--json", "--seed",
                                            str(random.randrange(10**9)), "--hands", "2").stdout)
        for answer in dealt:
            yield from mine_checks(program, answer["hand"], name)
            yield from text_checks(program, answer["hand"], name)
            yield from more_checks(program, answer["hand"], name)
            yield from courtesy_checks(program, answer["hand"], name)
        yield from walk_checks(program, name)
    yield from size_checks(program)
    yield from jobs_checks(program)
    yield from width_checks(program)
