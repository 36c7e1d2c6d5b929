"""Discards: every figure against listing all draws the plain way, for a list of few
tiles; the text against the JSON; sets of other players as tiles seen; any number of
threads writes the same."""
import fractions
import itertools
import json
import math
import pathlib
import random
import tempfile

import answers
import passes
import screens

NONE = math.inf
ORDERS = ("away", "expected", "chance", "worth")


def exact(text):
    return NONE if text is None else fractions.Fraction(text)


# ------------------------------------------------------------- the plain way

def plain_choice(hand, gone, tile, look, aims):
    rest, after = hand - passes.bag(tile), gone + passes.bag(tile)
    unseen = passes.wall() - hand - gone
    now = passes.away(rest, after, aims)
    nearest = min(now.values())
    if nearest == NONE:
        return {"away": None, "useful": "", "expected": NONE, "keeps": []}
    live = [target - rest for targets in aims.values() for target in targets
            if target <= passes.wall() - after]
    whole = math.comb(sum(unseen.values()), look)
    expected = sum(ways * min(sum((lack - drawn).values()) for lack in live)
                   for drawn, ways in passes.draws(unseen, look))
    useful = sorted(kind for kind in unseen.elements()
                    if any(sum((lack - passes.bag(kind)).values()) < nearest for lack in live))
    return {"away": nearest, "useful": useful,
            "expected": fractions.Fraction(expected, whole),
            "keeps": [name for name, away in now.items() if away == nearest]}


def figures(choice):
    return {"away": choice["away"], "expected": exact(choice["expected_exact"]),
            "useful": sorted(answers.tiles(choice["useful"]).elements()) if choice["useful"] else
            [] if choice["away"] is not None else "", "keeps": choice["keeps"]}


def ask(program, *words):
    done = program.run("discard", "--json", "--top", "24", *words)
    if done.returncode != 0:
        raise ValueError((done.stdout + done.stderr).decode())
    answer, = program.objects(done.stdout)
    return answer


def order_key(choice, order):
    away = NONE if choice["away"] is None else choice["away"]
    chance = -exact(choice["chance_exact"])
    expected = exact(choice["expected_exact"])
    return {"away": (away, expected, chance), "expected": (expected, chance, away),
            "chance": (chance, away, expected)}[order]


def small_checks(program, path):
    tiles = list(passes.wall().elements())
    for trial in range(16):
        random.shuffle(tiles)
        look, order = random.choice([1, 2, 3]), random.choice(ORDERS[:3])
        hand, gone = passes.bag(*tiles[:5]), passes.bag(*tiles[5:5 + random.choice([0, 4, 24])])
        words = ["--list", str(path), "--look", str(look), "--order", order,
                 "--seen", " ".join(gone.elements()), " ".join(hand.elements())]
        answer = ask(program, *words)
        wanted = {tile: plain_choice(hand, gone, tile, look, passes.targets()) for tile in hand}
        if any(hand == target for target in itertools.chain(*passes.targets().values())):
            yield f"few tiles, {words}: complete", passes.compare(
                (answer["discard"], answer["choices"], bool(answer["complete"])), (None, [], True))
            continue
        given = {choice["discard"]: figures(choice) for choice in answer["choices"]}
        yield f"few tiles, {words}", (
            passes.compare(given, wanted)
            or passes.compare(answer["choices"], sorted(
                answer["choices"], key=lambda choice: order_key(choice, order)))
            or passes.compare(answer["discard"], answer["choices"][0]["discard"])
            or passes.compare(answer["complete"], []))


# ------------------------------------------------------------- the programs

def hands(program, name, count, size=14):
    pool = list((answers.tile_set(program.root / f"patterns/{name}.json")).elements())
    for _ in range(count):
        yield " ".join(random.sample(pool, size))


