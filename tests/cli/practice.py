"""Sums of random histories are those that Python's statistics gives; a history is
only ever read, whatever its size and whatever kind of file it is."""
import json
import os
import pathlib
import random
import resource
import statistics
import tempfile

import screens
from deals import compare
from faulty import with_faults

STATUS_ANSWERED, STATUS_UNREAD, STATUS_USAGE, STATUS_OUTPUT = 0, 1, 2, 3
LINE_MOST = 256 * 1024  # bytes of a line that is read
MEMORY_MOST = 44 << 20  # bytes, for a history however long


def random_history(sessions):
    """Rounds, those of some sessions mixed as two drills at once mix them."""
    lists = [screens.random_text(random.choice([20, 400])) for _ in range(2)] + ["<&\">]]>\x1b\x01"]
    rounds = []
    for number in range(sessions):
        level, limit = random.choice([("beginner", 240), ("advanced", 120), (None, 77)])
        of = {"format": 1, "time": f"2026-01-{number % 28 + 1:02}T00:00:00Z", "limit": limit,
              "session": str(number), "list": random.choice(lists), "level": level,
              "clock": random.choice(["real", "fixed"])}
        rounds += [{**of, "round": turn, "seconds": random.choice([limit, random.uniform(0, 400)]),
                    "passes": [{"cost": random.choice([None, 0, random.random()])}
                               for _ in range(random.randrange(5))]}
                   for turn in range(random.randint(1, 4))]
    if random.random() < 0.5:
        random.shuffle(rounds)
    return rounds


def sums(rounds, key):
    """The sums of the rounds that share a key, in the order of the first."""
    together = {}
    for one in rounds:
        together.setdefault(key(one), []).append(one)
    for some in together.values():
        costs = [step["cost"] for one in some for step in one["passes"] if step["cost"] is not None]
        yield {"day": some[0]["time"][:10], "list": some[0]["list"],
               "level": some[0]["level"], "limit": some[0]["limit"],
               "sessions": len({one["session"] for one in some}), "rounds": len(some),
               "seconds": statistics.median(one["seconds"] for one in some),
               "within": sum(one["seconds"] <= one["limit"] for one in some) / len(some),
               "cost": statistics.median(costs) if costs else None}


def history_checks(program, folder, number):
    rounds = random_history(random.choice([1, 2, 7, 90]))
    path = folder / f"{number}.jsonl"
    path.write_text("".join(json.dumps(one, ensure_ascii=random.random() < 0.5) + "\n"
                            for one in rounds))
    before = path.read_bytes()
    done = program.run("progress", "--history", str(path), "--json")
    answer, = program.objects(done.stdout)
    yield f"history {number}: by list and level", compare(
        answer["groups"], list(sums(rounds, lambda one: (one["list"], one["level"]))))
    yield f"history {number}: by session", compare(
        [{key: value for key, value in one.items() if key != "session"}
         for one in answer["sessions"]], list(sums(rounds, lambda one: one["session"])))
    yield f"history {number}: rounds", compare(
        (answer["rounds"], answer["fixed"], done.returncode),
        (len(rounds), sum(one["clock"] == "fixed" for one in rounds), STATUS_ANSWERED))
    text = program.run("progress", "--history", str(path), "--sessions", "100").stdout.decode()
    yield f"history {number}: the text fits", (
        "" if screens.widest(text) <= 80 and "\x1b" not in text else text)
    yield f"history {number}: it is only read", compare(path.read_bytes(), before)


def odd_line_checks(program, folder):
    good = good_line(program)
    odd = [b"\0", b"\xff\xfe", b"{}", good + b"x", good[:-1], good.replace(b"2026-01-05T", b"x"),
           good.replace(b'"seconds":301.5', b'"seconds":-1'), b"[" * 5000, b"null",
           good.replace(b'"cost":1.25', b'"cost":"1"'), good.replace(b'"limit":240', b'"limit":0'),
           good.replace(b'"limit":240', b'"limit":1e300')]
    path = folder / "odd.jsonl"
    path.write_bytes(good + b"\n\n" + b"\n".join(odd) + b"\n" + good)
    done = program.run("progress", "--history", str(path), "--json")
    answers = program.objects(done.stdout)
    yield "odd lines are reported with their numbers", compare(
        [one["line"] for one in answers[:-1]], list(range(3, 3 + len(odd))))
    yield "and the others count", compare(
        (answers[-1]["rounds"], answers[-1]["damaged"], done.returncode),
        (2, len(odd), STATUS_UNREAD))


def good_line(program):
    return (program.root / "tests/cli/histories/practice.jsonl").read_bytes().splitlines()[0]


# ------------------------------------------------------------------- sizes

def large_checks(program, folder):
    """More rounds and costs than are read at a time."""
    path = folder / "large.jsonl"
    one = json.loads(good_line(program))
    rounds = [{**one, "seconds": random.uniform(0, 400),
               "passes": [{"cost": random.choice([0, random.random()])} for _ in range(2)]}
              for _ in range(9001)]
    path.write_text("".join(json.dumps(each) + "\n" for each in rounds))
    answer, = program.objects(program.run("progress", "--json", "--history", str(path)).stdout)
    for kind in ("groups", "sessions"):
        yield f"medians of many rounds, {kind}", compare(
            [{key: value for key, value in each.items() if key != "session"}
             for each in answer[kind]], list(sums(rounds, lambda each: each["list"])))


# ------------------------------------------------------------------ memory

