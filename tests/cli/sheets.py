"""Practice sheets hold the hands that deal deals and the patterns that rank
ranks; as HTML they are sound, stand alone, and show names of any characters as
they are."""
import html.parser
import json
import pathlib
import random
import re
import tempfile
import xml.etree.ElementTree as xml

import answers
import screens

STATUS_USAGE, STATUS_OUTPUT = 2, 3
SLOW = "broad"  # a list that takes long to load
SHEET = ["sheet", "--hands", "3"]
VOID = {"meta"}
HOSTILE = ("</title></style><script>alert(1)</script>", "<!--", "]]>", "&amp;<b x='1' y=\"2\">",
           "\u202eright to left", "\x01\x7f\ufffe\uffff", "<img src=//x.example/y>", "\u6f22&lt;")


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def page_of(program, *words):
    return program.run("sheet", "--html", "-", *words).stdout.decode()


# ---------------------------------------------------------------------- HTML

class Page(html.parser.HTMLParser):
    """Elements are closed in order; what is there, with its text."""

    def __init__(self, text):
        super().__init__()
        self.open, self.tags, self.attributes, self.faults = [], [], [], []
        self.said = []
        self.feed(text)
        self.close()
        self.faults += [f"{tag} stays open" for tag in self.open]

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.faults.append(f"{tag} closes itself")

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"{tag} closed out of order")

    def handle_data(self, data):
        if "style" not in self.open:
            self.said.append(data)


def soundness(text):
    xml.fromstring(text)  # raises where it is no XML
    page = Page(text)
    return page.faults or ([] if text.startswith("<!DOCTYPE html>\n<html lang=\"en\">") else ["head"])


def references(text):
    """Whatever a browser might fetch or run: a tile is only used from the page itself."""
    page = Page(text)
    found = [tag for tag in page.tags if tag in
             {"script", "link", "img", "iframe", "object", "embed", "base", "a", "form", "image",
              "foreignobject", "animate", "set"}]
    drawn = {value for name, value in page.attributes if name == "id"}
    found += [f"{name} {value}" for name, value in page.attributes
              if name in {"src", "style", "srcset"} or name.startswith("on")
              or (name == "href" and (value[:1] != "#" or value[1:] not in drawn))]
    style = "".join(re.findall(r"<style>(.*?)</style>", text, re.DOTALL))
    return found + re.findall(r"url\(|@import|//", style)


def levels(text):
    return [int(tag[1]) for tag in Page(text).tags if re.fullmatch(r"h[1-6]", tag)]


def table_faults(text):
    tree = xml.fromstring(text)
    tables = tree.findall(".//table")
    faults = [] if tables else ["no table"]
    for table in tables:
        head = table.findall("thead/tr/th")
        rows = table.findall("tbody/tr")
        if not rows or any(cell.get("scope") != "col" for cell in head):
            faults.append("a head")
        faults += [f"a row of {len(row)}" for row in rows
                   if len(row) != len(head) or row[0].get("scope") != "row"]
    return faults


# -------------------------------------------------------------------- hostile

def hostile_list(path, source):
    data = json.loads(source.read_text())
    data["title"] = HOSTILE[0]
    for number, pattern in enumerate(data["patterns"]):
        for key in ("name", "section", "ref"):
            pattern[key] = "".join(random.sample(HOSTILE, 3)) + str(number)  # no two alike
    path.write_text(json.dumps(data))


def shown(text):
    """As a page shows it: what must not reach it is U+FFFD."""
    return re.sub("[\x00-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufffe\uffff]", "\ufffd",
                  text)


