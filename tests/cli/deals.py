"""Deals are those of a published law, which is followed again here; they can be
had again; they are read by rank; and any number of them is dealt in the same
memory, until somebody stops it."""
import itertools
import json
import os
import pathlib
import random
import re
import signal
import subprocess
import tempfile

import answers
import screens

WINDS = ["east", "south", "west", "north"]
SEED_MOST = 2**64 - 1
FIRST_MOST = 10**15
SLOW = "broad"  # a list that takes long to load, with an everyday set
PATIENCE = 60  # seconds, for a program that hangs
STATUS_USAGE, STATUS_OUTPUT, STATUS_STOPPED = 2, 3, 130


# ------------------------------------------------------------------- the law

def quarter_round(x, a, b, c, d):
    """RFC 8439, section 2.1."""
    for p, q, r, left in ((a, b, d, 16), (c, d, b, 12), (a, b, d, 8), (c, d, b, 7)):
        x[p] = (x[p] + x[q]) % 2**32
        mixed = x[r] ^ x[p]
        x[r] = (mixed << left | mixed >> 32 - left) % 2**32


def numbers(seed, stream):
    """The words of ChaCha20's key stream (RFC 8439, section 2.3), the seed being
    the first eight bytes of the key, the stream the last eight of the nonce."""
    for counter in itertools.count():
        state = [0x61707865, 0x3320646e, 0x79622d32, 0x6b206574,
                 seed % 2**32, seed >> 32, 0, 0, 0, 0, 0, 0,
                 counter, 0, stream % 2**32, stream >> 32]
        x = list(state)
        for _ in range(10):
            for i in range(4):
                quarter_round(x, i, 4 + i, 8 + i, 12 + i)
            for i in range(4):
                quarter_round(x, i, 4 + (i + 1) % 4, 8 + (i + 2) % 4, 12 + (i + 3) % 4)
        yield from ((word + was) % 2**32 for word, was in zip(x, state))


def below(source, bound):
    return next(number * bound >> 32 for number in source
                if number * bound % 2**32 >= 2**32 % bound)


def draw(source, wall, count):
    """Takes tiles out of a wall, which lie in a row in the order of the kinds."""
    row = [kind for kind in answers.KINDS for _ in range(wall[kind])]
    for _ in range(count):
        place = below(source, len(row))
        wall[row[place]] -= 1
        yield row[place]
        row[place] = row[-1]
        row.pop()


def deal(wall, size, seed, number):
    """The hands of a deal as sorted kinds, and the dice."""
    source, wall = numbers(seed, number), wall.copy()
    hands = [sorted(draw(source, wall, size - (seat > 0)), key=answers.KINDS.index)
             for seat in range(4)]
    return hands, [1 + below(source, 6), 1 + below(source, 6)]


def prevailing(dice):
    """Common practice."""
    return next(wind for wind, sums in (("east", (5, 9)), ("south", (2, 6, 10)),
                                        ("west", (3, 7, 11)), ("north", (4, 8, 12)))
                if sum(dice) in sums)


# --------------------------------------------------------------------- checks

def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def lines_of(done):
    """The remark, and the hands with their labels."""
    lines = done.stdout.decode().split("\n")
    return lines[0], [line.split("\t") for line in lines[1:-1]]


def law_problem(given, path, seed, first, count):
    data = json.loads(path.read_text())
    wanted = []
    for number in range(first, first + count):
        hands, dice = deal(answers.tile_set(path), data.get("hand", 14), seed, number)
        wanted += [{"format": 1, "list": data["title"], "seed": str(seed), "deal": number, "dice": dice,
                    "prevailing": prevailing(dice), "seat": seat, "hand": hand}
                   for seat, hand in zip(WINDS, hands)]
    for answer in given:
        answer["hand"] = sorted(answers.tiles(answer["hand"]).elements(), key=answers.KINDS.index)
    return compare(given, wanted)


def list_checks(program, path):
    seed, first = random.choice([random.randrange(1000), random.randint(2**32, SEED_MOST),
                                 SEED_MOST]), random.choice([1, random.randint(1, FIRST_MOST - 3)])
    of = ["deal", "--list", str(path), "--seed", str(seed)]
    words = [*of, "--first", str(first), "--hands", "4"]
    table = program.objects(program.run(*words, "--table", "--json").stdout)
    remark, lines = lines_of(program.run(*words, "--table"))
    yield f"{path.stem}: the text says what the JSON says", compare(
        lines, [[answer["hand"], f"deal {answer['deal']}, prevailing {answer['prevailing']}, "
                                 f"seat {answer['seat']}"] for answer in table])
    yield f"{path.stem}: the remark", compare(
        remark, f"# seed {seed}, list {json.loads(path.read_text())['title']}")
    for seat, letter in zip(WINDS, "eSwN"):
        done = program.run(*words, "--json", "--seat", letter)
        yield f"{path.stem}: seat {seat}", compare(
            program.objects(done.stdout), [answer for answer in table if answer["seat"] == seat])
    yield f"{path.stem}: the dealer's hands if no seat is given", compare(
        program.run(*words).stdout, program.run(*words, "--seat", "east").stdout)
    alone = program.run(*of, "--first", str(first + 2), "--table", "--json").stdout
    yield f"{path.stem}: a deal alone", compare(program.objects(alone), table[8:12])
    yield f"{path.stem}: seed {seed}, deals from {first} are those of the law", (
        law_problem(table, path, seed, first, 4))


