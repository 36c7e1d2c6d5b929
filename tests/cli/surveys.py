"""Surveys: parts that are put together in any order are the one run; what is no part is
refused; an interrupted survey goes on; and a referee who knows the rules follows the
records of games."""
import collections
import json
import pathlib
import random
import re
import shutil
import signal
import tempfile
import time
import xml.etree.ElementTree as xml

from sheets import references, soundness

QUICK = ("--passing", "spare", "--look", "1")
GOOD = "../../lists/good"
SEATS = "ESWN"
SUITS = "BCD"
STATUS_USAGE, STATUS_OUTPUT, STATUS_STOPPED = 2, 3, 130

# ---------------------------------------------------------------- referee


def tiles_of(text):
    """The tiles of hand notation, as 1B, E, Wh, F, J."""
    tiles = []
    for word in re.findall(r"[1-9]+[BCD]|Wh|[ESWNRGFJ0]", text):
        if word[-1] in SUITS and len(word) > 1:
            tiles += [rank + word[-1] for rank in word[:-1]]
        else:
            tiles.append("Wh" if word == "0" else word)
    return collections.Counter(tiles)


class Referee:
    """Follows the events of one game by the rules of a list."""

    def __init__(self, tested, path, claims, any_chow, exchange):
        self.tested, self.path = tested, path
        self.claims, self.any_chow, self.exchange = claims, any_chow, exchange
        self.sets = {seat: [] for seat in SEATS}
        self.discards = collections.Counter()
        self.turn, self.draws, self.offered, self.over = None, False, None, False
        self.kong = False  # just claimed: a tile may replace its fourth

    def need(self, good, what):
        if not good:
            raise AssertionError(what)

    def take(self, seat, tiles):
        self.need(tiles <= self.hands[seat], f"{seat} does not have {dict(tiles)}")
        self.hands[seat] -= tiles

    def total(self):
        everything = self.discards + collections.Counter([self.offered[1]] if self.offered else [])
        for seat in SEATS:
            everything += self.hands[seat]
            for word in self.sets[seat]:
                everything += tiles_of(word)
        return sum(everything.values()) + self.wall

    def event(self, event):
        self.need(not self.over, "the game is over")
        getattr(self, event["event"])(event)
        if event["event"] == "deal":
            self.all = self.total()
        self.need(self.total() == self.all, f"tiles are lost: {event}")

    def deal(self, event):
        self.hands = {seat: tiles_of(event["hands"][seat]) for seat in SEATS}
        self.wall, self.prevailing = event["wall"], event["prevailing"]
        self.turn, self.draws = "E", False

    def give(self, event, places):
        for seat in SEATS:
            given = tiles_of(event["gives"][seat])
            self.need("J" not in given, "a joker is passed")
        for seat in SEATS:
            self.hands[SEATS[(SEATS.index(seat) + places) % 4]] += tiles_of(event["gives"][seat])
        for seat in SEATS:
            self.take(seat, tiles_of(event["gives"][seat]))

    def pass_(self, event):
        self.give(event, {"right": 1, "across": 2, "left": 3}[event["direction"]])

    def courtesy(self, event):
        self.give(event, 2)

    def vote(self, event):
        self.need(set(event["agree"]) == set(SEATS), "not all have voted")

    def let_go(self):
        if self.offered:
            seat, tile = self.offered
            self.discards[tile] += 1
            self.turn, self.draws, self.offered = SEATS[(SEATS.index(seat) + 1) % 4], True, None

    def draw(self, event):
        self.let_go()
        replaces = event["why"] == "kong" and self.kong
        self.need(event["seat"] == self.turn and (self.draws or replaces),
                  "it is not that player's draw")
        self.kong = False
        self.hands[self.turn][event["tile"]] += 1
        self.wall -= 1
        self.draws = False

    def discard(self, event):
        self.need(event["seat"] == self.turn and not self.draws, "it is not that player's turn")
        self.take(self.turn, collections.Counter([event["tile"]]))
        self.offered = (self.turn, event["tile"])

    def exchange_(self, event):
        self.need(self.exchange and event["seat"] == self.turn, "no joker may be taken")
        at = next((i for i, word in enumerate(self.sets[event["from"]])
                   if tiles_of(word) == tiles_of(event["set"]) - collections.Counter([event["tile"]])
                   + collections.Counter("J")), None)
        self.need(at is not None, "there is no such set")
        self.take(self.turn, collections.Counter([event["tile"]]))
        self.hands[self.turn]["J"] += 1
        self.sets[event["from"]][at] = event["set"]

    def claim(self, event):
        self.need(self.offered == (event["from"], event["tile"]), "that was not discarded")
        made = tiles_of(event["set"])
        naturals = [tile for tile in made if tile != "J"]
        shape = ("chow" if len(naturals) == 3 else
                 {3: "pung", 4: "kong", 5: "quint", 6: "sextet"}[sum(made.values())])
        self.need(shape in self.claims, f"a {shape} may not be claimed")
        if shape == "chow":
            self.need(sorted(int(tile[0]) for tile in naturals) ==
                      list(range(min(int(tile[0]) for tile in naturals), 10))[:3] and
                      len({tile[1] for tile in naturals}) == 1, "no chow")
            self.need(self.any_chow or (SEATS.index(event["from"]) + 1) % 4 ==
                      SEATS.index(event["seat"]), "that chow is not this player's")
        else:
            self.need(len(naturals) == 1, "tiles that differ")
        self.take(event["seat"], made - collections.Counter([event["tile"]]))
        self.sets[event["seat"]].append(event["set"])
        self.turn, self.draws, self.offered = event["seat"], False, None
        self.kong = shape == "kong"

    def win(self, event):
        seat = event["seat"]
        if event["by"] == "claim":
            self.need(self.offered == (event["from"], event["tile"]), "that was not discarded")
            self.hands[seat][event["tile"]] += 1
            self.offered = None
        else:
            self.need(seat == self.turn and not self.draws, "it is not that player's turn")
        self.need(self.hands[seat] == tiles_of(event["hand"]), "another hand")
        self.need(self.sets[seat] == event["exposed"], "other sets")
        words = ["check", "--json", "--list", self.path, "--prevailing", self.prevailing,
                 "--seat", seat, event["hand"]]
        if event["exposed"]:
            words += ["--exposed", " ".join(event["exposed"])]
        answer, = self.tested.objects(self.tested.run(*words).stdout)
        best = answer["patterns"][0]
        self.need(answer["complete"], "the hand is not complete")
        self.need((best["pattern"], best["points"]) == (event["pattern"], event["points"]),
                  f"it pays {best}")
        self.over = True

    def wall_(self, _event):
        self.let_go()
        self.need(self.wall == 0 and (self.draws or self.kong), "the wall is not used up")
        self.over = True

    def follow(self, output):
        """How many events."""
        events = [json.loads(line) for line in output.decode().splitlines()]
        for event in events:
            name = event["event"]
            event["event"] = {"pass": "pass_", "exchange": "exchange_", "wall": "wall_"}.get(name, name)
            if name in ("wall", "exchange", "pass"):
                getattr(self, event["event"])(event)
                self.need(self.total() == self.all, f"tiles are lost: {event}")
            else:
                self.event(event)
        self.need(self.over, "the game has no end")
        return len(events)