def hostile_checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "hostile.json"
        hostile_list(path, program.lists / "skerry.json")
        text = page_of(program, "--list", str(path), "--hands", "1")
        names = {shown(pattern["name"]) for pattern in json.loads(path.read_text())["patterns"]}
        yield "a hostile list is sound", str(soundness(text) or "")
        yield "a hostile list adds nothing", str(references(text) or "")
        tree = xml.fromstring(text)
        yield "its title is shown", compare(
            (tree.findtext("head/title"), "".join(tree.find("body/h1").itertext())),
            (f"Practice sheet: {HOSTILE[0]}", HOSTILE[0]))
        told = {cell.text for cell in tree.iterfind(".//tbody/tr/th/bdi")}
        yield "its names are shown", "" if told and told <= names else f"{told - names}"
        done = program.run("sheet", "--list", str(path), "--hands", "1")
        wide = screens.widest(re.sub("[\ufffe\uffff]", "x", done.stdout.decode()))
        yield "as text it fits", "" if 40 < wide <= 80 else f"{wide} columns"


# ----------------------------------------------------------------- the answers

def list_checks(program, path):
    words = ["--list", str(path), "--seed", str(random.getrandbits(64)), "--hands", "3",
             "--seat", random.choice("ESWN")]
    name = f"{path.stem}, {' '.join(words[2:])}"
    text = program.run("sheet", *words).stdout.decode()
    page = page_of(program, *words)
    dealt = [hand["hand"] for hand in program.objects(program.run("deal", *words, "--json").stdout)]
    sheet, key = text.split("\f")
    for part in (sheet, key):
        given = [re.sub("  .*", "", line[6:]).strip() for line in part.splitlines()
                 if "prevailing" in line and line.strip()[0].isdigit()]
        yield f"{name}: the hands", compare(given, dealt)
    yield f"{name}: the page is sound", str(soundness(page) or table_faults(page) or "")
    yield f"{name}: it stands alone", str(references(page) or "")
    yield f"{name}: its headings", compare(levels(page), [1, *[2, 3, 3, 3] * 2])
    yield f"{name}: its patterns", pattern_problem(program, words, page)
    yield f"{name}: its drawings", drawing_problem(page, dealt)


NAMES = ("east wind", "south wind", "west wind", "north wind", "red dragon", "green dragon",
         "white dragon", "flower", "joker")
NOTATION = ("E", "S", "W", "N", "R", "G", "Wh", "F", "J")


def tiles_of_text(text):
    """Each tile of a hand in text by its own notation."""
    return [tile for word in text.split() for tile in
            ([rank + word[-1] for rank in word[:-1]] if word[0].isdigit()
             else re.findall("Wh|.", word))]


def tiles_of_label(label):
    """The same of a hand in words: "2, 3 bams, 2 east winds"."""
    tiles, ranks = [], []
    for part in label.split(", "):
        first, _, rest = part.partition(" ")
        if first.isdigit() and not rest:
            ranks.append(first)
        elif rest.rstrip("s") in ("bam", "crak", "dot"):
            tiles += [rank + rest[0].upper() for rank in (*ranks, first)]
            ranks = []
        else:
            count, name = (int(first), rest[:-1]) if first.isdigit() else (1, part)
            tiles += [NOTATION[NAMES.index(name)]] * count
    return tiles


def drawing_problem(page, dealt):
    """Each hand is drawn in sheet and key as it was dealt, and said in words."""
    shown = xml.fromstring(page).findall(".//p[@class='dealt']/span[@class='tiles']")
    given = [[use.get("href")[3:] for use in hand.iter("use")] for hand in shown]
    said = [tiles_of_label(hand.get("aria-label")) for hand in shown]
    wanted = [tiles_of_text(hand) for hand in dealt] * 2
    return compare(given, wanted) or compare(said, wanted)


def pattern_problem(program, words, page):
    """The patterns of the key are those of rank."""
    winds = [(hand["hand"], hand["prevailing"], hand["seat"])
             for hand in program.objects(program.run("deal", *words, "--json").stdout)]
    key = xml.fromstring(page).findall("body/section[@class='key']/section")
    for section, (hand, prevailing, seat) in zip(key, winds):
        answer, = program.objects(program.run(
            "rank", words[0], words[1], "--json", "--top", "4", "--prevailing", prevailing,
            "--seat", seat, hand).stdout)
        wanted = [(row["pattern"] + (", concealed" if row["concealed"] else ""), str(row["away"]))
                  for row in answer["targets"]]
        rows = section.findall("table")[-1].findall("tbody/tr")
        given = [("".join(row[0].itertext()), row[2].text) for row in rows]
        if given != wanted:
            return compare(given, wanted)
    return "" if len(key) == len(winds) == 3 else f"{len(key)} hands"


