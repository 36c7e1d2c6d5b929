"""Sums of random histories are those that Python's statistics gives; a drawing is
well-formed whatever a list is called; a history is only ever read, whatever its
size and whatever kind of file it is."""
import json
import os
import pathlib
import random
import re
import statistics
import subprocess
import tempfile
import xml.etree.ElementTree as xml

import drills
import screens
from deals import compare

STATUS_ANSWERED, STATUS_UNREAD, STATUS_USAGE, STATUS_OUTPUT = 0, 1, 2, 3
LINE_MOST = 256 * 1024  # bytes of a line that is read
SVG = "{http://www.w3.org/2000/svg}"


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
    path, drawing = folder / f"{number}.jsonl", folder / f"{number}.svg"
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
    text = program.run("progress", "--history", str(path), "--sessions", "100", "--svg",
                       str(drawing)).stdout.decode()
    yield f"history {number}: the text fits", (
        "" if screens.widest(text) <= 80 and "\x1b" not in text else text)
    yield from chart_checks(f"history {number}", drawing, rounds)
    yield f"history {number}: it is only read", compare(path.read_bytes(), before)


# ------------------------------------------------------------------- chart

def charted(rounds):
    """The sessions that a chart shows, each a list of rounds: the latest 300 of the
    twelve lists and levels practised last."""
    sessions = {}
    for one in rounds:
        sessions.setdefault((one["session"], one["list"], one["level"]), []).append(one)
    lines, shown = [], []
    for (_, *line), some in reversed(sessions.items()):
        if line not in lines and len(lines) < 12:
            lines.append(line)
        if line in lines and len(shown) < 300:
            shown.insert(0, some)
    return shown


def points(polyline):
    return [tuple(map(float, point.split(","))) for point in polyline.get("points").split()]


def chart_checks(name, path, rounds):
    root = xml.parse(path).getroot()
    shown = charted(rounds)
    costs = [each for each in shown
             if any(step["cost"] is not None for one in each for step in one["passes"])]
    marks = [each for each in root.iter(f"{SVG}g") if each.get("class") == "session"]
    yield f"{name}: a mark for each session in both fields", compare(
        len(marks), len(shown) + len(costs))
    lines = [each for each in root.iter(f"{SVG}g") if each.find(f"{SVG}polyline") is not None]
    wanted = {(each[0]["list"], each[0]["level"]) for each in shown}
    yield f"{name}: a line for each list and level", compare(len(lines), 2 * len(wanted))
    at = [points(line.find(f"{SVG}polyline")) for line in lines]
    across = sorted({x for line in at[:len(wanted)] for x, _ in line})
    yield f"{name}: each session has a place of its own", compare(len(across), len(shown))
    shown_at = dict(zip(across, shown))
    mixed = [line for line in at if len({(shown_at[x][0]["list"], shown_at[x][0]["level"])
                                         for x, _ in line}) > 1]
    yield f"{name}: no line mixes lists or levels", f"{mixed}" if mixed else ""
    spots = {each.find(f"{SVG}path").get("transform") for each in marks}
    ends = {f"translate({x:.1f} {y:.1f})" for line in at for x, y in line}
    yield f"{name}: lines run from mark to mark", compare(ends, spots)
    limits = next(each.get("d") for each in root.iter(f"{SVG}path")
                  if each.get("fill") == "#e6e6e6")
    yield f"{name}: the limit is a step", (
        "" if re.fullmatch(r"M[\d. ]+(V[\d.]+H[\d.]+)+V\d+Z", limits) else limits)
    yield f"{name}: for each session", compare(limits.count("H"), len(shown))


def label_checks(program, folder):
    """Days below the sessions; on one day, times."""
    one = json.loads(good_line(program))
    path, drawing = folder / "labels.jsonl", folder / "labels.svg"
    for name, times, wanted in (
            ("days", ["2026-01-05T19:05:00Z", "2026-01-05T23:59:00Z", "2026-02-01T08:00:00Z"],
             ["2026-01-05", "2026-02-01"]),
            ("times of one day", ["2026-01-05T08:05:00Z", "2026-01-05T23:59:00Z"],
             ["08:05", "23:59"]),
            ("a day without times", ["2026-01-05", "2026-01-05T25:00:00Z"], ["2026-01-05"])):
        path.write_text("".join(json.dumps({**one, "time": each, "session": each}) + "\n"
                                for each in times))
        program.run("progress", "--history", str(path), "--svg", str(drawing))
        labels = [each.text for each in xml.parse(drawing).getroot().iter(f"{SVG}text")
                  if each.get("text-anchor") == "middle"]
        yield f"a chart has {name}", compare(labels, 2 * wanted)


def many_lines_checks(program, folder):
    """More sessions, lists and levels than a chart has room for."""
    one = json.loads(good_line(program))
    rounds = [{**one, "session": f"{number}", "list": f"List {random.randrange(20)}"}
              for number in range(700)]
    path, drawing = folder / "lines.jsonl", folder / "lines.svg"
    path.write_text("".join(json.dumps(each) + "\n" for each in rounds))
    program.run("progress", "--history", str(path), "--svg", str(drawing))
    yield from chart_checks("many lines", drawing, rounds)
    yield "what is not drawn is counted", (
        "" if "Not drawn: 8 lists and levels" in drawing.read_text() else "it is not")


