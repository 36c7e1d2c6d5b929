"""Readings of other players: every figure against listing all hidden hands the plain way,
for a list of few tiles; the text against the JSON; players together against each alone;
hands from a file; any number of threads writes the same."""
import json
import math
import pathlib
import random
import tempfile

import answers
import passes
import screens


# ------------------------------------------------------------- the plain way

def ready_for(hidden, unseen, mine, targets):
    """Kinds that complete a hidden hand, of which a copy is left."""
    short = [target - hidden for target in targets if hidden <= target]
    return {kind for lack in short for kind in lack
            if unseen[kind] - hidden[kind] + mine[kind] > 0}


def plain_reading(mine, gone, size):
    aims = {name: [target for target in targets if sum(target.values()) == size + 1]
            for name, targets in passes.targets().items()}
    unseen = passes.wall() - mine - gone
    counts = {"hands": math.comb(sum(unseen.values()), size), "ready": 0}
    patterns, wins = {name: 0 for name in aims}, {kind: 0 for kind in passes.wall()}
    for hidden, ways in passes.draws(unseen, size):
        kinds = set()
        for name, targets in aims.items():
            ready = ready_for(hidden, unseen, mine, targets)
            patterns[name] += ways * bool(ready)
            kinds |= ready
        counts["ready"] += ways * bool(kinds)
        for kind in kinds:
            wins[kind] += ways
    return {**counts, "patterns": {name: ready for name, ready in patterns.items() if ready > 0},
            "wins": {kind: ready for kind, ready in wins.items() if ready > 0 or mine[kind] > 0}}


def figures(answer):
    return {"hands": int(answer["hands"]), "ready": int(answer["ready"]),
            "patterns": {row["pattern"]: int(row["ready"]) for row in answer["patterns"]},
            "wins": {row["tile"]: int(row["wins"]) for row in answer["tiles"]}}


def order_problem(answer):
    patterns = [-int(row["ready"]) for row in answer["patterns"]]
    tiles = [(row["mine"] == 0, -int(row["wins"])) for row in answer["tiles"]]
    shares = all(math.isclose(row["share"], int(row["ready"]) / int(answer["ready"]))
                 for row in answer["patterns"])
    dangers = all(math.isclose(row["danger"], int(row["wins"]) / max(1, int(answer["ready"])))
                  for row in answer["tiles"])
    return (passes.compare(patterns, sorted(patterns)) or passes.compare(tiles, sorted(tiles))
            or passes.compare((shares, dangers), (True, True)))


def ask(program, *words):
    done = program.run("read", "--json", *words)
    if done.returncode != 0:
        raise ValueError((done.stdout + done.stderr).decode())
    answer, = program.objects(done.stdout)
    return answer


def small_checks(program, path):
    tiles = list(passes.wall().elements())
    for trial in range(12):
        random.shuffle(tiles)
        mine, gone = passes.bag(*tiles[:trial % 4]), passes.bag(*tiles[4:4 + random.randrange(25)])
        words = ["--list", str(path), "--seen", " ".join(gone.elements()),
                 *(["--hidden", "3"] if trial == 5 else []), *mine.elements()]
        answer = ask(program, *words)
        yield f"few tiles, {words}", (
            passes.compare(figures(answer), plain_reading(mine, gone, answer["hidden"]))
            or passes.compare(answer["hidden"], 3 if trial == 5 else 4)
            or passes.compare(answers.tiles(answer["hand"]), mine)
            or order_problem(answer))


def sets_checks(program, path):
    """With a pung on the table a pair is left to make, and one tile is hidden."""
    for words, copies in (([], 4), (["--discarded", "7B"], 3), (["--seen", "7B", "7B"], 2)):
        if words:
            words = [words[0], " ".join(words[1:])]
        answer = ask(program, "--list", str(path), "--exposed", "999B", *words, "1B")
        rows = {row["tile"]: int(row["wins"]) for row in answer["tiles"]}
        yield f"a pung on the table, {words}", passes.compare(
            (answer["exposed"], answer["hidden"], rows["7B"], rows["1B"], rows.get("9B")),
            (["999B"], 1, copies, 3, None))


# ------------------------------------------------------------- the programs

def exposed(name):
    return {"traditional": ["777C EEE", "345D"], "jokers": ["EEEJ", "444D"], "club": ["333B", ""]}[
        name]


