"""A round of a drill is in the history once its review is shown, whole and once, whatever
goes wrong: writes that are short or interrupted, a full disk, a program that is killed,
two drills at once (faults.c).

NEARHAND_EVERY=1 in the environment fills the disk and kills the program at each byte of a
round, and kills it before each call on a file; else at a few. The hands are small, so that
a drill takes hundredths of a second: a byte is a byte in a round of any list."""
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
LIST = "../../lists/good/exchange.json"
CALLS_MOST = 4000
LAST_CALLS = 16  # of a drill: those that keep the round and show its review
PROCESS = 10000  # the number of each, so that a round has as many bytes in every run
TORN = 100  # bytes of a round that an earlier crash has left


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
        player = Typist(program, program.lists / LIST, *self.words[2:], "--history", str(path),
                        environment=with_faults(program, process=PROCESS))
        player.play()
        self.typed = player.typed
        self.record = path.read_bytes()
        self.shown = self.play(folder / f"again-{seed}.jsonl").stdout

    def play(self, history, **faults):
        return self.program.run(
            "drill", *self.words, "--history", str(history), stdin=self.typed,
            environment=with_faults(self.program, process=PROCESS, **faults))

    def starts(self):
        """Histories that have a round already, of seed 0: one that ends with it, and one that
        ends torn."""
        round_of_before = self.record.replace(b'"seed":"1"', b'"seed":"0"')
        return {"a history": round_of_before, "a torn history": round_of_before + self.record[:TORN]}

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


def counted_problem(program, history):
    """Whether progress counts the rounds and the torn lines that are there."""
    seeds, torn = lines_of(history)
    counts, = program.objects(program.run("progress", "--json", "--history", str(history)).stdout
                              .splitlines()[-1])
    return compare((counts["rounds"], counts["damaged"]), (len(seeds), len(torn)))


def in_two(names, check, cases):
    """What `check` finds of each case, two at a time."""
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        yield from zip(map(names, cases), pool.map(check, cases))


def full_checks(drill, folder):
    for name, start in drill.starts().items():
        size = len(drill.record) + (not start.endswith(b"\n"))
        rooms = range(size) if every() else (0, 1, size // 2, size - 1)

        def fill(room, start=start):
            history = folder / f"full-{room}.jsonl"
            history.write_bytes(start)
            done = drill.play(history, full=room)
            return compare(
                (done.returncode, history.read_bytes(), done.stdout,
                 b"No space left" in done.stderr), (STATUS_OUTPUT, start, drill.shown, True))

        yield from in_two(lambda room, name=name: f"{room} bytes have room behind {name}: none "
                          "is left there", fill, rooms)
        history = folder / "enough.jsonl"
        history.write_bytes(start)
        yield f"a round has room behind {name}", compare(
            (drill.play(history, full=size).returncode, history.stat().st_size),
            (STATUS_ANSWERED, len(start) + size))


def torn_checks(drill, other, folder):
    """Killed when so many bytes of the round are written; the next round stands whole
    behind what is left of it."""
    for name, start in drill.starts().items():
        before = 0 if start.endswith(b"\n") else 1  # an end of line, and a torn line
        size = len(drill.record) + before
        sizes = range(1, size) if every() else (1, size // 2, size - 1)

        def tear(written, start=start, before=before, size=size):
            history = folder / f"torn-{written}.jsonl"
            history.write_bytes(start)
            killed = drill.play(history, tear=written)
            left = history.read_bytes()
            after = other.play(history)
            if (killed.returncode, after.returncode, len(left)) != (
                    -signal.SIGKILL, STATUS_ANSWERED, len(start) + written):
                return f"{killed.returncode} {after.returncode} {len(left)}"
            seeds, torn = lines_of(history)
            kept = written == size - 1  # all but its end of line is a whole round
            wanted = ["0", *(["1"] if kept else []), "2"]
            lines_torn = before + (before < written < size - 1)
            if drill.acknowledged(killed) or (seeds, len(torn)) != (wanted, lines_torn):
                return f"{seeds} {torn}"
            return counted_problem(drill.program, history)

        yield from in_two(lambda written, name=name: f"killed when {written} bytes of a round "
                          f"were written behind {name}", tear, sizes)


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
    for name, start in drill.starts().items():
        history = folder / "killed.jsonl"

        def kill(call, history=history, start=start):
            history.write_bytes(start)
            return drill.play(history, kill=call)

        calls = calls_of(kill)
        most = calls if every() else LAST_CALLS
        kept = shown = 0
        for call in range(calls - most + 1, calls + 1):
            history.write_bytes(start)
            with concurrent.futures.ThreadPoolExecutor(2) as pool:
                killed = pool.submit(drill.play, history, kill=call)
                ended = pool.submit(other.play, history)
                done, also = killed.result(), ended.result()
            seeds, torn = lines_of(history)
            acknowledged = drill.acknowledged(done)
            kept += seeds.count("1")
            shown += acknowledged
            good = ((done.returncode, also.returncode) == (-signal.SIGKILL, STATUS_ANSWERED) and
                    (seeds.count("0"), seeds.count("2")) == (1, 1) and
                    acknowledged <= seeds.count("1") <= 1 and
                    len(torn) == (not start.endswith(b"\n")))
            problem = "" if good else f"{done.returncode} {also.returncode} {seeds} {torn}"
            yield f"killed at call {call} of {calls} behind {name}", (
                problem or counted_problem(drill.program, history))
        yield f"some of those killed behind {name} have kept their round, some have not", (
            "" if 0 < kept < most else f"{kept} of {most}")
        yield f"some were killed in their review behind {name}", (
            "" if 0 < shown <= kept else f"{shown} of {kept}")


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