def pipe_checks(program, path):
    dealt = program.run("deal", "--list", str(path), "--hands", "50", "--table").stdout
    done = program.run("rank", "--list", str(path), "--json", "--top", "1", stdin=dealt)
    ranked = program.objects(done.stdout)
    given = [[answer["hand"], answer["label"]] for answer in ranked if "error" not in answer]
    yield f"{path.stem}: rank takes every hand", compare(
        (given, done.returncode),
        ([line.split("\t") for line in dealt.decode().splitlines()[1:]], 0))


def fresh_checks(program):
    first, second = (program.run("deal", "--hands", "3") for _ in range(2))
    (remark, hands), (other, _) = lines_of(first), lines_of(second)
    seed = re.match(r"# seed (\d+), list ", remark)
    yield "a fresh seed is shown", "" if seed and len(hands) == 3 else remark
    yield "and is another each time", "" if remark != other else remark
    again = program.run("deal", "--hands", "3", "--seed", seed.group(1))
    yield "with it the deals are had again", compare(again.stdout, first.stdout)
    answer, = program.objects(program.run("deal", "--json").stdout)
    again = program.run("deal", "--json", "--seed", answer["seed"])
    yield "and with JSON", compare(program.objects(again.stdout), [answer])


def number_checks(program):
    for option, least, most in (("--seed", 0, SEED_MOST), ("--hands", 1, FIRST_MOST),
                                ("--first", 1, FIRST_MOST)):
        wrong = ["", "x", "-1", "+1", " 1", "1 ", "0x10", "1e3", "1.0", str(most + 1),
                 str(2**64), str(2**64 + 1), "9" * 40] + [str(least - 1)]
        for value in wrong:
            done = program.run("deal", option, value)
            told = f"{option} takes a whole number from {least} to {most}, not '{value}'"
            yield f"{option} '{value}'", (
                "" if (done.returncode, done.stdout) == (STATUS_USAGE, b"")
                and told in done.stderr.decode() else f"{done}")
    done = program.run("deal", "--json", "--seed", "0007", "--first", str(FIRST_MOST))
    answer, = program.objects(done.stdout)
    yield "the last number", compare((answer["seed"], answer["deal"]), ("7", FIRST_MOST))


def write_list(path, **keys):
    path.write_text(json.dumps({"format": 1, "hand": 14, "patterns": [
        {"name": "P", "groups": [{"pung": "any", "times": 4}, {"pair": "any"}]}], **keys}))


def odd_list_checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "list.json"
        write_list(path, title="Few", tiles={"suits": ["bam"]})  # 64 tiles, 53 are dealt
        yield "a small set", compare(program.run("deal", "--list", str(path)).returncode, 0)
        write_list(path, title="Few", tiles={"suits": ["bam"], "winds": False})
        done = program.run("deal", "--list", str(path))
        yield "a set that is too small", compare(
            (done.returncode, done.stdout, done.stderr.decode()),
            (STATUS_USAGE, b"", "nearhand deal: the list's set has 48 tiles, too few for four "
                                "hands of 14\n"))
        write_list(path, title="two\nlines\t\x1b[1m" + "\u6f22" * 100)
        done = program.run("deal", "--list", str(path), "--hands", "2")
        lines = done.stdout.decode().splitlines()
        yield "an odd title stays within the remark", (
            "" if len(lines) == 3 and lines[0].startswith("# seed ")
            and 70 < screens.columns(lines[0]) <= 80 and "\x1b" not in lines[0]
            and all(re.match(r"[^#\t]+\tdeal ", line) for line in lines[1:]) else f"{lines}")


