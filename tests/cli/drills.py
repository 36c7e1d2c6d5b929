"""Rounds are played as they are told, every tile of the set stays in one place,
and what was played is in the history, whole, whatever happens to the program."""
import concurrent.futures
import json
import os
import pathlib
import pty
import random
import re
import select
import signal
import subprocess
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
            return random.choice(["yes", "yes", "yes", "no"])
        if asked.startswith("Discard"):
            hand = re.findall("Your hand: (.*?)(?:;|\n)", self.shown + "\n")[-1]
            return self.discard(hand)
        if asked.startswith("Claim"):
            offered = asked.split(":")[1].replace(" or no", "").replace(" ", "").split(",")
            return random.choice(["no", "", *(text for text in offered if text)])
        most = re.search(r"0 to (\d)", asked)
        return str(random.randint(0, int(most.group(1)))) if most else self.aim

    def discard(self, hand):
        """Any tile but a joker, or a win where the question came back to it."""
        kinds = [kind for kind in answers.tiles(hand).elements() if kind != "J"]
        return random.choice(kinds or ["J"])

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


class Asked:
    """What pass answers for the hand of a round as it stood before a pass or a vote, with
    the tiles that were passed before gone, except those that must have come back."""

    def __init__(self, program, path, played):
        self.program, self.path, self.played = program, path, played
        self.hand, self.given = answers.tiles(played["dealt"]), answers.tiles("")

    def known(self):
        gone = self.given & (answers.tile_set(self.path) - self.hand)
        winds = ["--seat", self.played["seat"]]
        if self.played["prevailing"]:
            winds += ["--prevailing", self.played["prevailing"]]
        return ["--list", str(self.path), "--seen", " ".join(gone.elements()), *winds]

    def weighed(self, count, *words):
        answer, = self.program.objects(self.program.run(
            "pass", "--json", "--top", "1", "--count", str(count), *self.known(), *words,
            " ".join(self.hand.elements())).stdout)
        return answer

    def best(self, most):
        """The least average of passes of up to so many tiles."""
        return min(self.weighed(count)["expected"] for count in range(most + 1))

    def away(self, passed, pattern):
        """Tiles away of a pattern once tiles are passed; None where it is dead."""
        rest = self.hand - passed
        known = self.known()
        known[3] += " " + " ".join(passed.elements())
        ranked, = self.program.objects(self.program.run(
            "rank", "--json", *known, " ".join(rest.elements())).stdout)
        return {row["pattern"]: row["away"] for row in ranked["targets"]}.get(pattern)

    def play(self, step):
        mine = answers.tiles(step["mine"])
        self.given += mine
        self.hand = self.hand - mine + answers.tiles(step["got"])


def least_average(asked, step):
    """The best average that a step could have had."""
    mine = answers.tiles(step["mine"])
    if step["step"] != "courtesy":
        return asked.weighed(mine.total())["expected"]
    return asked.best(asked.played["courtesy"]["theirs"])


def why_problem(asked, step):
    """The pattern that a pass set back is as far as rank says after either pass, and the
    tiles that it uses are of the pass and not of the best one."""
    why, mine, best = step.get("why"), answers.tiles(step["mine"]), answers.tiles(step["best"])
    if (why is None) != (step["cost"] == 0):
        return f"the reason for a cost of {step['cost']}: {why}"
    if why is None or "pattern" not in why:
        return ""
    away = asked.away(mine, why["pattern"]), asked.away(best, why["pattern"])
    tiles = answers.tiles(why["tiles"])
    if away != (why["away"], why["best_away"]) or tiles - (mine - best) or not tiles:
        return f"{why}, but rank says {away} after {step['mine']} and {step['best']}"
    return ""