# ------------------------------------------------------------------- discards

def discard_rows(program, path, hand, prevailing, seat):
    answer, = program.objects(program.run(
        "discard", "--json", "--top", "4", "--list", str(path), "--prevailing", prevailing,
        "--seat", seat, hand).stdout)
    return answer, [(choice["discard"], str(choice["away"]), f"{choice['expected']:.3f}",
                     str(choice["useful_count"])) for choice in answer["choices"]]


def discard_checks(program, path):
    """The key has what the task discard finds, of hands that have drawn."""
    seat = random.choice("ESWN")
    words = ["--list", str(path), "--seed", str(random.getrandbits(60)), "--hands", "2",
             "--seat", seat]
    name = f"{path.stem}, discards, {' '.join(words[2:])}"
    page = page_of(program, "--discards", *words)
    dealt = program.objects(program.run("deal", *words, "--json").stdout)
    yield f"{name}: the page is sound", str(soundness(page) or table_faults(page) or "")
    key = xml.fromstring(page).findall("body/section[@class='key']/section")
    for section, hand in zip(key, dealt):
        shown = section.find("p[@class='dealt']/span[@class='notation']").text
        drawn = answers.tiles(shown) - answers.tiles(hand["hand"])
        yield f"{name}: a tile is drawn", compare(
            (sum(drawn.values()), bool(answers.tiles(hand["hand"]) - answers.tiles(shown))),
            (seat != "E", False))
        answer, wanted = discard_rows(program, path, shown, hand["prevailing"], hand["seat"])
        table = section.find("table[@class='discards']")
        given = [] if table is None else [
            (row[0].find("span[@class='notation']").text, row[1].text, row[2].text,
             row[3].text.split(":")[0]) for row in table.findall("tbody/tr")]
        yield f"{name}: {shown}", compare(given, wanted)
    text = program.run("sheet", "--discards", *words).stdout.decode()
    yield f"{name}: as text it fits", "" if screens.widest(text) <= 80 else "too wide"
    twice = program.run("sheet", "--discards", *words).stdout.decode()
    yield f"{name}: the same again", compare(twice, text)


def discard_size_checks(program):
    hand = "2468B 246C 33D EEW R Wh"
    done = program.run("sheet", "--discards", "--list", "skerry.json", hand)
    few = program.run("sheet", "--discards", "--list", "skerry.json", hand[:-3])
    yield "a hand that has drawn", compare(
        (done.returncode, b"Best discard" in done.stdout), (0, True))
    yield "a hand that has not", compare((few.returncode, few.stdout, b"13 tiles" in few.stderr),
                                         (1, b"", True))


# ------------------------------------------------------------------- readings

WINDS = {"East": "E", "South": "S", "West": "W", "North": "N"}
TABLE = re.compile(r" {6}(\w[\w ]*): +(.*)")


def tables_of_sheet(text):
    """What the sheet shows of each hand: its tiles and winds, and the lines of the table."""
    tables, label = [], None
    for line in text.split("\f")[0].splitlines()[2:]:
        head = re.match(r" *\d+  (.*?)  +(?:deal (\d+), )?prevailing (\w+), seat (\w+)$", line)
        row = TABLE.match(line)
        if head:
            tables.append({"hand": head[1], "prevailing": head[3], "rows": {}})
        elif row and row[1] not in ("Their patterns", "Safest discard"):
            label = row[1]
            tables[-1]["rows"][label] = row[2]
        elif line.startswith(" " * 24) and tables and "___" not in line:
            tables[-1]["rows"][label] += " " + line.strip()
    return tables


