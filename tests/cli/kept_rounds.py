"""A round of a drill is in the history once its review is shown, whole and once, whatever
goes wrong: writes that are short or interrupted, a full disk, a program that is killed,
two drills at once (faults.c).

NEARHAND_EVERY=1 in the environment fills the disk and kills the program at each byte of a
round, and kills it before each call on a file; else at a few."""
import concurrent.futures
import json
import os
import pathlib
import signal
import tempfile

from drills import Player
from deals import compare
from faulty import with_faults

STATUS_ANSWERED, STATUS_OUTPUT = 0, 3
LIST = "skerry.json"
CALLS_MOST = 4000
LAST_CALLS = 16  # of a drill: those that keep the round and show its review


def every():
    return os.environ.get("NEARHAND_EVERY", "") not in ("", "0")


class Typist(Player):
    """A player whose answers can be typed again."""

    typed = b""

    def answer(self, question):
        answer = super().answer(question)
        self.typed += f"{answer}\n".encode()
        return answer


class Drill:
    """A round that is played the same each time."""

    def __init__(self, program, seed, folder):
        self.program = program
        self.words = ["--list", LIST, "--seed", str(seed), "--rounds", "1", "--clock", "fixed:1"]
        path = folder / f"first-{seed}.jsonl"
        player = Typist(program, program.lists / LIST, *self.words[2:], "--history", str(path))
        player.play()
        self.typed = player.typed
        self.record = path.read_bytes()
        self.shown = self.play(folder / f"again-{seed}.jsonl").stdout

    def play(self, history, **faults):
        return self.program.run(
            "drill", *self.words, "--history", str(history), stdin=self.typed,
            environment=with_faults(self.program, **faults) if faults else None)

    def acknowledged(self, done):
        """Whether more was shown than up to the last question."""
        review = self.shown[self.shown.rindex(b" > ") + 3:].strip()
        return review[:20] in done.stdout


def undated(lines):
    """Rounds without the time of day, and which program it was."""
    rounds = [json.loads(line) for line in lines.splitlines()]
    for one in rounds:
        del one["time"], one["session"]
    return rounds


def lines_of(history):
    """Rounds, and what is torn."""
    rounds, torn = [], []
    for line in history.read_bytes().split(b"\n") if history.exists() else []:
        try:
            rounds.append(json.loads(line))
        except ValueError:
            torn += [line] if line else []
    return [one["seed"] for one in rounds], torn


def hindered_checks(drill, folder):
    for faults in ({"short": 1}, {"short": 7, "interrupt": 2}, {"interrupt": 2}):
        history = folder / "hindered.jsonl"
        history.write_bytes(drill.record)
        done = drill.play(history, **faults)
        yield f"a drill ends well with {faults}", compare(
            (done.returncode, done.stdout), (STATUS_ANSWERED, drill.shown))
        first, second = undated(history.read_bytes())
        yield "and its round is whole", "" if first == second else f"{first} {second}"


def full_checks(drill, folder):
    size = len(drill.record)
    rooms = range(size) if every() else (0, 1, size // 2, size - 1)

    def fill(room):
        history = folder / f"full-{room}.jsonl"
        history.write_bytes(drill.record)
        done = drill.play(history, full=room)
        return compare(
            (done.returncode, history.read_bytes(), done.stdout, b"No space left" in done.stderr),
            (STATUS_OUTPUT, drill.record, drill.shown, True))

    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for room, problem in zip(rooms, pool.map(fill, rooms)):
            yield f"nothing is left of a round where {room} bytes had room", problem


def torn_checks(drill, other, folder):
    """Killed when so many bytes of the round are written; the next round stands whole
    behind what is left of it."""
    size = len(drill.record)
    sizes = range(1, size) if every() else (1, size // 2, size - 1)

    def tear(written):
        history = folder / f"torn-{written}.jsonl"
        history.write_bytes(drill.record.replace(b'"seed":"1"', b'"seed":"0"'))
        killed = drill.play(history, tear=written)
        after = other.play(history)
        seeds, torn = lines_of(history)
        kept = seeds.count("1")  # all but its end of line is a whole round
        if (killed.returncode, after.returncode) != (-signal.SIGKILL, STATUS_ANSWERED):
            return f"{killed.returncode} {after.returncode}"
        good = ([seed for seed in seeds if seed != "1"] == ["0", "2"] and kept <= 1 and
                len(torn) == 1 - kept and not drill.acknowledged(killed))
        return "" if good else f"{seeds} {torn}"

    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for written, problem in zip(sizes, pool.map(tear, sizes)):
            yield f"killed when {written} bytes of a round were written", problem


def calls_of(killed_before):
    """How many calls a program makes that count: it is killed before any of them."""
    few, many = 0, CALLS_MOST
    while many - few > 1:
        middle = (few + many) // 2
        if killed_before(middle).returncode == -signal.SIGKILL:
            few = middle
        else:
            many = middle
    return few


def killed_checks(drill, other, folder):
    """Killed before each of the last calls in turn, or each of all, while another drill
    plays to its end."""
    calls = calls_of(lambda call: drill.play(folder / "calls.jsonl", kill=call))
    most = calls if every() else LAST_CALLS
    kept = shown = 0
    for call in range(calls - most + 1, calls + 1):
        history = folder / f"killed-{call}.jsonl"
        history.write_bytes(drill.record.replace(b'"seed":"1"', b'"seed":"0"'))
        with concurrent.futures.ThreadPoolExecutor(2) as pool:
            killed = pool.submit(drill.play, history, kill=call)
            ended = pool.submit(other.play, history)
            done, also = killed.result(), ended.result()
        seeds, _ = lines_of(history)
        acknowledged = drill.acknowledged(done)
        kept += seeds.count("1")
        shown += acknowledged
        if (done.returncode, also.returncode, seeds.count("0"), seeds.count("2")) != (
                -signal.SIGKILL, STATUS_ANSWERED, 1, 1) or not (
                    acknowledged <= seeds.count("1") <= 1):
            yield f"killed at call {call}", f"{done.returncode} {also.returncode} {seeds}"
    yield "some of the killed have kept their round, some have not", (
        "" if 0 < kept < most else f"{kept} of {most}")
    yield "some were killed in their review", "" if 0 < shown <= kept else f"{shown} of {kept}"


def checks(program):
    if not program.faults:
        return
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        drill, other = (Drill(program, seed, folder) for seed in (1, 2))
        yield from hindered_checks(drill, folder)
        yield from full_checks(drill, folder)
        yield from torn_checks(drill, other, folder)
        yield from killed_checks(drill, other, folder)