def cost_problem(program, path, played):
    """Each pass costs what pass --mine says of it."""
    asked = Asked(program, path, played)
    for step in played["passes"]:
        count = answers.tiles(step["mine"]).total()
        if step["cost"] is not None:
            mine = asked.weighed(count, "--mine", step["mine"])["mine"]
            best = least_average(asked, step)
            if any(abs(a - b) > 1e-12 for a, b in (
                    (step["cost"], mine["expected"] - best), (step["expected"], mine["expected"]),
                    (step["best_expected"], best))):
                return f"{step}, but pass says {mine} and {best}"
            if problem := why_problem(asked, step):
                return problem
        asked.play(step)
    return ""


def vote_problem(program, path, played):
    """What going on and stopping come to, by pass --round before that vote."""
    asked = Asked(program, path, played)
    votes = {vote["charleston"]: vote for vote in played["votes"]}
    turns = [step["charleston"] for step in played["passes"]]
    for at, turn in enumerate([*turns, 0]):
        vote = votes.pop((turn or max(turns, default=1) + 1), None)
        if vote is not None:
            answer, = program.objects(program.run(
                "pass", "--json", "--top", "0", "--round", str(vote["charleston"]), *asked.known(),
                " ".join(asked.hand.elements())).stdout)
            agree = answer["agree"]
            given = [vote["expected"], vote["stopping"], *vote["courtesy"]]
            wanted = [agree["expected"], agree["stop"],
                      *(row["expected"] for row in agree["stopping"][1:])]
            if len(given) != len(wanted) or any(abs(a - b) > 1e-12 for a, b in zip(given, wanted)):
                return f"{vote}, but pass says {agree}"
        if at < len(turns):
            asked.play(played["passes"][at])
    return f"no vote before {votes}" if votes else ""


def target_problem(program, path, played):
    """The patterns named, and the closest, as rank has them for the final hand."""
    asked = Asked(program, path, played)
    for step in played["passes"]:
        asked.play(step)
    ranked, = program.objects(program.run(
        "rank", "--json", *asked.known(), " ".join(asked.hand.elements())).stdout)
    rows = {row["pattern"]: row for row in ranked["targets"]}
    for aim in [*played["aims"], played["nearest"]]:
        row = rows[aim["pattern"]]
        if any(aim[key] != row[key] for key in ("away", "target", "keep", "need", "spare")):
            return f"{aim}, but rank says {row}"
        plain = aim["shown"].translate(str.maketrans("|", " ", "()<>"))
        if answers.tiles(plain) != answers.tiles(aim["target"]):
            return f"{aim['shown']} is not {aim['target']}"
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
        yield f"{name}: votes are weighed as pass does", vote_problem(program, path, one)
        yield f"{name}: targets are those of rank", target_problem(program, path, one)
        dealt, = program.objects(program.run("deal", "--list", str(path), "--seed", seed, "--first",
                                             str(number), "--seat", seat, "--json").stdout)
        yield f"{name}: the deal", compare(
            (one["dealt"], one["prevailing"]), (dealt["hand"], dealt["prevailing"]))
        ranked, = program.objects(program.run(
            "rank", "--list", str(path), "--json", one["table"][seat]).stdout)
        nearest = ranked["targets"][0]["away"]
        yield f"{name}: the nearest pattern", (
            "" if one["nearest"]["away"] >= nearest else f"{one['nearest']}, rank {nearest}")