def key_of_readings(text):
    """For each hand of the key: the line about the player, shares, dangers and the safest."""
    keys = []
    for part in re.split(r"\n\n *\d+  ", text.split("\f")[1])[1:]:
        words = " ".join(line.strip() for line in part.splitlines())
        keys.append({
            "left": int(re.search(r"hidden: (\d+) of", words)[1]),
            "shares": re.findall(r"^ {6,10}([<>]?[\d.]+%)  \S", part, re.MULTILINE),
            "dangers": re.findall(r"(\w+) ([<>]?[\d.]+%)[,.]",
                                  re.search(r"Danger: (.*?)Safest", words)[1]),
            "safest": re.search(r"Safest (.*?): ", words)[1]})
    return keys


def percent(part, certain=False):
    """As the program writes a share."""
    value = part * 100
    return ("0%" if value <= 0 else "100%" if certain else ">99.9%" if value >= 99.95
            else f"{value:.1f}%" if value >= 0.95 else f"{value:.2f}%" if value >= 0.095
            else f"{value:.3f}%" if value >= 0.0095 else "<0.01%")


def read_of_table(program, path, table):
    rows = table["rows"]
    player = next(label for label in rows if label in WINDS)
    seen = " ".join(rows.get(label, "") for label in ("Your sets", "Other sets"))
    answer, = program.objects(program.run(
        "read", "--json", "--list", str(path), "--exposed", rows[player], "--seen", seen,
        "--discarded", rows["Discards"], "--prevailing", table["prevailing"], "--seat",
        WINDS[player], table["hand"]).stdout)
    mine = [row for row in answer["tiles"] if row["mine"] > 0]
    least = min(row["danger"] for row in mine)
    safest = [row["tile"] for row in mine if row["danger"] <= least]
    return {"left": len(answer["patterns"]),
            "shares": [percent(row["share"], row["ready"] == answer["ready"])
                       for row in answer["patterns"][:4]],
            "dangers": [(row["tile"], percent(row["danger"], row["danger"] >= 1))
                        for row in mine],
            "safest": ", ".join(safest[:-1]) + " and " * (len(safest) > 1) + safest[-1]}


def reading_checks(program, path):
    """The key has what the task read says of the table that the sheet shows."""
    words = ["sheet", "--reading", "--list", str(path), "--hands", "2", "--seed",
             str(random.getrandbits(40)), "--seat", random.choice("ESWN")]
    name = f"{path.stem}, readings, {' '.join(words[5:])}"
    text = program.run(*words).stdout.decode()
    tables, keys = tables_of_sheet(text), key_of_readings(text)
    yield f"{name}: both hands", compare((len(tables), len(keys)), (2, 2))
    for table, key in zip(tables, keys):
        yield f"{name}: {table}", compare(key, read_of_table(program, path, table))
    yield f"{name}: as text it fits", "" if screens.widest(text) <= 80 else "too wide"
    yield f"{name}: the same again", compare(program.run(*words).stdout.decode(), text)
    page = page_of(program, *words[1:])
    yield f"{name}: the page is sound", str(soundness(page) or table_faults(page) or "")
    yield f"{name}: it stands alone", str(references(page) or "")
    safest = [part.split("Safest ")[1].split(":")[0] for part in
              ("".join(node.itertext()) for node in xml.fromstring(page).iterfind(
                  ".//p[@class='why']")) if part.startswith("Safest")]
    yield f"{name}: the page says the same", compare(safest, [key["safest"] for key in keys])


