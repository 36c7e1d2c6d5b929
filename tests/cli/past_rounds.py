"""Past rounds one by one: their list, and reviews that are those that the drill
showed."""
import itertools
import json
import pathlib
import random
import re
import tempfile

import drills
import screens
from deals import compare
from practice import random_history

STATUS_ANSWERED, STATUS_UNREAD, STATUS_USAGE = 0, 1, 2


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


def verdict(vote, agreed):
    """What is said of a vote. Stopping is as good as another pass, or better, from so many
    tiles on that the player across wants."""
    stopping = [vote["stopping"], *vote["courtesy"]]
    as_good = [wanted for wanted, left in enumerate(stopping) if left <= vote["expected"]]
    better = [wanted for wanted, left in enumerate(stopping) if left < vote["expected"]]

    def across(wanted):
        return (f"the player across wants {wanted[0]}"
                f"{' or more' if wanted[0] + 1 < len(stopping) else ''}.")

    if as_good[:1] == [0] and not better:
        return "no difference."
    if agreed:
        return ("stopping would have been better." if better[:1] == [0]
                else f"right unless {across(better)}" if better
                else f"right; stopping costs nothing if {across(as_good)}" if as_good
                else "right.")
    return ("right." if as_good[:1] == [0] else f"right only if {across(as_good)}" if as_good
            else "going on would have been better.")


def verdict_checks(program, folder):
    """Votes of every kind: each figure of stopping above, at or below that of going on."""
    path = folder / "votes.jsonl"
    played = json.loads((program.root / "tests/cli/histories/played.jsonl").read_text()
                        .splitlines()[0])
    averages = [4.5, 4.25, 4, 3.75, 3.5]
    for courtesies in range(4):
        for stopping in itertools.combinations_with_replacement(averages, courtesies + 1):
            for agreed in (False, True):
                vote = {"charleston": 2, "agree": {played["seat"]: agreed}, "expected": 4.0,
                        "stopping": stopping[0], "courtesy": list(stopping[1:]), "seconds": 1}
                path.write_text(json.dumps({**played, "votes": [vote]}))
                done = program.run("progress", "--history", str(path), "--round", "1")
                text = " ".join(done.stdout.decode().split())
                said = re.search(r"Charleston 2, you said (yes|no): (.*?) One more pass", text)
                yield f"the verdict on {stopping}, {agreed}", compare(
                    said and said.groups(), ("yes" if agreed else "no", verdict(vote, agreed)))
                yield f"the verdict on {stopping} fits", (
                    "" if screens.widest(done.stdout.decode()) <= 80 else done.stdout.decode())


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
        [(int(row[:6]), row[8:18], row.split()[-1]) for row in rows],
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
        yield from review_checks(program, pathlib.Path(name))
        yield from verdict_checks(program, pathlib.Path(name))
        yield from list_checks(program, pathlib.Path(name))