def winds_checks(program, folder):
    """How many patterns the winds rule out: those that need more of a wind than there is."""
    path = folder / "winds.json"
    data = json.loads((program.lists / "skerry.json").read_text())
    data["tiles"]["jokers"] = 0
    data["patterns"] = [each for each in data["patterns"] if each["name"] != "Quintet"]
    data["patterns"].append({"name": "Two Winds", "groups": [
        {"kong": "prevailing"}, {"pair": "seat"}, {"pung": "any", "times": 2}, {"pair": "any"}]})
    path.write_text(json.dumps(data))
    for seat in WINDS:
        history = folder / f"winds-{seat}.jsonl"
        player = Player(program, path, "--seed", "7", "--seat", seat, "--rounds", "1", "--clock",
                        "fixed:5", "--history", str(history))
        player.play()
        played, = rounds_of(program, history)
        ranked = program.run("rank", "--list", str(path), "--prevailing", played["prevailing"],
                             "--seat", seat, played["table"][seat]).stdout.decode()
        said = re.findall(r"^\d+ patterns? (?:is|are) ruled out by these winds", ranked, re.M)
        yield f"as many are ruled out as rank says, {played['prevailing']}, {seat}", compare(
            (re.findall(r"^(\d+ patterns? .*ruled out by these winds)\.$", player.shown, re.M),
             bool(said)), (said, played["prevailing"] == seat))


def help_checks(program):
    """Its help names the tiles that the list has."""
    for name, flowers, jokers in (("traditional", False, False), ("jokers", True, True)):
        done = program.run("drill", "--list", name, "--rounds", "1", "--no-history",
                           stdin=b"?\nquit\n")
        text = " ".join(done.stdout.decode().split())
        yield f"the help for {name}", compare(
            ("flowers F" in text, "Jokers are never passed" in text, "R G Wh" in text),
            (flowers, jokers, True))


# --------------------------------------------------------- after the passes

def known_words(path, played, known):
    return ["--list", str(path), "--json", "--any-size", "--exposed", " ".join(known["exposed"]),
            "--seen", known["seen"], "--seat", played["seat"],
            "--prevailing", played["prevailing"], known["hand"]]


def discard_problem(program, path, played, step):
    """The cost of a discard is what discard says of the hand as it was."""
    if step["mine"] == "J":
        return "" if step["cost"] is None else f"{step}"
    answer, = program.objects(program.run(
        "discard", "--order", "expected", "--top", "24", *known_words(path, played, step)).stdout)
    mine, = (choice for choice in answer["choices"] if choice["discard"] == step["mine"])
    if answer["complete"]:
        return ""
    if mine["expected"] is None:
        return "" if step["cost"] is None else f"{step}"
    best = answer["choices"][0]
    wanted = (mine["expected"], best["expected"], mine["expected"] - best["expected"])
    given = (step["expected"], step["best_expected"], step["cost"])
    if any(abs(a - b) > 1e-12 for a, b in zip(given, wanted)):
        return f"{step}, but discard says {mine} and {best}"
    if step["best"] not in (step["mine"], best["discard"]):
        return f"{step}, but the best is {best}"
    return ""


def claim_problem(program, path, played, step):
    """The chances of a claim are those of the task claim."""
    answer, = program.objects(program.run(
        "claim", *known_words(path, played, step)).stdout)
    rows = {row["set"] or "win": row["chance"] for row in answer["claims"]
            if row["tile"] == step["tile"]}
    if step["chance"] is not None:
        wanted = answer["chance"] if step["mine"] == "no" else rows.get(step["mine"])
        if wanted is None or abs(wanted - step["chance"]) > 1e-12:
            return f"{step}, but claim says {answer}"
    elif step["mine"] in rows:
        return f"{step}, but claim says {answer}"
    best = answer["chance"] if step["best"] == "no" else rows.get(step["best"])
    if best is None or abs(best - step["best_chance"]) > 1e-12:
        return f"{step}, but the best is {answer}"
    return "" if step["best_chance"] >= answer["chance"] else f"waiting is better: {step}"


def game_problem(program, path, played):
    """Hands follow from one decision to the next: no tile is in two places."""
    whole = answers.tile_set(path)
    game = played["game"]
    for step in [*game["discards"], *game["claims"]]:
        gone = answers.tiles(step["hand"]) + answers.tiles(step["seen"])
        for text in step["exposed"]:
            gone += answers.tiles(text.rstrip("J")) + answers.tiles("J" * text.count("J"))
        if gone - whole:
            return f"more tiles than there are: {step}"
    first = answers.tiles(game["discards"][0]["hand"]) if game["discards"] else None
    drawn = first - answers.tiles(played["table"][played["seat"]]) if first else None
    if first and not game["discards"][0]["exposed"] and sum(drawn.values()) > 1:
        return f"the game begins with {first}"
    return ""


