"""What an audit tells the keeper of a list: the line of points against odds, worked out
here the plain way; accepted warnings; shares of ways in the text as in the JSON."""
import json
import math
import pathlib
import random
import statistics
import tempfile


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def near(given, wanted):
    return "" if abs(given - wanted) <= 0.002 * max(1, abs(wanted)) else (
        f"wanted {wanted}, given {given}")


def pungs(ranks, points, **more):
    """A pattern that is the rarer the fewer ranks it may have."""
    return {"name": f"Buoy {len(ranks)}.{points}", "points": points, **more,
            "groups": [{"pung": ranks, "suit": "any"}, {"pair": "honour"}]}


def audit(program, path, patterns, jokers, *words):
    path.write_text(json.dumps({"format": 1, "title": "Keeping", "hand": 5,
                                "tiles": {"jokers": jokers}, "patterns": patterns}))
    return program.run("audit", *words, str(path))


def line_by_hand(patterns, key):
    """The median of the slopes, the median of the rest, and who is far."""
    points = [(math.log2(1 / pattern[key]), pattern["points"]) for pattern in patterns]
    slope = statistics.median((a[1] - b[1]) / (a[0] - b[0]) for i, a in enumerate(points)
                              for b in points[:i] if a[0] != b[0])
    height = statistics.median(y - slope * x for x, y in points)
    off = [y - height - slope * x for x, y in points]
    limit = 3 * statistics.median(map(abs, off)) + 1e-9 * max(abs(y) for _, y in points)
    return slope, height, ["above" if y > limit else "below" if y < -limit else None for y in off]


def line_checks(program, path):
    marks = 0
    for jokers in (0, 3):
        far_off = random.sample(range(1, 10), random.choice([1, 2]))
        patterns = [pungs(list(range(1, ranks + 1)),
                          50 - 4 * ranks + (30 if ranks in far_off else random.choice([0, 1, 2])))
                    for ranks in range(1, 10)]
        done = audit(program, path, patterns, jokers, "--json")
        answer, = program.objects(done.stdout)
        found, line = answer["patterns"], answer["points_line"]
        slope, height, far = line_by_hand(found, "dealt_with_jokers" if jokers else "dealt")
        yield "the slope of the line", near(line["doubling"], slope)
        yield "its height", near(line["points"], height + slope * math.log2(line["odds"]))
        yield "patterns far from it", compare([pattern["points_far"] for pattern in found], far)
        marks += sum(mark is not None for mark in far)
        shown = audit(program, path, patterns, jokers).stdout.decode()
        rows = [row for row in shown.splitlines() if row.startswith("Buoy")]
        given = ["above" if "+ " in row else "below" if "- " in row else None for row in rows]
        yield "marks in the table", compare(given, far)
    yield "some are far", "" if marks > 0 else "none is"
    few = audit(program, path, [pungs([rank], 10 + rank) for rank in range(1, 8)], 0, "--json")
    answer, = program.objects(few.stdout)
    yield "seven patterns make no line", compare(
        (answer["points_line"], {pattern["points_by_line"] for pattern in answer["patterns"]}),
        (None, {None}))


def accept_checks(program, path):
    inner, outer = pungs([1, 2], 20), pungs([1, 2, 3], 10)
    again = {**outer, "name": "Again"}
    told = [f'"{inner["name"]}" lies within "{outer["name"]}" and "Again"',
            f'"{outer["name"]}" has the same targets as "Again"']

    def warned(*patterns):
        answer, = program.objects(audit(program, path, patterns, 0, "--json").stdout)
        return answer["warnings"], [list(entry.values()) for entry in answer["accepted"]]

    yield "nothing accepted", compare(warned(inner, outer, again), (told, []))
    within = {**inner, "accept": ["within"]}
    yield "a pattern within others", compare(
        warned(within, outer, again), (told[1:], [[inner["name"], "within"]]))
    for first, second in ((["same"], []), ([], ["same"])):
        names = [name for name, accepts in ((outer["name"], first), ("Again", second)) if accepts]
        yield "patterns that are the same, by either", compare(
            warned(inner, {**outer, "accept": first}, {**again, "accept": second}),
            (told[:1], [[names[0], "same"]]))
    needless = f'"{outer["name"]}" accepts the warning "within", which does not arise'
    yield "what does not arise", compare(
        warned(inner, {**outer, "accept": ["within"]}), (
            [f'"{inner["name"]}" lies within "{outer["name"]}"', needless], []))


def share_checks(program, path):
    patterns = [pungs([1, 2, 3, 4], 20), pungs([3, 4, 5], 21), pungs([4, 5, 6, 7, 8, 9], 22)]
    answer, = program.objects(audit(program, path, patterns, 0, "--json").stdout)
    shares = [(entry["share"], entry["share_of_other"]) for entry in answer["overlaps"]]
    yield "shares of ways", compare(shares, [(2 / 4, 2 / 3), (1 / 4, 1 / 6), (2 / 3, 2 / 6)])
    shown = audit(program, path, patterns, 0).stdout.decode()
    names = [pattern["name"] for pattern in patterns]
    wanted = (f'  "{names[0]}": 50.0% "{names[1]}", 25.0% "{names[2]}"\n'
              f'  "{names[1]}": 66.7% "{names[0]}", 66.7% "{names[2]}"\n'
              f'  "{names[2]}": 33.3% "{names[1]}", 16.7% "{names[0]}"\n')
    yield "the same as text", "" if wanted in shown else shown
    patterns[1]["accept"] = ["overlap"]
    shown = audit(program, path, patterns, 0).stdout.decode()
    wanted = f'  "{names[0]}": 25.0% "{names[2]}"\n  "{names[2]}": 16.7% "{names[0]}"\n'
    yield "accepted ones are not shown", "" if wanted in shown and "1 accepted" in shown else shown


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "keeping.json"
        yield from line_checks(program, path)
        yield from accept_checks(program, path)
        yield from share_checks(program, path)