def rules_of(path):
    play = json.loads(path.read_text()).get("play", {})
    return (set(play.get("claims", ["pung", "kong", "quint", "sextet"])),
            play.get("chow_from", "left") == "any", play.get("exchange", False))


def check_records(tested):
    for name in ("patterns/club.json", "patterns/jokers.json", "tests/lists/good/exchange.json"):
        path = tested.root / name
        for number in range(1, 6):
            ran = tested.run("survey", "--list", path, "--record", str(number), "--claiming",
                             "always", *QUICK)
            try:
                Referee(tested, path, *rules_of(path)).follow(ran.stdout)
                yield f"the record of game {number} of {name}", None
            except (AssertionError, KeyError, IndexError) as error:
                yield f"the record of game {number} of {name}", f"{error!r}"


# ------------------------------------------------------------------ parts


def survey(tested, *words, games="6", first="1"):
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--json", *QUICK, "--games",
                     games, "--first", first, *words)
    return ran.stdout


def check_parts(tested, folder):
    whole = survey(tested, games="40")
    tested.objects(whole)
    sizes = [1, 9, 13, 17]
    paths, first = [], 1
    for size in sizes:
        path = folder / f"part{first}.json"
        path.write_bytes(survey(tested, games=str(size), first=str(first)))
        paths.append(path)
        first += size
    yield "threads", None if survey(tested, "--jobs", "2", games="40") == whole else "differ"
    for turn in range(4):
        random.Random(turn).shuffle(paths)
        ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--json", "--merge", *paths)
        yield f"parts in order {turn}", None if ran.stdout == whole else ran.stderr or "differ"
    two = folder / "two.json"
    two.write_bytes(tested.run("survey", "--list", f"{GOOD}/exchange.json", "--json", "--merge",
                               paths[0], paths[2]).stdout)
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--json", "--merge", paths[1],
                     two, paths[3])
    yield "parts of parts", None if ran.stdout == whole else ran.stderr or "differ"
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", paths[0], two)
    yield "twice", wrong(ran, b"is counted already")


