"""Rounds are played as they are told, every tile of the set stays in one place,
and what was played is in the history, whole, whatever happens to the program."""
import concurrent.futures
import json
import pathlib
import random
import re
import signal
import tempfile
import time

import answers
from deals import compare

STATUS_ANSWERED, STATUS_USAGE, STATUS_OUTPUT, STATUS_STOPPED = 0, 2, 3, 130
PATIENCE = 120  # seconds, for a program that hangs
SENDERS = {"right": 3, "across": 2, "left": 1}  # seats before the receiver
WINDS = ["east", "south", "west", "north"]


def kept_back(path):
    data = json.loads(path.read_text())
    return set(answers.tiles(data.get("charleston", {}).get("keep", ""))) | {"J"}


class Player:
    """Answers the questions as they come, with tiles at random."""

    def __init__(self, program, path, *words, environment=None):
        self.kept = kept_back(path)
        self.aim = json.loads(path.read_text())["patterns"][0]["name"]
        self.shown = ""
        self.child = program.start("drill", "--list", str(path), *words, environment=environment)

    def answer(self, question):
        asked = question.splitlines()[-1]
        count = re.match(r"Pass (\d) ", asked)
        if count:
            hand = re.findall("Your hand: (.*)", self.shown)[-1]
            kinds = [kind for kind in answers.tiles(hand).elements() if kind not in self.kept]
            return " ".join(random.sample(kinds, int(count.group(1))))
        if "yes or no" in asked:
            return "yes"
        most = re.search(r"0 to (\d)", asked)
        return most.group(1) if most else self.aim

    def play(self, until=None):
        """Answers until the end and gives the status, or, with `until`, until the
        question behind that text and gives what was shown."""
        question = ""
        while byte := self.child.stdout.read(1).decode("latin-1"):
            question += byte
            self.shown += byte
            if question.endswith(" > ") and until and until in self.shown:
                return self.shown
            if question.endswith(" > "):
                self.child.stdin.write(f"{self.answer(question[:-3])}\n".encode())
                self.child.stdin.flush()
                question = ""
        return self.child.wait(PATIENCE)


def rounds_of(program, path):
    return program.objects(path.read_bytes()) if path.exists() else []


# --------------------------------------------------------------------- rounds

def table_problem(path, played):
    """Every physical tile is in exactly one place."""
    places = sum((answers.tiles(tiles) for tiles in played["table"].values()), answers.tiles(""))
    wanted = answers.tile_set(path)
    return "" if +places == +wanted else f"{+places - +wanted} too many, {+wanted - +places} lost"


def hand_problem(played):
    """The hand is what was dealt, less what was passed, with what was got."""
    hand = answers.tiles(played["dealt"])
    for step in played["passes"]:
        mine = answers.tiles(step["mine"])
        if mine - hand:
            return f"{step['mine']} was passed but not held"
        hand = hand - mine + answers.tiles(step["got"])
    wanted = +answers.tiles(played["table"][played["seat"]])
    return "" if +hand == wanted else f"{hand} is not {wanted}"


def figure_problem(played):
    seconds = sum(step["seconds"] for step in played["passes"] + played["votes"])
    for step in played["passes"]:
        if step["cost"] is None:
            continue
        if abs(step["expected"] - step["best_expected"] - step["cost"]) > 1e-9:
            return f"{step}"
        if (step["cost"] == 0) < (step["mine"] == step["best"]):
            return f"the best pass costs {step['cost']}"
    return "" if seconds < played["seconds"] else "decisions are missing in the time"


def cost_problem(program, path, played):
    """Each pass costs what pass --mine tells of it: of the hand as it was, with the
    tiles that were passed before gone, but for those that must have come back."""
    hand, given = answers.tiles(played["dealt"]), answers.tiles("")
    for step in played["passes"]:
        mine = answers.tiles(step["mine"])
        gone = given & (answers.tile_set(path) - hand)
        told, = program.objects(program.run(
            "pass", "--json", "--top", "1", "--list", str(path), "--count", str(mine.total()),
            "--mine", step["mine"], "--seen", " ".join(gone.elements()),
            "--prevailing", played["prevailing"], "--seat", played["seat"],
            " ".join(hand.elements())).stdout)
        if mine.total() > 0 and step["cost"] is not None and any(
                abs(a - b) > 1e-12 for a, b in (
                    (step["cost"], told["mine"]["cost"]),
                    (step["expected"], told["mine"]["expected"]),
                    (step["best_expected"], told["expected"]))):
            return f"{step}, but pass tells {told['mine']} and {told['expected']}"
        given += mine
        hand = hand - mine + answers.tiles(step["got"])
    return ""