def text_checks(program, name):
    for hand in hands(program, name, 2):
        words = ["--list", name, "--top", "3", hand]
        answer = program.objects(program.run("discard", "--json", *words).stdout)[0]
        lines = program.run("discard", *words).stdout.decode().splitlines()
        rows = [(line[7:14].strip(), line[23:33].strip()) for line in lines[2:]
                if line[:7].strip().isdigit()]
        yield f"{name}, {hand}: the text says what the JSON says", passes.compare(
            rows, [(choice["discard"], f"{choice['expected']:.3f}")
                   for choice in answer["choices"]])
        wide = screens.widest("\n".join(lines))
        yield f"{name}, {hand}: width", "" if wide <= 80 else f"{wide} columns"


def order_checks(program, name):
    for hand, order in zip(hands(program, name, 4), ORDERS):
        words = ["--list", name, "--order", order, hand]
        every = ask(program, *words)
        best = program.objects(program.run("discard", "--json", "--top", "1", *words).stdout)[0]
        yield f"{name}, {order}, {hand}: the first of all", passes.compare(
            best["choices"], every["choices"][:1])
        if order == "worth":
            worth = [choice["worth"] or 0 for choice in every["choices"]]
            yield f"{name}, {hand}: by worth", passes.compare(worth, sorted(worth, reverse=True))


def others_checks(program):
    hand = "2468B 246C 33D EEW R G"
    told = ask(program, "--others", "444D SSSS", "--others", "789C", hand)
    seen = ask(program, "--seen", "444D SSSS 789C", hand)
    yield "sets of others are tiles seen", passes.compare(told, seen)
    own = ask(program, "--list", "jokers", "--any-size", "--exposed", "444DJ", "2468B 24C")
    yield "own sets are named", passes.compare(own["exposed"], ["444DJ"])


def size_checks(program, path):
    for words, hand, whole in (([], "1234B", 5), (["--exposed", "999B"], "1B", 2)):
        words = ["--json", "--list", str(path), *words, hand]
        plain, any_size = (program.run("discard", *more, *words) for more in ([], ["--any-size"]))
        yield f"a hand of another size, {words}", (
            "" if plain.returncode == 1 and f"it has {whole} ".encode() in plain.stdout
            and any_size.returncode == 0 else f"{plain} {any_size}")


# ------------------------------------------------------------------- players

def read_dangers(program, *words):
    done = program.run("read", "--json", *words)
    answer, = program.objects(done.stdout)
    return answer, {row["tile"]: row["danger"] for row in answer["tiles"] if row["mine"] > 0}


def player_words(name):
    """A hand, one's own sets and tiles gone, and players with sets on the table."""
    return {"traditional": ("123B 456D WhWh R 9C 5B", ["222C"], ["777C EEE", "234B"], ["19D 9D"]),
            "jokers": ("2468B 246C 33D W R FF J", [], ["EEEJ"], ["8D", "R"])}[name]


def players_checks(program, name):
    """Dangers are those that read finds for the same players, hand and tiles gone; the other
    figures are as without them."""
    hand, own, players, gone = player_words(name)
    named = [word for sets in players for word in ("--player", sets)]
    seen = [word for tiles in gone for word in ("--discarded", tiles)]
    mine = [word for sets in own for word in ("--exposed", sets)]
    told = ask(program, "--list", name, *mine, *named, *seen, hand)
    plain = ask(program, "--list", name, *mine, "--others", " ".join(players), *seen, hand)
    known, dangers = read_dangers(program, "--list", name, *named, *seen, "--seen", " ".join(own),
                                  hand)
    choices = told["choices"]
    yield f"{name}: dangers as read finds them", passes.compare(
        {choice["discard"]: choice["danger"] for choice in choices},
        {tile: danger for tile, danger in dangers.items() if tile != "J"})
    least = min(choices, key=lambda choice: choice["danger"])
    yield f"{name}: the safest, and the first of them", passes.compare(told["safest"], least)
    yield f"{name}: the players", passes.compare(
        told["players"], [{**{key: player[key] for key in ("exposed", "hidden", "hands", "ready")},
                           "left": len(player["patterns"])} for player in known["players"]])
    for key in ("safest", "players"):
        del told[key]
    for choice in choices:
        del choice["danger"]
    yield f"{name}: nothing else changes", passes.compare(told, plain)
    said = ("It is also the safest: danger " if least["discard"] == told["discard"]
            else f"Safest {least['discard']}: danger ")
    yield from player_text_checks(program, name, [*mine, *named, *seen, hand], said, least)