def given_reading_checks(program):
    """Hands that are given, beside a player who is given."""
    hand = "2468B 246C 33D EEW R Wh"
    player = ["--player", "SSS 444D", "--discarded", "99D", "--prevailing", "E"]
    words = ["sheet", "--reading", "--list", "jokers", *player]
    lines = program.run(*words, stdin=f"{hand}\n2468B 246C 33D SEW R Wh\n".encode())
    answer, = program.objects(program.run(
        "read", "--json", "--list", "jokers", "--exposed", *player[1:], hand).stdout)
    key = key_of_readings(lines.stdout.decode())
    yield "a hand of yours beside a player", compare(
        (lines.returncode, key[0]["left"], key[0]["dangers"]),
        (0, len(answer["patterns"]),
         [(row["tile"], percent(row["danger"])) for row in answer["tiles"] if row["mine"] > 0]))
    for more, status, said in (
            ([*player, hand.replace("EEW", "SSW")], 1, b"hand and table together have 5 of S"),
            ([hand], 2, b"name the sets of the player"),
            ([*player, "--player", "EEE", hand], 2, b"one player"),
            (["--player", "1B", hand], 2, b"--player '1B', column 1"),
            (["--player", "SSS", "--discarded", "1X", hand], 2, b"--discarded"),
            (["--player", "SSS", "--seed", "1"], 2, b"hands that you give"),
            (["--player", "SSS"], 2, b"no hand on standard input for --player"),
            (["--section", "hulls", "--seed", "1"], 2, b"before play"),
            (["--discards", "--seed", "1"], 2, b"two questions")):
        done = program.run("sheet", "--reading", "--list", "jokers", *more)
        yield f"refused: {more}", (
            "" if (done.returncode, done.stdout) == (status, b"") and said in done.stderr
            else f"{done}")
    done = program.run("sheet", "--player", "SSS", hand)
    yield "a player whom nobody asks about", compare(
        (done.returncode, b"are for --reading" in done.stderr), (2, True))
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "pairs.json"
        path.write_text(json.dumps({"format": 1, "title": "Pairs", "hand": 4, "patterns": [
            {"name": "P", "groups": [{"pair": "any", "times": 2}]}]}))
        done = program.run("sheet", "--reading", "--seed", "1", "--list", str(path))
    yield "a list that nobody claims sets for", (
        "" if done.returncode == 2 and b"has a player to read" in done.stderr else f"{done}")


# ------------------------------------------------------------- hands that are given

def without_source(text):
    """A sheet and key less what says where their hands come from."""
    text = re.sub(rb"Seed \d+\. |deal \d+, ", b"", text)
    return b" ".join(text.replace(b"\f", b" \f ").split(b" ")).split()


def given_checks(program, path):
    """Hands that deal writes are answered like those that sheet deals."""
    seat, seed = random.choice("ESWN"), str(random.randrange(10**6))
    section = next((pattern["section"] for pattern in json.loads(path.read_text())["patterns"]
                    if "section" in pattern), None)
    deals = ["--list", str(path), "--hands", "3", "--seat", seat, "--seed", seed]
    more = ["--section", section, "--within", "12", "--first", "5"] if section else []
    name = f"{path.stem}, {' '.join(deals[2:])}"
    for options in ([], more):
        whole = program.run("sheet", *deals, *options).stdout
        hands = program.run("deal", *deals, *options).stdout
        given = program.run("sheet", "--list", str(path), stdin=hands)
        yield f"{name} {' '.join(options)}: dealt and given", compare(
            without_source(given.stdout), without_source(whole))
    labels = [line.split("\t")[1] for line in hands.decode().splitlines()[1:]]
    shown = re.findall(r"deal \d+, .*", whole.decode()) if more else labels
    yield f"{name}: the numbers of the deals", compare(shown[:3], labels)
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "hands.txt"
        file.write_bytes(hands)
        for label, done in (
                ("a file", program.run("sheet", "--list", str(path), "--file", str(file))),
                ("standard input by name", program.run("sheet", "--list", str(path), "--file", "-",
                                                       stdin=hands)),
                ("a file as standard input", program.run(
                    "-c", f'exec "$0" sheet --list {path} <{file}', program.path, program="/bin/sh",
                    stdin=None))):
            yield f"{name}: {label}", compare((done.returncode, done.stdout), (0, given.stdout))
    hand = hands.decode().splitlines()[1].split("\t")[0]
    done = program.run("sheet", "--list", str(path), *hand.split())
    line = program.run("sheet", "--list", str(path), stdin=f"{hand}\n".encode())
    yield f"{name}: a hand in words", compare((done.returncode, done.stdout), (0, line.stdout))