def round_checks(program, path, rounds, folder):
    seat = random.choice(WINDS)
    history = folder / f"{path.stem}.jsonl"
    seed = str(random.randrange(10**9))
    player = Player(program, path, "--seed", seed, "--seat", seat, "--clock", "fixed:5",
                    "--rounds", str(rounds), "--history", str(history))
    status = player.play()
    played = rounds_of(program, history)
    yield f"{path.stem}, seed {seed}: {rounds} rounds", compare(
        (status, len(played)), (STATUS_ANSWERED, rounds))
    for number, one in enumerate(played, 1):
        name = f"{path.stem}, seed {seed}, {seat}, round {number}"
        yield f"{name}: every tile is in one place", table_problem(path, one)
        yield f"{name}: the hand follows from the passes", hand_problem(one)
        yield f"{name}: the figures fit one another", figure_problem(one)
        yield f"{name}: the costs are those of pass", cost_problem(program, path, one)
        dealt, = program.objects(program.run("deal", "--list", str(path), "--seed", seed, "--first",
                                             str(number), "--seat", seat, "--json").stdout)
        yield f"{name}: the deal", compare(
            (one["dealt"], one["prevailing"]), (dealt["hand"], dealt["prevailing"]))
        ranked, = program.objects(program.run(
            "rank", "--list", str(path), "--json", one["table"][seat]).stdout)
        nearest = ranked["targets"][0]["away"]
        yield f"{name}: the nearest pattern", (
            "" if one["nearest"]["away"] >= nearest else f"{one['nearest']}, rank {nearest}")


# -------------------------------------------------------------------- answers

def ended_checks(program, folder):
    for name, typed in (("no input", b""), ("quit", b"quit\n"), ("QUIT", b" QUIT \n"),
                        ("a line that does not end", b"9B"), ("zero bytes", b"\0\0\n")):
        history = folder / "ended.jsonl"
        done = program.run("drill", "--seed", "1", "--history", str(history), stdin=typed)
        yield f"{name} ends the session", (
            "" if done.returncode == STATUS_ANSWERED and b"No round" in done.stdout
            and history.read_bytes() == b"" else f"{done}")
    done = program.run("drill", "--seed", "1", "--rounds", "3", "--no-history",
                       stdin=b"skip\nSkip\nskip\n")
    yield "every round can be skipped", compare(
        (done.returncode, done.stdout.count(b"Round ")), (STATUS_ANSWERED, 3))
    done = program.run("drill", "--seed", "1", "--no-history", stdin=b"9" * 5000 + b"\nquit\n")
    yield "a line that is too long", "" if b"too long" in done.stdout else f"{done}"


def stopped_checks(program, folder):
    """Ctrl-C while a question is open: the session is told, and what was kept stays."""
    history = folder / "stopped.jsonl"
    player = Player(program, program.lists / "skerry.json", "--seed", "1", "--rounds", "2",
                    "--clock", "fixed:1", "--history", str(history))
    shown = player.play(until="Round 2 of 2")
    player.child.send_signal(signal.SIGINT)
    shown += player.child.stdout.read().decode()
    status = player.child.wait(PATIENCE)
    yield "an interrupted session", (
        "" if status == STATUS_STOPPED and "Session\n" in shown
        and len(rounds_of(program, history)) == 1 else f"{status} {shown[-300:]}")


def usage_checks(program):
    for words, told in ((["--level", "expert"], "--level takes beginner, intermediate or advanced"), (["--limit", "2h"], "--limit"),
                        (["--limit", "0s"], "--limit"), (["--limit", "61m"], "--limit"),
                        (["--limit", "s"], "--limit"), (["--limit", "9" * 30 + "s"], "--limit"),
                        (["--clock", "20"], "--clock"), (["--clock", "fixed:"], "--clock"),
                        (["--clock", "fixed:-1"], "--clock"), (["--rounds", "0"], "--rounds"),
                        (["--level", "advanced", "--limit", "90s"], "two limits"),
                        (["--history", "x", "--no-history"], "contradict"), (["9B"], "'9B'")):
        done = program.run("drill", *words)
        yield f"drill {' '.join(words)[:40]}", (
            "" if (done.returncode, done.stdout) == (STATUS_USAGE, b"")
            and told in done.stderr.decode() else f"{done}")
    for words, told in ((["--limit", "90s"], "1:30"), (["--limit", "2m"], "2:00"),
                        (["--level", "intermediate"], "3:00, intermediate"), ([], "4:00, beginner")):
        done = program.run("drill", "--no-history", *words)
        yield f"the limit of {words}", "" if told in done.stdout.decode() else f"{done}"


# -------------------------------------------------------------------- history