def game_checks(program, path, folder):
    history = folder / f"game-{path.stem}.jsonl"
    history.unlink(missing_ok=True)
    seat, seed = random.choice(WINDS), str(random.randrange(10**9))
    words = ["--play", "--seed", seed, "--seat", seat, "--clock", "fixed:5", "--rounds", "1"]
    player = Player(program, path, *words, "--history", str(history))
    status = player.play()
    name = f"{path.stem}, seed {seed}, {seat}, the game"
    yield f"{name} is played", compare((status, len(rounds_of(program, history))), (0, 1))
    played, = rounds_of(program, history)
    yield f"{name}: every tile is in one place", (
        table_problem(path, played) or game_problem(program, path, played))
    yield f"{name}: the hand follows from the passes", hand_problem(played)
    for step in played["game"]["discards"]:
        yield f"{name}: a discard", discard_problem(program, path, played, step)
    for step in played["game"]["claims"]:
        yield f"{name}: a claim", claim_problem(program, path, played, step)
    yield f"{name}: the time is that of the passes", figure_problem(played)
    again = program.run("progress", "--history", str(history), "--round", "last").stdout.decode()
    review = player.shown.encode("latin-1").decode().split("Review of round 1\n")[1]
    yield f"{name}: the review comes again", compare(
        again.split("\n", 2)[2].strip(), review.split("\nSession\n")[0].strip())


# ------------------------------------------------------------- the own set

def lines_of(played, spoiled):
    """What a player types who draws at home what a round dealt. With `spoiled`, lines are
    mistyped and taken back, and tiles come in several lines."""
    def drawn(text):
        tiles = list(answers.tiles(text).elements())
        cut = random.randrange(1, len(tiles)) if spoiled and len(tiles) > 1 else 0
        return [" ".join(part) for part in (tiles[:cut], tiles[cut:]) if part]

    yield from drawn(played["dealt"])
    votes = {vote["charleston"]: all(vote["agree"].values()) for vote in played["votes"]}
    turn = 1
    for step in played["passes"]:
        if step["charleston"] != turn:
            yield from ("yes" if agreed else "no" for number, agreed in votes.items()
                        if number == turn + 1)
            turn = step["charleston"]
        if step["step"] == "courtesy":
            yield str(answers.tiles(step["mine"]).total())
            if not step["mine"]:
                continue
        if spoiled:
            yield from ("", step["mine"], "undo", "")
        yield step["mine"]
        if spoiled:
            yield from ("undo", step["mine"])
        yield from drawn(step["got"])
    yield from ("no" for number, agreed in votes.items() if number == turn + 1 and not agreed)
    if "courtesy" in played and played["passes"][-1]["step"] != "courtesy":
        yield "0"
    yield ", ".join(aim["pattern"] for aim in played["aims"])


def own_problem(program, path, played, spoiled, folder):
    """The same round with a set of the player's own is judged alike."""
    history = folder / "own.jsonl"
    history.unlink(missing_ok=True)
    typed = "".join(f"{line}\n" for line in lines_of(played, spoiled))
    done = program.run(
        "drill", "--own", "--rounds", "1", "--list", str(path), "--seat", played["seat"],
        "--prevailing", played["prevailing"], "--clock", "fixed:5", "--history", str(history),
        stdin=typed.encode())
    if len(rounds_of(program, history)) != 1:
        return f"{typed} {done.stdout.decode()[-1500:]}"
    own, = rounds_of(program, history)
    keys = ("step", "charleston", "mine", "best", "got", "expected", "cost")
    passes, wanted = ([{key: step.get(key) for key in keys} for step in one["passes"]
                       if step["step"] != "courtesy"] for one in (own, played))
    return compare((passes, own["aims"], own["dealt"], own["table"][own["seat"]], own["own_set"]),
                   (wanted, played["aims"], played["dealt"],
                    played["table"][played["seat"]], True))