def wind_checks(program):
    """Winds of the options come before those of a label."""
    hand = "2468B 246C 33D EEW R Wh"
    labelled = f"{hand}\tdeal 7, prevailing north, seat south\n".encode()
    plain = program.run("sheet", "--key-only", "--prevailing", "north", "--seat", "S", hand).stdout
    yield "the winds of a label", compare(
        program.run("sheet", "--key-only", stdin=labelled).stdout.replace(b"deal 7, ", b""),
        plain.replace(b" " * 8 + b"prevailing", b"prevailing"))
    for label in ("deal 7, prevailing north", "prevailing nor, seat south", "my seat south"):
        done = program.run("sheet", "--html", "-", "--key-only",
                           stdin=f"{hand}\t{label}\n".encode())
        bare = program.run("sheet", "--html", "-", "--key-only", hand)
        yield f"no winds: {label}", compare(
            done.stdout.replace(f": <bdi>{label}</bdi>".encode(), b""), bare.stdout)


def unused_checks(program):
    """Input that is not used is a mistake, and so are options."""
    hand = b"2468B 246C 33D EEW R Wh\n"
    with tempfile.TemporaryDirectory() as folder:
        file, page = pathlib.Path(folder) / "hands.txt", pathlib.Path(folder) / "page.html"
        file.write_bytes(hand)
        cases = [(words, hand) for words in (
            ["--seed", "3"], ["--hands", "2"], ["--first", "2"], ["--aim", "boat"],
            ["--section", "a", "--within", "3"], ["--points-from", "3"], ["--file", str(file)],
            ["2468B 246C 33D EEW R Wh"])]
        cases += [([*words, "--seed", "3"], b"") for words in (["--file", str(file)], [hand.decode()])]
        cases += [(["--file", str(file), "2468B 246C 33D EEW R Wh"], b""),
                  (["--prevailing", "E"], b""), (["--within", "3"], b""), ([], b"# none\n\n"),
                  ([], hand * 1001)]
        for words, stdin in cases:
            done = program.run("sheet", "--html", str(page), *words, stdin=stdin)
            yield f"unused: {words}, {len(stdin)} bytes", compare(
                (done.returncode, done.stdout, page.exists(), done.stderr.startswith(
                    b"nearhand sheet: ")), (STATUS_USAGE, b"", False, True))
        done = program.run("-c", f'exec "$0" sheet --seed 3 <{file}', program.path,
                           program="/bin/sh", stdin=None)
        yield "a file that is not used", compare((done.returncode, done.stdout), (STATUS_USAGE, b""))
        done = program.run("sheet", "--html", str(page), stdin=hand + b"2468B\nxx\n")
        yield "lines that cannot be read", compare(
            (done.returncode, done.stdout, page.exists(), b"line 2: " in done.stderr,
             b"line 3: " in done.stderr), (1, b"", False, True, True))
        idle = program.start("sheet", "--seed", "3", "--html", str(page))
        status = idle.wait(60)  # its standard input stays open, and nobody writes
        yield "a pipe that stays open", compare((status, page.exists()), (0, True))
        idle.communicate()


# ------------------------------------------------------------------------ why

WHY = re.compile(r"(?:Keeps (?P<kept>.+?), (?P<kept_away>\d+) away(?:, and (?P<also>\d+) more as "
                 r"close)?\.|Every close pattern loses at least one tile; this pass costs the least\.)"
                 r"(?: Sets back (?P<lost>.+?), which uses (?P<uses>[^:]+): (?:(?P<after>\d+) away "
                 r"instead of (?P<before>\d+)|out of reach, not (?P<reach>\d+) away)\.)?"
                 r"(?: No close pattern loses a tile\.)?"
                 r"(?: Second choice (?P<second>.+?) costs (?P<little>less than )?(?P<cost>[\d.]+): "
                 r"(?:(?P<pattern>.+?) uses "
                 r"(?P<tiles>[^,]+), (?:(?P<worse>\d+) away|out of reach) instead of (?P<best>\d+)"
                 r"(?: away)?|no close pattern loses a tile; closer (?:about as often, (?P<same>[\d.]+)% "
                 r"of the time|(?P<second_closer>[\d.]+)% of the time, not "
                 r"(?P<best_closer>[\d.]+)%))\.)?$")


