"""The chart and the bars of a player's practice: a line for each list and level that
runs through no session of another, the limit a step, whatever a list is called."""
import json
import pathlib
import random
import re
import tempfile
import xml.etree.ElementTree as xml

from deals import compare
from practice import good_line, random_history

STATUS_ANSWERED, STATUS_OUTPUT = 0, 3
SVG = "{http://www.w3.org/2000/svg}"
BARS_MOST = 26


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


# -------------------------------------------------------------------- bars

def bar_checks(program, folder):
    """Bars of the four lists and levels practised last, of those with two sessions."""
    one = json.loads(good_line(program))
    rounds = [{**one, "session": f"{number}", "list": f"List {int(random.expovariate(0.3))}"}
              for number in range(random.choice([5, 20, 100]))]
    path = folder / "bars.jsonl"
    path.write_text("".join(json.dumps(each) + "\n" for each in rounds))
    text = program.run("progress", "--ascii", "--history", str(path)).stdout.decode()
    sessions = {}
    for each in rounds:
        name = each["list"]
        sessions[name] = sessions.pop(name, 0) + 1
    trends = [f"{name}, beginner: {min(count, BARS_MOST)}" for name, count in sessions.items()
              if count > 1]
    shown = re.findall(r"^(List \d+, beginner)\n.*\n.*\n.*\n +0 \|([#.]*) +0 \|[#.]*$", text, re.M)
    yield "bars of each list", compare([f"{name}: {len(bars)}" for name, bars in shown], trends[-4:])
    more = len(trends) - 4
    yield "bars that are left out are counted", compare(
        f"\n{more} more: --svg" in text, more > 0)


def checks(program):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for number in range(10):
            path, drawing = folder / "practice.jsonl", folder / "practice.svg"
            rounds = random_history(random.choice([1, 2, 7, 90]))
            path.write_text("".join(json.dumps(each) + "\n" for each in rounds))
            program.run("progress", "--history", str(path), "--svg", str(drawing))
            yield from chart_checks(f"chart {number}", drawing, rounds)
            yield from bar_checks(program, folder)
        yield from drawing_checks(program, folder)
        yield from label_checks(program, folder)
        yield from many_lines_checks(program, folder)
