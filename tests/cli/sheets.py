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
    """Whatever a browser might fetch or run."""
    page = Page(text)
    found = [tag for tag in page.tags if tag in
             {"script", "link", "img", "iframe", "object", "embed", "base", "a", "form", "svg"}]
    found += [name for name, _ in page.attributes if name in {"src", "href", "style", "srcset"}
              or name.startswith("on")]
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
    yield "a fresh seed is told", compare(program.run(*SHEET, "--seed", seed).stdout, fresh)
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
    yield from hostile_checks(program)
    yield from option_checks(program)
    yield from file_checks(program)
    yield from odd_list_checks(program)