def drawing_checks(program, folder):
    empty = folder / "empty.svg"
    done = program.run("progress", "--svg", str(empty))
    yield "no history yet", (
        "" if done.returncode == STATUS_ANSWERED and b"nearhand drill" in done.stdout else f"{done}")
    yield "a drawing of nothing is well-formed", compare(
        xml.parse(empty).getroot().tag, f"{SVG}svg")
    for path in ("/dev/full", "/proc/nothing/here.svg"):
        done = program.run("progress", "--history", "../histories/practice.jsonl", "--svg", path)
        yield f"a drawing that cannot be written, {path}", (
            "" if done.returncode == STATUS_OUTPUT and b"could not be written" in done.stderr
            else f"{done}")


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
    with subprocess.Popen([program.path, "progress", "--json", "--history", str(path)],
                          stdout=subprocess.PIPE, env=program.environment()) as child:
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


# ----------------------------------------------------------- past rounds

def reviews(shown):
    """The reviews of a session, as they were shown after each round."""
    return [text.split("\n\n")[0].split("\n", 1)[1]
            for text in shown.split("\nReview of round ")[1:]]


def review_again(program, path, number):
    done = program.run("progress", "--history", str(path), "--round", str(number))
    return done, done.stdout.decode().split("\n", 2)[-1].rstrip("\n")


def review_checks(program, folder):
    """What a drill showed after a round, progress shows again."""
    path = folder / "reviews.jsonl"
    player = drills.Player(program, program.lists / "skerry.json", "--rounds", "3", "--clock",
                           "fixed:9", "--seed", str(random.randrange(10**9)), "--history", str(path))
    player.play()
    shown = reviews(player.shown)
    yield "three reviews were shown", compare(len(shown), 3)
    for number, review in enumerate(shown, 1):
        done, again = review_again(program, path, number)
        yield f"the review of round {number} again", (
            compare(again, review) or compare(done.returncode, STATUS_ANSWERED))
    yield "of the last round", compare(review_again(program, path, "last")[1], shown[-1])
    done = program.run("progress", "--history", str(path), "--round", "4")
    yield "of no round", (
        "" if done.returncode == STATUS_USAGE and b"the last is round 3" in done.stderr
        else f"{done}")
    played = [json.loads(line) for line in path.read_text().splitlines()]
    old = {key: value for key, value in played[-1].items() if key != "live"}
    path.write_text(json.dumps(old))
    _, again = review_again(program, path, 1)
    places = re.compile(r"closest of \d+,")
    yield "of a line of version 0.1", compare(
        again, places.sub("closest,", shown[-1]) +
        "\nHow many patterns were in reach was not kept with this round.")
    for key, missing in (("seat", "who wanted to go on"), ("votes", "who wanted to go on"),
                         ("aims", "which pattern you went for")):
        path.write_text(json.dumps({name: value for name, value in old.items() if name != key}))
        done = program.run("progress", "--history", str(path), "--round", "1")
        yield f"of a line without {key}", (
            "" if (done.returncode, done.stdout) == (STATUS_UNREAD, b"")
            and f"does not say {missing}" in done.stderr.decode() else f"{done}")


def list_checks(program, folder):
    """All rounds in a list, numbered as --round takes them; damaged lines are not."""
    path = folder / "list.jsonl"
    rounds = random_history(40)
    lines = [json.dumps(each) for each in rounds]
    lines.insert(1, "damaged")
    path.write_text("\n".join(lines))
    done = program.run("progress", "--history", str(path), "--rounds")
    text = done.stdout.decode()
    rows = text.splitlines()[1:-1]
    yield "the list of rounds", compare(
        [(int(row[:6]), row[8:18], row[68:].strip()) for row in rows],
        [(number, each["time"][:10], mean_cost(each)) for number, each in enumerate(rounds, 1)])
    yield "the list of rounds fits", "" if screens.widest(text) <= 80 else text
    yield "its damaged line is reported", compare(
        (done.returncode, b"line 2: this is no JSON object" in done.stderr), (STATUS_UNREAD, True))
    done = program.run("progress", "--history", str(path), "--round", "1")
    yield "a round of costs alone has no review", (
        "" if done.returncode == STATUS_UNREAD and b"does not say" in done.stderr else f"{done}")
    for words in (["--rounds"], ["--round", "last"], ["--round", "2"]):
        done = program.run("progress", *words)
        yield f"no rounds yet, {words}", (
            "" if done.returncode == STATUS_ANSWERED and b"No rounds yet" in done.stdout
            else f"{done}")
    for words in (["--rounds", "--round", "1"], ["--rounds", "--json"], ["--round", "0"],
                  ["--round", "-1"], ["--round", "1x"], ["--round", ""], ["--round", "9" * 20],
                  ["--round", "1", "--svg", "x.svg"], ["--rounds", "--sessions", "5"]):
        done = program.run("progress", "--history", str(path), *words)
        yield f"progress {' '.join(words)}", compare(
            (done.returncode, done.stdout, b"--round" in done.stderr or b"--json" in done.stderr),
            (STATUS_USAGE, b"", True))


def mean_cost(one):
    costs = [step["cost"] for step in one["passes"] if step["cost"] is not None]
    return f"{sum(costs) / len(costs):.3f}" if costs else "-"


def checks(program):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for number in range(12):
            yield from history_checks(program, folder, number)
        yield from drawing_checks(program, folder)
        yield from label_checks(program, folder)
        yield from many_lines_checks(program, folder)
        yield from odd_line_checks(program, folder)
        yield from review_checks(program, folder)
        yield from list_checks(program, folder)
        yield from large_checks(program, folder)
        yield from long_line_checks(program, folder)
        yield from kind_checks(program, folder)