def own_checks(program, folder):
    for name, path in (("skerry", program.lists / "skerry.json"),
                       ("club", program.root / "patterns/club.json")):
        history = folder / f"dealt-{name}.jsonl"
        player = Player(program, path, "--seed", str(random.randrange(10**9)), "--clock", "fixed:5",
                        "--seat", random.choice(WINDS), "--rounds", "2", "--history", str(history))
        player.play()
        for played, spoiled in zip(rounds_of(program, history), (False, True)):
            yield f"{name}: an own set, {'mistyped' if spoiled else 'typed at once'}", own_problem(
                program, path, played, spoiled, folder)
    for name, typed, told in (
            ("five of a kind", "33333B\nquit\n", "More than 4 of 3B"),
            ("too many", "1234567B 1234567C 1D\n", "You draw 14 tiles; that makes 15."),
            ("five with those drawn before", "3333B 1234567C 12D R\n123C\n3B 45D\n",
             "That makes 5 of 3B in your hand, and the set has 4"),
            ("one that was passed", "3333B 1234567C 12D R\n33B 1C\n3B 4D 5D\n",
             "With those that you passed that makes 5 of 3B"),
            ("nothing to undo", "undo\n", "There is nothing to undo.")):
        done = program.run("drill", "--own", "--no-history", stdin=typed.encode())
        yield f"own set: {name}", "" if told in done.stdout.decode() else done.stdout.decode()


# ---------------------------------------------------------- deals that train

def training_checks(program):
    """Each deal has a pattern of the kind that is asked for, none closer, or within so many
    tiles; and those left out do not."""
    for words, fits in ((["--section", "Tides"], lambda row: row["section"] == "Tides"),
                        (["--points-from", "20"], lambda row: (row["points"] or 0) >= 20),
                        (["--aim", "neap tide", "--within", "6"],
                         lambda row: row["pattern"] == "Neap Tide")):
        done = program.run("drill", "--seed", "3", "--rounds", "3", "--no-history", *words,
                           stdin=b"skip\nyes\n" * 3)
        hands = re.findall("Your hand: (.*)", done.stdout.decode())
        dealt = program.objects(program.run("deal", "--seed", "3", "--hands", "400",
                                            "--json").stdout)
        wanted = []
        for deal in dealt:
            ranked, = program.objects(program.run(
                "rank", "--json", "--prevailing", deal["prevailing"], "--seat", deal["seat"],
                deal["hand"]).stdout)
            rows = ranked["targets"]
            closest = min(row["away"] for row in rows if fits(row))
            if closest <= 6 if "--within" in words else closest == rows[0]["away"]:
                wanted.append(deal["hand"])
            if len(wanted) == 3:
                break
        yield f"drill {' '.join(words)}", compare(hands[:3], wanted)
    done = program.run("drill", "--seed", "3", "--no-history", "--aim", "neap tide", "--within", "0")
    yield "no deal trains the pattern", (
        "" if done.returncode == STATUS_USAGE
        and b"none of the deals 1 to 200000 of this seed will do" in done.stderr else f"{done}")


# -------------------------------------------------------------------- answers

def continued_checks(program):
    """After a stop and fg the question comes back."""
    master, slave = pty.openpty()
    child = subprocess.Popen([program.path, "drill", "--seed", "1", "--no-history"], stdin=slave,
                             stdout=slave, stderr=slave, env=program.environment())
    os.close(slave)
    shown, end = "", time.monotonic() + PATIENCE
    stopped = False
    while shown.count("Pass 3 to the right") < 2 and time.monotonic() < end:
        if select.select([master], [], [], 0.1)[0]:
            shown += os.read(master, 65536).decode()
        if not stopped and shown.endswith(" > "):
            child.send_signal(signal.SIGSTOP)
            child.send_signal(signal.SIGCONT)
            stopped = True
    os.write(master, b"quit\n")
    status = child.wait(PATIENCE)
    os.close(master)
    yield "the question comes back after a stop", compare(
        (shown.count("Pass 3 to the right"), status), (2, STATUS_ANSWERED))


