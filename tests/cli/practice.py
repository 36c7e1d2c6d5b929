"""Sums of random histories are those that Python's statistics gives; a history is
only ever read, whatever its size and whatever kind of file it is."""
import json
import os
import pathlib
import random
import statistics
import tempfile

import screens
from deals import compare

STATUS_ANSWERED, STATUS_UNREAD, STATUS_USAGE = 0, 1, 2
LINE_MOST = 256 * 1024  # bytes of a line that is read


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
    """More rounds, costs, sessions and lists than any table starts with. Where the
    work grew with their square, the program would not end in time."""
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
    count = 150_000
    with path.open("w") as file:
        for number in range(count):
            one["session"], one["list"] = f"{number % 70_000}", f"List {number}"
            file.write(json.dumps(one) + "\n")
    done = program.run("progress", "--sessions", "1", "--history", str(path))
    shown = done.stdout.decode().splitlines()
    yield "many lists", compare(
        (done.returncode, shown[0].split(",")[0], sum(line.startswith("List ") for line in shown)),
        (STATUS_ANSWERED, f"{count} rounds in {count} sessions", count + 1))
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
        yield from long_line_checks(program, folder)
        yield from kind_checks(program, folder)