def place_checks(program, folder):
    home = folder / "home"
    environment = program.environment(HOME=str(home))
    program.run("drill", environment=environment)
    yield "the history lies below HOME", (
        "" if (home / ".local/share/nearhand/history.jsonl").exists() else "it does not")
    data = folder / "data"
    program.run("drill", environment=program.environment(HOME=str(home), XDG_DATA_HOME=str(data)))
    yield "or in XDG_DATA_HOME", "" if (data / "nearhand/history.jsonl").exists() else "it does not"
    for path in ("/proc/nothing/here.jsonl", str(folder)):
        done = program.run("drill", "--history", path)
        yield f"a history that cannot be written is told at once: {path[:5]}", (
            "" if (done.returncode, done.stdout) == (STATUS_USAGE, b"")
            and b"could not be written" in done.stderr else f"{done}")


def one_round(program, history, seed, environment=None):
    player = Player(program, program.lists / "skerry.json", "--seed", str(seed), "--rounds", "1",
                    "--clock", "fixed:1", "--history", str(history), environment=environment)
    return player.play(), player.child.stderr.read()


def full_disk_checks(program):
    status, errors = one_round(program, "/dev/full", 3)
    yield "a full disk is told", (
        "" if status == STATUS_OUTPUT and b"could not be written" in errors else f"{status} {errors}")


def torn_checks(program, folder):
    history = folder / "torn.jsonl"
    one_round(program, history, 1)
    whole = history.read_bytes()
    history.write_bytes(whole + whole[:100])
    one_round(program, history, 2)
    lines = history.read_bytes().split(b"\n")
    yield "a torn line is left as it is", compare(lines[1], whole[:100])
    yield "and the next round has a line of its own", (
        "" if len(lines) == 4 and json.loads(lines[2])["seed"] == "2" else f"{len(lines)} lines")
    yield "the line before is not touched", compare(lines[0] + b"\n", whole)


def killed_within_checks(program, folder):
    """Killed in the middle of the write itself, at any byte of it."""
    history = folder / "within.jsonl"
    one_round(program, history, 1)
    whole = history.read_bytes()
    for torn in (1, 100, 700):
        history.write_bytes(whole)
        faulty = program.environment(LD_PRELOAD=str(program.faults), FAULTS_TEAR=str(torn))
        status, _ = one_round(program, history, 1, faulty)
        left = history.read_bytes()[len(whole):]
        yield f"killed after {torn} bytes", compare(
            (status, history.read_bytes()[:len(whole)], len(left), left[:20]),
            (-signal.SIGKILL, whole, torn, whole[:min(torn, 20)]))
        one_round(program, history, 2)
        lines = history.read_bytes().split(b"\n")
        yield "what was there stays, and the next round is whole", compare(
            (lines[0] + b"\n", lines[1], json.loads(lines[2])["seed"], lines[3:]),
            (whole, left, "2", [b""]))
        done = program.run("progress", "--json", "--history", str(history))
        *damaged, summed = program.objects(done.stdout)
        yield "progress passes over the torn line alone", compare(
            ([each["line"] for each in damaged], summed["rounds"], summed["damaged"]), ([2], 2, 1))


def crowd_checks(program, folder):
    history = folder / "crowd.jsonl"
    with concurrent.futures.ThreadPoolExecutor(4) as pool:
        ends = list(pool.map(lambda seed: one_round(program, history, seed)[0], range(6)))
    seeds = sorted(int(one["seed"]) for one in rounds_of(program, history))
    yield "four drills at once keep every round", compare((ends, seeds), ([0] * 6, list(range(6))))


def play_on(player):
    try:
        player.play()
    except BrokenPipeError:  # it was killed before it was answered
        pass


def killed_checks(program, folder):
    history = folder / "killed.jsonl"
    for seed in range(5):
        player = Player(program, program.lists / "skerry.json", "--seed", str(seed), "--rounds",
                        "50", "--clock", "fixed:1", "--history", str(history))
        with concurrent.futures.ThreadPoolExecutor(1) as pool:
            played = pool.submit(play_on, player)
            time.sleep(random.uniform(0.05, 0.4))
            player.child.kill()
            played.result()
    one_round(program, history, 99)
    seeds = [one["seed"] for one in rounds_of(program, history)]
    yield "drills that are killed leave whole lines", compare(seeds[-1], "99")


def checks(program):
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        yield from round_checks(program, program.lists / "skerry.json", 6, folder)
        for name in ("club", "traditional"):
            path = program.root / f"patterns/{name}.json"
            yield from round_checks(program, path, 1, folder)
        yield from ended_checks(program, folder)
        yield from stopped_checks(program, folder)
        yield from usage_checks(program)
        yield from place_checks(program, folder)
        yield from full_disk_checks(program)
        yield from torn_checks(program, folder)
        yield from crowd_checks(program, folder)
        yield from killed_checks(program, folder)
        if program.faults:
            yield from killed_within_checks(program, folder)