def less(hand, gone):
    """A hand in text without some of its tiles."""
    tiles = tiles_of_text(hand)
    for tile in tiles_of_text(gone):
        tiles.remove(tile)
    return " ".join(tiles)


def why_problem(program, words, dealt, why):
    """The sentences of a key say what rank and pass answer."""
    listed, hand = words[:2], dealt["hand"]
    winds = ["--prevailing", dealt["prevailing"], "--seat", dealt["seat"]]

    def away(tiles, gone):
        seen = ["--seen", gone] if gone else []
        answer, = program.objects(program.run("rank", *listed, "--json", "--top", "10000", *winds,
                                              *seen, tiles).stdout)
        return {row["pattern"]: row["away"] for row in answer["targets"]}

    answer, = program.objects(program.run("pass", *listed, "--json", *winds, "--top", "10000",
                                          hand).stdout)
    best = answer["choices"][0]
    said = WHY.match(why)
    if not said:
        return f"no such sentences: {why}"
    before, after = away(hand, ""), away(less(hand, best["pass"]), best["pass"])
    held = [away for name, away in after.items() if away <= min(before[name],
                                                                min(after.values()) + 1)]
    if said["kept"]:
        kept = int(said["kept_away"])
        if not (after[said["kept"]] == kept == before[said["kept"]] == min(held)
                and int(said["also"] or 0) <= held.count(kept) - 1):
            return f"what is kept: {why}"
    elif held:
        return f"{held} are kept: {why}"
    if said["lost"] and (before[said["lost"]] != int(said["before"] or said["reach"])
                         or after.get(said["lost"]) != (said["after"] and int(said["after"]))):
        return f"what is set back: {why}"
    if said["second"]:
        second = next(row for row in answer["choices"] if row["expected"] != best["expected"])
        worse = away(less(hand, second["pass"]), second["pass"])
        cost = second["expected"] - best["expected"]
        if second["pass"] != said["second"] or not (
                0 < cost < 0.001 if said["little"] else
                cost >= 0.001 and abs(cost - float(said["cost"])) < 0.000501):
            return f"the second choice: {why}"
        if not said["pattern"]:
            closer = [f"{100 * row['nearer']:.1f}" for row in (second, best)]
            told = [said["same"] or said[key] for key in ("second_closer", "best_closer")]
            if told != closer or (closer[0] == closer[1]) != bool(said["same"]):
                return f"how often closer, {closer}: {why}"
        if said["pattern"] and (after[said["pattern"]] != int(said["best"]) or worse.get(
                said["pattern"]) != (said["worse"] and int(said["worse"]))):
            return f"what the second choice costs: {why}"
    return ""


def why_checks(program):
    for path in program.shipped_lists():
        words = ["--list", str(path), "--seed", str(random.getrandbits(64)), "--hands", "4"]
        page = page_of(program, *words, "--key-only")
        deals = program.objects(program.run("deal", *words, "--json").stdout)
        sections = xml.fromstring(page).findall("body/section[@class='key']/section")
        for dealt, section in zip(deals, sections):
            why = section.find("p[@class='why']")
            yield f"{path.stem}, {' '.join(words[2:])}, {dealt['hand']}: why", (
                why_problem(program, words, dealt, "".join(why.itertext()))
                if why is not None else "no sentence")


# ------------------------------------------------------------------ the options