def wrong(ran, words):
    if ran.returncode != STATUS_USAGE or ran.stdout or words not in ran.stderr:
        return f"{ran.returncode} {ran.stdout[:80]} {ran.stderr}"
    return None


def check_refusals(tested, folder):
    good = survey(tested)
    path = folder / "good.json"
    path.write_bytes(good)
    other = folder / "other.json"
    for what, words, said in (
            ("seed", ("--seed", "2"), b"another seed"),
            ("way", ("--claiming", "never"), b"other ways")):
        other.write_bytes(survey(tested, *words, first="50"))
        ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", path, other)
        yield f"another {what}", wrong(ran, said)
    yield "another list", wrong(tested.run("survey", "--merge", path), b"with --list")
    yield "settings of a merge", wrong(tested.run("survey", "--list", f"{GOOD}/exchange.json",
                                                  "--merge", path, "--seed", "3"), b"leave out")
    answer = json.loads(good)
    changes = {
        "a win too many": lambda a: a.update(wins=a["wins"] + 1, walls=a["walls"] - 1),
        "a pattern fewer": lambda a: a["patterns"].pop(),
        "a pattern won once more": lambda a: a["patterns"][0].update(won=a["patterns"][0]["won"] + 1),
        "no games": lambda a: a.update(games=0),
        "a huge number": lambda a: a.update(games=1e300),
        "a fraction": lambda a: a.update(games=a["games"] + 0.5),
        "less than none": lambda a: a.update(turns=-1),
        "games that overlap": lambda a: a.update(numbers=[[1, 4], [3, 6]]),
        "games backwards": lambda a: a.update(numbers=[[6, 1]]),
        "numbers of no kind": lambda a: a.update(numbers={"a": [1, 6]}),
        "no patterns": lambda a: a.update(patterns=None),
        "another format": lambda a: a.update(format=2),
        "a way nobody knows": lambda a: a["ways"].update(passes="luck"),
        "no seed": lambda a: a.update(seed="x"),
        "seats": lambda a: a.update(seat_wins=[0, 0, 0]),
    }
    for what, change in changes.items():
        changed = json.loads(good)
        change(changed)
        other.write_text(json.dumps(changed))
        ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", other)
        problem = wrong(ran, b"other.json: ")
        if what == "a win too many" and answer["walls"] == 0:
            problem = None
        yield f"merging {what}", problem
    for what, text in (("nothing", b""), ("half", good[: len(good) // 2]), ("no JSON", b"\0[]"),
                       ("an array", b"[1]"), ("two in one", good + good), ("deep", b"[" * 100000)):
        other.write_bytes(text)
        ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", path, other)
        yield f"merging {what}", wrong(ran, b"other.json: ")
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", folder / "none.json")
    yield "merging a missing file", wrong(ran, b"No such file")
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", folder)
    yield "merging a folder", wrong(ran, b"not a plain file")
    for words in (("--resume",), ("--record", "1", "--out", "x"), ("--merge", "x", "--out", "y"),
                  ("x",), ("--games", "0"), ("--look", "4"), ("--claiming", "often")):
        yield f"survey {' '.join(words)}", wrong(tested.run("survey", *words), b"")


# -------------------------------------------------------------- mutations


def places(value, way=()):
    """The ways to all values in it that hold no others."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places(inner, (*way, key))
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from places(inner, (*way, i))
    else:
        yield way


def changed_value(value):
    if isinstance(value, bool) or value is None:
        return not value
    if isinstance(value, str):
        return value[:-1] + ("1" if value[-1:] != "1" else "2")
    return value + 1


def changed_at(answer, way):
    answer = json.loads(json.dumps(answer))
    inner = answer
    for key in way[:-1]:
        inner = inner[key]
    inner[way[-1]] = changed_value(inner[way[-1]])
    return answer


def check_mutations(tested, folder):
    """A part of which anything is changed, or of which the end is missing, is refused, and
    nothing is printed of the good one before it."""
    good, path, other = survey(tested), folder / "sound.json", folder / "mutated.json"
    path.write_bytes(survey(tested, first="7"))
    answer = json.loads(good)
    step = 400 if tested.under else 40  # every byte is torn off in tests/fuzz/fuzz_parts.c
    texts = {f"torn at {length}": good[:length] for length in range(1, len(good) - 1, step)}
    ways = list(places(answer))
    texts.update({f"changed at {way}": json.dumps(changed_at(answer, way)).encode()
                  for way in (ways[::20] if tested.under else ways)})
    accepted = []
    for what, text in texts.items():
        other.write_bytes(text)
        ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--merge", path, other)
        if wrong(ran, b"mutated.json: "):
            accepted.append(f"{what}: {ran.returncode} {ran.stderr}")
    yield f"{len(texts)} mutations", "; ".join(accepted[:3]) or None
    other.write_text(json.dumps(answer, indent=4))
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--json", "--merge", path, other)
    yield "a part laid out anew", None if ran.stdout == survey(tested, games="12") else ran.stderr


def check_prints(tested, folder):
    """Parts belong together whatever of their lists differs that changes no game."""
    path = tested.lists / f"{GOOD}/exchange.json"
    part, copy = folder / "printed.json", folder / "copy.json"
    part.write_bytes(survey(tested))
    read = json.loads(path.read_text())
    noted = {**dict(reversed(read.items())), "note": "of another day", "edition": "second"}
    noted["patterns"] = [{**pattern, "note": "well played"} for pattern in read["patterns"]]
    for what, text in (("line ends", path.read_text().replace("\n", "\r\n")),
                       ("notes and order", json.dumps(noted))):
        copy.write_bytes(text.encode())
        ran = tested.run("survey", "--list", copy, "--json", "--merge", part)
        yield f"a list of other {what}", None if ran.stdout == part.read_bytes() else ran.stderr
    for what, change in (("title", lambda a: a.update(title="Another")),
                         ("points", lambda a: a["patterns"][0].update(points=3)),
                         ("order", lambda a: a["patterns"].reverse())):
        changed = json.loads(path.read_text())
        change(changed)
        copy.write_text(json.dumps(changed))
        ran = tested.run("survey", "--list", copy, "--json", "--merge", part)
        yield f"a list of another {what}", wrong(ran, b"as it was then")


# ------------------------------------------------------------ interruptions


def check_resumed(tested, folder):
    whole = survey(tested, games="40")
    kept = folder / "kept.json"
    kept.write_bytes(survey(tested, games="11", first="5"))
    ran = survey(tested, "--out", kept, "--resume", games="40")
    yield "resumed", None if ran == whole and kept.read_bytes() == whole else "differs"
    ran = survey(tested, "--out", kept, "--resume", games="40")
    yield "resumed when all is done", None if ran == whole else "differs"
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", *QUICK, "--out", kept)
    yield "a file that is there", wrong(ran, b"--resume")
    torn = folder / "torn.json"
    torn.write_bytes(whole[:100])
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", *QUICK, "--out", torn, "--resume")
    yield "resumed from a torn file", wrong(ran, b"not the JSON of a survey")
    copy = folder / "list.json"
    shutil.copy(tested.lists / f"{GOOD}/exchange.json", copy)
    ran = tested.run("survey", "--list", copy, *QUICK, "--out", copy, "--games", "1")
    yield "the list as output", wrong(ran, b"")


def check_stopped(tested, folder):
    kept = folder / "stopped.json"
    child = tested.start("survey", "--list", f"{GOOD}/exchange.json", "--json", *QUICK, "--games",
                         "1000000", "--out", kept)
    time.sleep(1.5)
    child.send_signal(signal.SIGINT)
    output, errors = child.communicate()
    answer, = tested.objects(output)
    count = re.search(rb"stopped after (\d+) games; go on", errors)
    good = (child.returncode == STATUS_STOPPED and count and int(count[1]) == answer["games"] and
            answer["numbers"] == [[1, answer["games"]]] and kept.read_bytes() == output)
    yield "an interrupt", None if good else f"{child.returncode} {errors} {answer['numbers']}"
    if good and answer["games"] < 3000:
        again = survey(tested, games=str(answer["games"]))
        yield "what an interrupt left", None if again == output else "differs"


def check_hung_up(tested, folder):
    """A terminal that is closed ends a survey as an interrupt does."""
    kept = folder / "hung-up.json"
    child = tested.start("survey", "--list", f"{GOOD}/exchange.json", "--json", *QUICK, "--games",
                         "1000000", "--out", kept)
    time.sleep(0.5)
    child.send_signal(signal.SIGHUP)
    output, _ = child.communicate()
    good = child.returncode == STATUS_STOPPED and kept.read_bytes() == output
    yield "a hangup", None if good else f"{child.returncode}"


def check_lock(tested, folder):
    """Only one survey writes a file at a time; what a killed one left locks nothing."""
    kept, lock = folder / "locked.json", folder / "locked.json.lock"
    words = ("survey", "--list", f"{GOOD}/exchange.json", *QUICK, "--out", kept)
    child = tested.start(*words, "--games", "1000000")
    while not lock.exists() and child.poll() is None:
        time.sleep(0.01)
    time.sleep(0.2)
    ran = tested.run(*words, "--resume")
    yield "a file that another survey writes", wrong(ran, b"another survey writes to it now")
    child.kill()
    child.communicate()
    yield "the lock of a killed survey", None if lock.exists() else "is gone"
    ran = tested.run(*words, "--resume", "--json")
    yield "after a killed survey", None if ran.stdout == kept.read_bytes() else ran.stderr
    yield "the lock at the end", "is there" if lock.exists() else None


def check_large_passes(tested, folder):
    read = json.loads((tested.lists / f"{GOOD}/exchange.json").read_text())
    read["charleston"] = {"tiles": 4}
    path = folder / "four.json"
    path.write_text(json.dumps(read))
    for words in (("--games", "1"), ("--record", "1")):
        ran = tested.run("survey", "--list", path, *words)
        yield f"passes of 4, {words[0]}", wrong(ran, b"--passing spare")
    ran = tested.run("survey", "--list", path, "--games", "1", *QUICK)
    yield "spare passes of 4", None if ran.returncode == 0 else ran.stderr


def check_text(tested):
    ran = tested.run("survey", "--games", "3", *QUICK)
    lines = ran.stdout.decode().splitlines()
    yield "width", next((line for line in lines if len(line) > 80), None)
    yield "text", None if lines[0].endswith("3 games, seed 1") else lines[0]
    if pathlib.Path("/dev/full").exists():
        with open("/dev/full", "wb") as full:
            ran = tested.run("survey", "--games", "1", *QUICK, stdout=full)
        yield "a full disk", None if ran.returncode == STATUS_OUTPUT else f"{ran.returncode}"
        ran = tested.run("survey", "--games", "1", *QUICK, "--out", "/dev/full")
        yield "a part on a full disk", None if ran.returncode == STATUS_OUTPUT else f"{ran.returncode}"


# ------------------------------------------------------------------- page


def said(element):
    return " ".join(" ".join(element.itertext()).replace("\u00a0", " ").split())


def tables_of(page):
    """For each caption the rows, as the texts of their cells."""
    return {said(table.find("caption")): [[said(cell) for cell in row]
                                          for row in table.find("tbody")]
            for table in xml.fromstring(page).iter("table")}


def page_faults(page):
    """What a screen reader would stumble over."""
    root = xml.fromstring(page)
    faults = [f"th without scope: {said(cell)}" for cell in root.iter("th")
              if cell.get("scope") not in ("row", "col")]
    faults += ["a table without caption" for table in root.iter("table")
               if table[0].tag != "caption" or not said(table[0])]
    drawings = list(root.iter("svg"))
    inner = {part for drawing in drawings for part in drawing.iter("svg") if part is not drawing}
    for drawing in drawings:
        if drawing in inner or drawing.get("aria-hidden") == "true":
            continue
        named = drawing.get("aria-labelledby", "").split()
        ids = {part.get("id"): said(part) for part in drawing if part.tag in ("title", "desc")}
        if drawing.get("role") != "img" or not named or not all(ids.get(name) for name in named):
            faults.append("a drawing that is not named")
    return faults


def same_figure(text, number, digits):
    return text.split(" ")[0] == f"{number:.{digits}f}"


def page_differs(page, answer):
    """Figures of the page that are not those of the JSON."""
    patterns = sorted(answer["patterns"], key=lambda pattern: -pattern["won"])  # a stable sort
    rows = list(tables_of(page).items())
    wins, pays, closest = (next(rows_ for caption, rows_ in rows if word in caption)
                           for word in ("share of the wins", "Points of a win", "hollow bar"))
    for place, pattern in enumerate(patterns):
        name = f"{place + 1}. {pattern['pattern']}"
        for table in (wins, pays, closest):
            if table[place][0] != name:
                return f"{table[place]} is not {name}"
        if not same_figure(wins[place][1], 100 * pattern["won_share"][0], 2) or \
                not same_figure(closest[place][1], 100 * pattern["dealt_share"][0], 1) or \
                not same_figure(closest[place][2], 100 * pattern["passed_share"][0], 1) or \
                not same_figure(pays[place][3], pattern["points_per_100"], 1) or \
                bool(pays[place][4]) != pattern["far_off"]:
            return f"{name}: {wins[place]} {closest[place]} {pays[place]}"
        if pattern["fair_points"] and not pays[place][2].startswith(f"{pattern['fair_points']:.3g} "):
            return f"{name}: fair {pays[place]}"
    return None


def check_page(tested, folder):
    words = ("survey", "--list", f"{GOOD}/exchange.json", "--games", "60", *QUICK)
    page = tested.run(*words, "--html", "-").stdout.decode()
    answer, = tested.objects(tested.run(*words, "--json").stdout)
    yield "a page is sound", "; ".join(soundness(page)) or None
    yield "it fetches nothing", "; ".join(references(page)) or None
    yield "it can be read aloud", "; ".join(page_faults(page)) or None
    yield "its figures", page_differs(page, answer)
    marks = len(re.findall(r'<path class="(?:near|far)"', page))
    yield "a mark for each pattern that was won", None if marks == sum(
        pattern["won"] > 0 for pattern in answer["patterns"]) else f"{marks}"
    path, part = folder / "page.html", folder / "page.json"
    ran = tested.run(*words, "--html", path, "--out", part)
    text = tested.run(*words).stdout
    yield "text beside the page", None if ran.stdout == text and path.read_text() == page else "differs"
    path.unlink()
    ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", "--json", "--merge", part,
                     "--html", path)
    yield "the page of a merge", None if path.read_text() == page and \
        ran.stdout == part.read_bytes() else "differs"
    before = part.read_bytes()
    for more in (("--merge", part), ("--merge", folder / "sound.json", part)):
        ran = tested.run("survey", "--list", f"{GOOD}/exchange.json", *more, "--html", part)
        yield f"the page over a part, {len(more)}", wrong(ran, b"would be overwritten") or (
            None if part.read_bytes() == before else "is lost")
    yield "page and part in one file", wrong(tested.run(
        *words, "--out", folder / "both", "--html", folder / "both"), b"the same file")
    for more in (("--json", "--html", "-"), ("--record", "1", "--html", "x")):
        yield f"{' '.join(more)}", wrong(tested.run("survey", *more), b"")
    ran = tested.run(*words, "--html", folder / "none/page.html")
    yield "a page in no folder", None if ran.returncode == STATUS_OUTPUT and not ran.stdout else (
        f"{ran.returncode}")


def check_hostile_page(tested, folder):
    """Names of a list are text, whatever is in them; patterns without points have no plot."""
    read = json.loads((tested.lists / f"{GOOD}/exchange.json").read_text())
    names = ['<script>alert(1)</script>', '"quoted" & <b>', "\u202eback", "]]>--&amp;"]
    read["title"] = "</title><h1>&"
    for pattern, name in zip(read["patterns"], names):
        pattern["name"] = name
    path = folder / "hostile.json"
    for what in ("with points", "without points"):
        path.write_text(json.dumps(read))
        page = tested.run("survey", "--list", path, "--games", "20", *QUICK, "--html",
                          "-").stdout.decode()
        yield f"hostile names, {what}", "; ".join(soundness(page) + references(page)) or None
        heads = {said(cell) for cell in xml.fromstring(page).iter("th")}
        yield f"their text, {what}", None if any('"quoted" & <b>' in head for head in heads) else (
            f"{heads}")
        yield f"the plot, {what}", None if ("role=\"img\"" in page) == (what == "with points") else page
        for pattern in read["patterns"]:
            pattern.pop("points", None)


def checks(tested):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        yield from check_text(tested)
        yield from check_parts(tested, folder)
        yield from check_refusals(tested, folder)
        yield from check_mutations(tested, folder)
        yield from check_prints(tested, folder)
        yield from check_resumed(tested, folder)
        yield from check_stopped(tested, folder)
        yield from check_hung_up(tested, folder)
        yield from check_lock(tested, folder)
        yield from check_large_passes(tested, folder)
        yield from check_page(tested, folder)
        yield from check_hostile_page(tested, folder)
    yield from check_records(tested)