def text_checks(program, name):
    for sets in exposed(name):
        words = ["--list", name, *(["--exposed", sets] if sets else []), "2468B 24C 9D E Wh"]
        answer = ask(program, *words)
        text = program.run("read", "--top", "5000", *words).stdout.decode()
        rows = [line.split() for line in text.splitlines()
                if line[6:8] == "  " and line[:6].strip().endswith("%") and line[8:9] != "["]
        tiles = [row[1] for row in rows if row[1] in answers.KINDS and row[2].isdigit()]
        yield f"{name}, {sets}: tiles in their order", passes.compare(
            tiles, [row["tile"] for row in answer["tiles"]])
        places = [text.find(f"\n{row['pattern']}") for row in answer["patterns"]]
        yield f"{name}, {sets}: patterns in their order", passes.compare(
            (places, min(places, default=0) >= 0), (sorted(places), True))
        sizes = program.root / f"patterns/{name}.json"
        size = len(json.loads(sizes.read_text())["patterns"])
        yield f"{name}, {sets}: how many are left", (
            "" if f"{len(answer['patterns'])} of {size} patterns left" in text else text)
        wide = screens.widest(text)
        yield f"{name}, {sets}: width", "" if wide <= 80 else f"{wide} columns"


def players_checks(program):
    words = ["--list", "traditional", "--discarded", "99D"]
    hand = "19C 5D R"
    both = ask(program, *words, "--player", "777C", "--player", "234B 555B", hand)
    for index, (sets, others) in enumerate((("777C", "234B 555B"), ("234B 555B", "777C"))):
        alone = ask(program, *words, "--exposed", sets, "--seen", others, hand)
        yield f"player {index + 1} of two is as alone", passes.compare(
            both["players"][index], {key: alone[key] for key in both["players"][index]})
    dangers = [{row["tile"]: row["danger"] for row in player["tiles"]}
               for player in both["players"]]
    for row in both["tiles"]:
        wanted = 1 - math.prod(1 - danger.get(row["tile"], 0) for danger in dangers)
        yield f"{row['tile']}: from one at least", (
            "" if math.isclose(wanted, row["danger"], abs_tol=1e-12) else f"{row}, not {wanted}")
    order = [(row["mine"] == 0, -row["danger"]) for row in both["tiles"]]
    yield "the most dangerous first", passes.compare(order, sorted(order))
    one = ask(program, *words, "--player", "", hand)
    plain = ask(program, *words, hand)
    yield "a player without a set", passes.compare(
        one["players"][0], {key: plain[key] for key in one["players"][0]})


def refusals(program):
    for words, said in (
            (["--exposed", "111B", "--player", "222B"], "take one of them"),
            (["--player", "111B", "--player", "222B", "--hidden", "3"], "--hidden is for one"),
            (["--player", "111B", "--player", "222B", "--seat", "E"], "--seat is for one"),
            (["--player", "1B"], "--player '1B', column 1"),
            (4 * ["--player", "111B"], "at most 3"),
            (["--file", "-", "1B"], "take one of them"),
            (["--hidden", "24"], "--hidden"),
            (["--exposed", "111B", "--discarded", "11B"], "more copies of the one of bams"),
            (["--player", "111B", "--player", "111B"], "more copies of the one of bams")):
        done = program.run("read", *words)
        yield f"refused: {words}", (
            "" if done.returncode == 2 and said.encode() in done.stderr and done.stdout == b""
            else f"{done}")
    done = program.run("read", "--exposed", "111B", "2B 11B")
    yield "a tile too many", passes.compare(
        (done.returncode, done.stderr.decode().splitlines()[:2]), (1, ["2B 11B", "    ^"]))


def input_checks(program):
    lines = b"2468B\n\n# a remark\n11111B\n2D\tdealer\n"
    words = ["read", "--list", "traditional", "--exposed", "333B", "--file", "-"]
    for more in (["--json"], ["--top", "2"]):
        alone, many = (program.run(*words, "--jobs", jobs, *more, stdin=lines) for jobs in "14")
        yield f"threads write the same, {more}", passes.compare(
            (many.returncode, many.stdout, many.stderr), (1, alone.stdout, alone.stderr))
        yield f"all lines are answered, {more}", (
            "" if alone.stdout.count(b"2D") > 0 and alone.stdout.count(b"dealer") == 1 else
            f"{alone}")
    silent = program.run("read", "--list", "traditional", "--exposed", "333B 444B 555B", "--json",
                         stdin=b"2468B\n")
    answer, = program.objects(silent.stdout)
    yield "standard input is left alone", passes.compare(answer["hand"], "")


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "few.json"
        path.write_text(json.dumps(passes.SMALL))
        yield from small_checks(program, path)
        yield from sets_checks(program, path)
    for name in ("club", "jokers", "traditional"):
        yield from text_checks(program, name)
    yield from players_checks(program)
    yield from refusals(program)
    yield from input_checks(program)