def stopped(program, number, *words):
    child = program.start("deal", "--seed", "5", "--hands", str(FIRST_MOST), *words)
    first = child.stdout.readline()
    child.send_signal(number)
    lines = (first + child.stdout.read()).split(b"\n")
    errors = child.stderr.read().decode()
    status = child.wait(PATIENCE)
    if status != STATUS_STOPPED or lines[-1] != b"":
        return f"status {status}, ends in {lines[-1]}"
    hands = [line for line in lines[:-1] if not line.startswith(b"#")]
    whole = program.run("deal", "--seed", "5", "--hands", str(len(hands)), *words).stdout
    if whole != b"\n".join(lines):
        return "other lines than without a signal"
    return "" if f"stopped after {len(hands)} deals" in errors else errors


def reader_that_leaves(program):
    child = program.start("deal", "--hands", str(FIRST_MOST))
    child.stdout.readline()
    child.stdout.close()
    errors = child.stderr.read()
    status = child.wait(PATIENCE)
    return "" if (status, errors) == (-signal.SIGPIPE, b"") else f"status {status}, {errors}"


def stop_checks(program):
    yield "SIGINT", stopped(program, signal.SIGINT)
    yield "SIGTERM, JSON", stopped(program, signal.SIGTERM, "--json")
    yield "a reader that leaves", reader_that_leaves(program)


def peak_memory(program, hands):
    """Kilobytes of the program while it deals so many."""
    child = program.start("deal", "--hands", hands, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    return usage.ru_maxrss if child.returncode == 0 else None


def memory_checks(program):
    few, many = (peak_memory(program, hands) for hands in ("10", "200000"))
    yield "memory", "" if few and many and many < few + 2048 else f"{few} KB, then {many} KB"


# ---------------------------------------------------------- deals that are picked

def closest(program, path, deals, fits):
    """Tiles away of the closest pattern that fits, and of any, for each deal."""
    found = {}
    for wind in WINDS:
        some = [deal for deal in deals if deal["prevailing"] == wind]
        stdin = "".join(f"{deal['hand']}\n" for deal in some).encode()
        done = program.run("rank", "--list", str(path), "--json", "--prevailing", wind,
                           "--seat", deals[0]["seat"], stdin=stdin)
        for deal, answer in zip(some, program.objects(done.stdout)):
            rows = answer["targets"]
            found[deal["deal"]] = (min((row["away"] for row in rows if fits(row)), default=99),
                                   rows[0]["away"])
    return found


def picked_checks(program, path):
    """Only the deals that are asked for, as they are in the stream of all deals."""
    patterns = json.loads(path.read_text())["patterns"]
    pattern = random.choice(patterns)
    seed, first, seat = str(random.randrange(10**6)), random.randint(1, 1000), random.choice(WINDS)
    plain = ["deal", "--list", str(path), "--seed", seed, "--first", str(first), "--seat", seat,
             "--json"]
    deals = program.objects(program.run(*plain, "--hands", "60").stdout)
    cases = [(["--aim", pattern["name"]], lambda row: row["pattern"] == pattern["name"])]
    if "section" in pattern:
        cases.append((["--section", pattern["section"]],
                      lambda row: row["section"] == pattern["section"]))
    points = pattern.get("points", 0)
    if points >= 1:
        cases.append((["--points-from", str(int(points))],
                      lambda row: (row["points"] or 0) >= int(points)))
    for words, fits in cases:
        away = closest(program, path, deals, fits)
        least = min(own for own, _ in away.values())
        for within in (None, least, least + 1):
            wanted = [deal for deal in deals if
                      (away[deal["deal"]][0] == away[deal["deal"]][1] if within is None
                       else away[deal["deal"]][0] <= within)][:5]
            if not wanted:
                continue
            more = [] if within is None else ["--within", str(within)]
            done = program.run(*plain, *words, *more, "--hands", str(len(wanted)))
            label = f"{path.stem}: seed {seed}, first {first}, {' '.join(words + more)}"
            yield label, compare(program.objects(done.stdout), wanted)
    whole = program.objects(program.run(*plain, *words, *more, "--table", "--hands", "1").stdout)
    yield f"{label}, the table", compare(
        (len(whole), [deal for deal in whole if deal["seat"] == seat]), (4, wanted[:1]))


def no_deal_checks(program):
    words = ["deal", "--list", "skerry.json", "--seed", "1", "--section", "fives"]
    done = program.run(*words, "--within", "0")
    yield "no deal will do", compare(
        (done.returncode, done.stdout, done.stderr.decode()),
        (STATUS_USAGE, b"", "nearhand deal: none of the deals 1 to 200000 of this seed will do: "
                            "try a larger --within\n"))


def checks(program):
    for path in program.all_lists():
        if path.stem != SLOW:
            yield from list_checks(program, path)
            yield from pipe_checks(program, path)
            yield from picked_checks(program, path)
    yield from fresh_checks(program)
    yield from number_checks(program)
    yield from odd_list_checks(program)
    yield from no_deal_checks(program)
    yield from stop_checks(program)
    yield from memory_checks(program)