def option_checks(program):
    of = [*SHEET, "--seed", "7"]
    whole = program.run(*of).stdout
    sheet, key = whole.split(b"\f")
    yield "the same bytes for a seed", compare(program.run(*of).stdout, whole)
    yield "others for another", "" if program.run(*SHEET, "--seed", "8").stdout != whole else "same"
    yield "--no-key", compare(program.run(*of, "--no-key").stdout, sheet)
    yield "--key-only", compare(program.run(*of, "--key-only").stdout, key)
    done = program.run(*of, "--no-key", "--key-only")
    yield "neither", compare((done.returncode, done.stdout), (STATUS_USAGE, b""))
    page = page_of(program, *of[1:])
    yield "the same page for a seed", compare(page_of(program, *of[1:]), page)
    for option, section in (("--no-key", "sheet"), ("--key-only", "key")):
        tree = xml.fromstring(page_of(program, *of[1:], option))
        yield f"a page with {option}", compare(
            [part.get("class") for part in tree.findall("body/section")], [section])
    seed = re.search(rb"Seed (\d+)\.", fresh := program.run(*SHEET).stdout).group(1).decode()
    yield "a fresh seed is shown", compare(program.run(*SHEET, "--seed", seed).stdout, fresh)
    for value in ("0", "1001", "x", ""):
        yield f"--hands '{value}'", compare(program.run("sheet", "--hands", value).returncode,
                                            STATUS_USAGE)


def file_checks(program):
    of = [*SHEET, "--seed", "7", "--html"]
    page = program.run(*of, "-").stdout
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "sheet.html"
        path.write_bytes(b"x" * 100000)
        done = program.run(*of, str(path))
        yield "a file is written over", compare(
            (done.returncode, done.stdout, done.stderr, path.read_bytes()), (0, b"", b"", page))
        done = program.run("sheet", "--list", "none.json", "--html", str(path))
        yield "but not without a list", compare((done.returncode, path.read_bytes()),
                                                (STATUS_USAGE, page))
        done = program.run(
            "-c", 'exec "$0" "$@" >&-', program.path, *of, str(path), program="/bin/sh")
        yield "standard output may be closed", compare((done.returncode, path.read_bytes()),
                                                       (0, page))
        done = program.run(*of, f"{folder}/none/sheet.html")
        yield "a folder that is not there", (
            "" if done.returncode == STATUS_OUTPUT and b"could not be written" in done.stderr
            else f"{done}")
    done = program.run(*of, "/dev/full")
    yield "a file on a full disk", (
        "" if done.returncode == STATUS_OUTPUT and b"could not be written" in done.stderr
        else f"{done}")


def odd_list_checks(program):
    def sheet_with(charleston):
        data = {"format": 1, "title": "Odd", "charleston": charleston, "patterns": [
            {"name": "P", "groups": [{"pung": "any", "times": 4}, {"pair": "any"}]}]}
        path.write_text(json.dumps(data))
        return program.run(*SHEET, "--seed", "1", "--list", str(path))

    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "odd.json"
        done = sheet_with({"tiles": 1})
        yield "a pass of one tile", (
            "" if b"Which one tile do you pass first" in done.stdout and b"Pass one tile:" in done.stdout
            else f"{done}")
        done = sheet_with({"tiles": 4})
        yield "a pass of four tiles", (
            "" if done.returncode == STATUS_USAGE and b"passes 4 tiles at a time" in done.stderr
            else f"{done}")
        done = program.run("audit", "--json", str(path))
        yield "and the audit warns of it", compare(
            program.objects(done.stdout)[0]["warnings"],
            ["the Charleston passes up to 4 tiles at a time: best passes are found for 3 at most"])
        done = sheet_with({"keep": ["123456789B 123456789C 123456789D ESWN R G Wh"]})
        yield "nothing may be passed", (
            "" if done.stdout.count(b"Too few of these tiles may be passed") == 3 else f"{done}")


def checks(program):
    for path in program.all_lists():
        if path.stem != SLOW:
            yield from list_checks(program, path)
            yield from given_checks(program, path)
            if any(path.stem == name for name in ("skerry", "club", "jokers", "kongs")):
                yield from discard_checks(program, path)
            if any(path.stem == name for name in ("closed", "club", "jokers", "kongs")):
                yield from reading_checks(program, path)
    yield from given_reading_checks(program)
    yield from discard_size_checks(program)
    yield from wind_checks(program)
    yield from unused_checks(program)
    yield from why_checks(program)
    yield from hostile_checks(program)
    yield from option_checks(program)
    yield from file_checks(program)
    yield from odd_list_checks(program)