def limited():
    """Before a program begins: it gets no more memory than this."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_MOST, MEMORY_MOST))


def many_rounds(program):
    """More than are sorted in memory: most of them of one list, the others of a list and a
    session each."""
    one = json.loads(good_line(program))
    lists = ["Most of them"] * 30_000 + [f"{number} " + "of the lists with long names " * 15
                                         for number in range(40_000)]
    random.shuffle(lists)
    return [{**one, "list": name, "session": f"{number // 7} of {len(lists)}",
             "seconds": random.choice([7, 240, random.uniform(0, 400)]),
             "passes": [{"cost": random.choice([0, random.random()])} for _ in range(5)]}
            for number, name in enumerate(lists)]


def without_memory_checks(program, folder):
    """The sums are the same, in memory that does not hold them. Where the work grew with
    the square of the rounds, the program would not end in time."""
    path, few = folder / "many.jsonl", folder / "few.jsonl"
    rounds = many_rounds(program)
    path.write_text("".join(json.dumps(one) + "\n" for one in rounds))
    few.write_bytes(good_line(program))
    # What watches a program may need more memory for itself.
    more = {"preexec_fn": limited} if program.run(
        "progress", "--history", str(few), preexec_fn=limited).returncode == 0 else {}
    done = program.run("progress", "--json", "--history", str(path), **more)
    yield "many rounds in little memory", compare(
        (done.returncode, done.stderr), (STATUS_ANSWERED, b""))
    answer = json.loads(done.stdout)
    for kind, key in (("groups", lambda one: one["list"]),
                      ("sessions", lambda one: (one["session"], one["list"]))):
        given = [{key: value for key, value in each.items() if key != "session"}
                 for each in answer[kind]]
        wanted = list(sums(rounds, key))
        yield f"as many {kind}", compare(len(given), len(wanted))
        wrong = [pair for pair in zip(given, wanted) if pair[0] != pair[1]]
        yield f"the sums of {kind}", f"{wrong[0]}" if wrong else ""
    yield from spilling_checks(program, path, done.stdout)


def spilling_checks(program, path, wanted):
    """Files that hold what memory does not: calls that are short, a full disk, no folder."""
    words = ["progress", "--json", "--history", str(path)]
    with tempfile.TemporaryDirectory() as place:
        for faults in ({"short": 50_000, "interrupt": 5}, {"full": 0}, {"full": 10_000_000}):
            if not program.faults:
                break
            environment = {**with_faults(program, **faults), "TMPDIR": place}
            done = program.run(*words, environment=environment)
            full = "full" in faults
            yield f"what does not fit in memory, {faults}", compare(
                (done.returncode, done.stdout == (b"" if full else wanted), done.stderr != b""),
                (STATUS_OUTPUT if full else STATUS_ANSWERED, True, full))
            if full:
                yield f"its message, {faults}", compare(
                    done.stderr.decode(),
                    f"nearhand progress: a temporary file in {place} could not be written: "
                    "No space left on device; TMPDIR names another folder\n")
        yield "nothing is left of it", compare(list(pathlib.Path(place).iterdir()), [])
    done = program.run(*words, environment=program.environment(TMPDIR=place))
    yield "no folder for it", compare(
        (done.returncode, done.stdout, b"TMPDIR names another folder" in done.stderr),
        (STATUS_OUTPUT, b"", True))
    path.unlink()


def peak(program, path):
    """The most memory that progress takes for a history, in KiB, and its answers."""
    with program.start("progress", "--json", "--history", str(path)) as child:
        output = child.stdout.read()
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    return used.ru_maxrss, [json.loads(line) for line in output.splitlines()]


def long_line_checks(program, folder):
    good = good_line(program)
    path = folder / "long.jsonl"
    path.write_bytes(good + b"\n")
    before, _ = peak(program, path)
    with path.open("r+b") as file:
        file.seek(300_000_000)  # zero bytes that take no room on a disk
        file.write(b"\n" + good + b"\n")
    after, (long, summed) = peak(program, path)
    yield "a line of 300 MB is skipped", compare(
        (long["line"], long["error"], summed["rounds"], summed["damaged"]),
        (2, "the line is too long to be a round", 2, 1))
    yield "in little memory", "" if after < before + 4096 else f"{before} KiB, then {after} KiB"
    for length in (LINE_MOST - 1, LINE_MOST, LINE_MOST + 1, 2 * LINE_MOST):
        path.write_bytes(good[:-1] + b" " * (length - len(good)) + b"}\n" + good)
        answers = program.objects(program.run("progress", "--json", "--history", str(path)).stdout)
        yield f"a line of {length} bytes", compare(
            (len(answers), answers[-1]["rounds"]), (1, 2) if length <= LINE_MOST else (2, 1))


def kind_checks(program, folder):
    """What is no plain file is refused at once, by those who read and who write."""
    pipe = folder / "pipe"
    os.mkfifo(pipe)
    for task in ("progress", "drill"):
        done = program.run(task, "--history", str(pipe))
        yield f"{task} does not wait for a pipe", (
            "" if (done.returncode, done.stdout) == (STATUS_USAGE, b"")
            and b"is a pipe: a history is a plain file" in done.stderr else f"{done}")
    done = program.run("progress", "--history", str(folder))
    yield "nor reads a folder", (
        "" if done.returncode == STATUS_USAGE and b"is a folder" in done.stderr else f"{done}")


def checks(program):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for number in range(12):
            yield from history_checks(program, folder, number)
        yield from odd_line_checks(program, folder)
        yield from large_checks(program, folder)
        yield from without_memory_checks(program, folder)
        yield from long_line_checks(program, folder)
        yield from kind_checks(program, folder)