def player_text_checks(program, name, words, said, least):
    for top in ("1", "24"):
        text = program.run("discard", "--list", name, "--top", top, *words).stdout.decode()
        rows = [line for line in text.splitlines() if line[:7].strip().isdigit()]
        figures = {line[7:14].strip(): line[41:49].strip() for line in rows}
        yield f"{name}, --top {top}: the safest is named and in the table", (
            "" if f"\n{said}" in text and least["discard"] in figures
            and all(figure.endswith("%") for figure in figures.values()) else text)
        wide = screens.widest(text)
        yield f"{name}, --top {top}: width", "" if wide <= 80 else f"{wide} columns"


def player_refusals(program):
    for words, said in ((["--player", "1B"], b"--player '1B', column 1"),
                        (4 * ["--player", "111B"], b"at most 3"),
                        (["--discarded", "1X"], b"--discarded")):
        done = program.run("discard", *words, "2468B 246C 33D EEW R G")
        yield f"refused: {words}", (
            "" if done.returncode == 2 and said in done.stderr and done.stdout == b""
            else f"{done}")


def complete_checks(program, path):
    done = program.run("discard", "--list", str(path), "12345B")
    yield "a complete hand is not broken up", (
        "" if done.stdout == b"Complete: nothing to discard.\n  Run\n" else f"{done}")


def jobs_checks(program):
    lines = program.run("deal", "--seed", str(random.randrange(10**9)), "--hands", "60").stdout
    lines += b"1X\n"
    for words in (["--json", "--top", "2"], ["--top", "1"],
                  ["--json", "--top", "1", "--player", "333B 444D"]):
        alone, many = (program.run("discard", "--jobs", jobs, *words, stdin=lines)
                       for jobs in "15")
        yield f"threads write the same, {words}", passes.compare(
            (many.returncode, many.stdout, many.stderr), (1, alone.stdout, alone.stderr))


def lines_checks(program):
    """A hand among many, in threads, is answered as if it were asked alone."""
    lines = program.run("deal", "--seed", str(random.randrange(10**9)), "--hands", "40").stdout
    hands = [line for line in lines.decode().splitlines() if line and not line.startswith("#")]
    many = program.run("discard", "--json", "--any-size", "--top", "24", "--jobs", "3",
                       stdin=lines)
    answered = many.stdout.decode().splitlines()
    yield "a line an answer", passes.compare(len(answered), len(hands))
    for at in random.sample(range(len(hands)), 4):
        given = json.loads(answered[at])
        alone = ask(program, "--any-size", given["hand"])
        given.pop("label", None)
        yield f"line {at + 1} is answered as alone", passes.compare(given, alone)


def sign_checks(program):
    for locale, sign in (("C.UTF-8", "×"), ("C", "x")):
        done = program.run("discard", "--top", "1", "2468B 246C 33D EEW R G",
                           environment=program.environment(LC_ALL=locale))
        yield f"the sign in {locale}", "" if f"{sign}4".encode() in done.stdout else f"{done}"


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "few.json"
        path.write_text(json.dumps(passes.SMALL))
        yield from small_checks(program, path)
        yield from complete_checks(program, path)
        yield from size_checks(program, path)
    for name in ("club", "jokers"):
        yield from text_checks(program, name)
        yield from order_checks(program, name)
    yield from others_checks(program)
    yield from lines_checks(program)
    for name in ("traditional", "jokers"):
        yield from players_checks(program, name)
    yield from player_refusals(program)
    yield from jobs_checks(program)
    yield from sign_checks(program)