def ended_checks(program, folder):
    for name, typed in (("no input", b""), ("quit", b"quit\n"), ("QUIT", b" QUIT \n"),
                        ("a line that does not end", b"9B"), ("zero bytes", b"\0\0\n")):
        history = folder / "ended.jsonl"
        done = program.run("drill", "--seed", "1", "--history", str(history), stdin=typed)
        yield f"{name} ends the session", (
            "" if done.returncode == STATUS_ANSWERED and b"No round" in done.stdout
            and history.read_bytes() == b"" else f"{done}")
    done = program.run("drill", "--seed", "1", "--rounds", "3", "--no-history",
                       stdin=b"skip\nyes\nSkip\nwhat\nY\nskip\nyes\n")
    yield "every round can be skipped", compare(
        (done.returncode, done.stdout.count(b"Round ")), (STATUS_ANSWERED, 3))
    done = program.run("drill", "--seed", "1", "--rounds", "2", "--no-history",
                       stdin=b"skip\nno\nskip\nquit\n")
    yield "skipping must be confirmed", compare(
        (done.returncode, done.stdout.count(b"Round "), done.stdout.count(b"Pass 3")),
        (STATUS_ANSWERED, 1, 2))
    done = program.run("drill", "--seed", "1", "--no-history", stdin=b"9" * 5000 + b"\nquit\n")
    yield "a line that is too long", "" if b"too long" in done.stdout else f"{done}"


def stopped_checks(program, folder):
    """Ctrl-C while a question is open: the session is summed up, and what was kept stays."""
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
                        (["--history", "x", "--no-history"], "contradict"),
                        (["--own", "--seed", "1"], "--own deals nothing"),
                        (["--own", "--section", "Tides"], "--own deals nothing"),
                        (["--prevailing", "E"], "--prevailing is for --own"),
                        (["--within", "2"], "--within needs"),
                        (["--aim", "nothing"], "no pattern is called 'nothing'"),
                        (["--section", "Tides", "--aim", "Boathouse"], "no pattern of the list"), (["9B"], "'9B'")):
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
        yield f"a history that cannot be written is reported at once: {path[:5]}", (
            "" if (done.returncode, done.stdout) == (STATUS_USAGE, b"")
            and b"could not be written" in done.stderr else f"{done}")


def one_round(program, history, seed, environment=None):
    player = Player(program, program.lists / "skerry.json", "--seed", str(seed), "--rounds", "1",
                    "--clock", "fixed:1", "--history", str(history), environment=environment)
    return player.play(), player.child.stderr.read()


def full_disk_checks(program):
    status, errors = one_round(program, "/dev/full", 3)
    yield "a full disk is reported", (
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
        for _ in range(3):
            yield from game_checks(program, program.lists / "closed.json", folder)
        for path in (program.lists / "kongs.json", program.root / "patterns/club.json"):
            yield from game_checks(program, path, folder)
        yield from winds_checks(program, folder)
        yield from help_checks(program)
        yield from ended_checks(program, folder)
        yield from own_checks(program, folder)
        yield from training_checks(program)
        yield from continued_checks(program)
        yield from stopped_checks(program, folder)
        yield from usage_checks(program)
        yield from place_checks(program, folder)
        yield from full_disk_checks(program)
        yield from torn_checks(program, folder)
        yield from crowd_checks(program, folder)
        yield from killed_checks(program, folder)
        if program.faults:
            yield from killed_within_checks(program, folder)
