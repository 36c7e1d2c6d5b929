"""What the project keeps apart: the program and the examples see nothing of
the library but its public header, no folder includes from one above it (see
floors.txt), no files include each other in a circle, no folder grows too full,
a name means one thing, files that print work nothing out, and the top level holds
only what belongs there.

    boundaries.py ROOT
"""
import fnmatch
import pathlib
import re
import sys

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "CMakeLists.txt", "LICENSE", "lib", "cli", "patterns",
             "tests", "examples"}
BUILT = ("build", "build-*")  # folders that .gitignore names
PUBLIC = "nearhand.h"
CHAPTERS = re.compile(r"nearhand(_\w+)?\.h$")  # the headers that anyone may include
MOST_FILES = 16  # C files of a folder of lib or cli
MOST_LINES = 400  # of a public header
MOST_BYTES = 11000  # of README.md

# Functions that several files have, each its own, because it plays the same part there.
# So do those whose name ends in _out: they print what they are named after, in the form
# of their file.
SAME_PART = {
    "run": "a task of the program",
    "options_agree": "a task: the options that exclude each other",
    "prepare_question": "a task: its options made a question",
    "asked_free": "a task: its options and question are given back",
    "answer_hands": "a task: words or lines are answered",
    "answer_line": "a task: one line is answered",
    "begin_worker": "a task: what a thread needs",
    "end_worker": "a task: what a thread needs",
    "refuse": "a task: a line that cannot be answered",
    "row_text": "the cells of a table's row as a line",
    "sheet_begin": "a form of practice sheets",
    "sheet_head": "a form of practice sheets",
    "sheet_hand": "a form of practice sheets",
    "key_head": "a form of practice sheets",
    "key_hand": "a form of practice sheets",
    "hear": "a listener to a game",
    "kernels_of_processor": "the kernels of a processor, of which one file is built",
}


def includes(path):
    return re.findall(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', path.read_text(), re.MULTILINE)


def sources(folder):
    return sorted(path for path in folder.rglob("*.[ch]"))


def foreign_includes(folder):
    """Includes of a user of the library that are not its own nor public."""
    own = {path.relative_to(folder).as_posix() for path in sources(folder)}
    for path in sources(folder):
        for bracket, name in includes(path):
            if bracket == '"' and not CHAPTERS.match(name) and name not in own:
                yield f"{path} includes {name}"
            if bracket == "<" and (folder.parent / "lib" / name).exists() and not CHAPTERS.match(name):
                yield f"{path} includes <{name}>"


def twice_named(root):
    """Headers of lib and cli that one #include could both mean."""
    library, program = ({path.relative_to(root / area).as_posix() for path in sources(root / area)}
                        for area in ("lib", "cli"))
    return [f"lib and cli both have {name}" for name in sorted(library & program)]


# ------------------------------------------------------------------ floors


def read_floors(path):
    """For each folder, the folders that it may include from."""
    floors = {}
    for line in path.read_text().splitlines():
        if line and not line.startswith("#"):
            folder, below = line.split(":")
            floors[folder] = set(below.split())
    return floors


def folder_of(path, area):
    return path.relative_to(area).parent.as_posix()


def upward_includes(root, floors):
    """Includes that floors.txt does not allow, and folders that it does not name."""
    found = set()
    for area in (root / "lib", root / "cli"):
        for path in sources(area):
            folder = folder_of(path, area)
            name = f"{area.name}/{folder}"
            found.add(name)
            if name not in floors:
                yield f"floors.txt does not name {name}"
                continue
            for bracket, header in includes(path):
                if bracket != '"' or CHAPTERS.match(header):
                    continue
                if not (area / header).exists():
                    yield f"{path.relative_to(root)} includes {header}, which is not there"
                elif (other := pathlib.PurePath(header).parent.as_posix()) != folder and \
                        other not in floors[name]:
                    yield f"{path.relative_to(root)} includes {header} from a floor above"
    yield from (f"floors.txt names {name}, which is not there" for name in floors.keys() - found)


def circles(area):
    """Circles of files. A header and its source count as one file."""
    def stem(name):
        return name.rsplit(".", 1)[0]
    uses = {}
    for path in sources(area):
        own = stem(path.relative_to(area).as_posix())
        uses.setdefault(own, set()).update(
            stem(name) for bracket, name in includes(path)
            if bracket == '"' and stem(name) != own)
    done, way = set(), []

    def walk(name):
        if name in way:
            yield " -> ".join(way[way.index(name):] + [name])
            return
        if name in done:
            return
        done.add(name)
        way.append(name)
        for other in sorted(uses.get(name, ())):
            yield from walk(other)
        way.pop()

    for name in sorted(uses):
        yield from walk(name)


def crowded(area):
    for folder in {path.parent for path in sources(area)}:
        count = len(list(folder.glob("*.c")))
        if count > MOST_FILES:
            yield f"{folder} has {count} C files"


# ------------------------------------------------------------------- names

# A function's head begins a line, its body ends the head.
FUNCTION = re.compile(r"^[a-zA-Z_][\w ]*?[ *]+(?!__)(\w+)\([^;{}]*\)\s*\{", re.MULTILINE)


def functions(areas):
    """For each name of a function, the files that define one."""
    files = {}
    for path in (path for area in areas for path in sources(area)):
        for match in FUNCTION.finditer(path.read_text()):
            files.setdefault(match[1], set()).add(path)
    return files


def named_alike(root):
    """Functions of one name in several files that need not mean the same."""
    defined = functions((root / "lib", root / "cli"))
    for name, files in sorted(defined.items()):
        if len(files) > 1 and name not in SAME_PART and not name.endswith("_out"):
            yield f"{name} is defined in " + ", ".join(
                sorted(path.relative_to(root).as_posix() for path in files))
    for name in SAME_PART:
        if len(defined.get(name, ())) < 2:
            yield f"boundaries.py names {name}, which no two files define"


# ---------------------------------------------------------------- printing

# Files of the program that print an answer, and the calls of the library that read
# what is at hand: all others work something out, or change something.
PRINTING = re.compile(r"(_(text|json|tsv|html|svg|table|columns|bars|rounds)|^review|_review)\.c$")
READS = re.compile(r"nh_(list_(?!load|read|rest|free)\w+|audit_variant\w*|group\w*|layout_group|sets_parse|"
                   r"(kind|direction|wind)_\w+|seat_(receiver|sender|wind)|set_tiles|piece_tiles|"
                   r"tiles_\w+|natural_\w+|reading_(pattern|tile)|status_text|utf8_next|version\w*|"
                   r"workspace_list)$")


def calls(area):
    """For each function of the area, as (file, name), the names that it calls."""
    called = {}
    for path in sources(area):
        text = path.read_text()
        for match in FUNCTION.finditer(text):
            body = text[match.end():text.find("\n}", match.end())]
            called[path, match[1]] = set(re.findall(r"\b(\w+)\(", body))
    return called


def printers_that_work(program):
    """Calls of the library that a printing file comes to, itself or through others,
    and that do more than read."""
    called = calls(program)
    places = {}
    for path, name in called:
        places.setdefault(name, []).append((path, name))
    for path, name in called:
        if not PRINTING.search(path.name):
            continue
        seen, ahead = set(), [(path, name)]
        while ahead:
            here = ahead.pop()
            if here in seen:
                continue
            seen.add(here)
            for other in called[here]:
                if other.startswith("nh_") and not READS.match(other):
                    yield f"{path}: {name} comes to {other} in {here[0].name}"
                own = (here[0], other)
                if own in called:
                    ahead.append(own)
                elif len(places.get(other, ())) == 1:
                    ahead += places[other]


def too_long(root):
    """What is to be read in one go, and no longer can be."""
    for header in sorted((root / "lib").glob("nearhand*.h")):
        lines = header.read_text().count("\n")
        if lines >= MOST_LINES:
            yield f"{header} has {lines} lines"
    size = (root / "README.md").stat().st_size
    if size >= MOST_BYTES:
        yield f"README.md has {size} bytes"


def lost_files(root):
    """Files that DEVELOPERS.md names, by a part of their path, and that are not there."""
    there = {path.relative_to(root).as_posix() for area in (".ci", "cli", "examples", "lib",
                                                             "patterns", "tests")
             for path in (root / area).rglob("*") if path.is_file()}
    for named in set(re.findall(r"`([a-z0-9][a-z0-9_./-]*\.(?:c|h|py|txt|in|json|awk|svg|md|mjs))`",
                                (root / "DEVELOPERS.md").read_text())):
        if not any(path == named or path.endswith("/" + named) for path in there) and \
                not (root / named).is_file():
            yield f"DEVELOPERS.md names {named}, which is not there"


def strangers(root):
    names = {path.name for path in root.iterdir() if not path.name.startswith(".")}
    return sorted(name for name in names - TOP_LEVEL
                  if not any(fnmatch.fnmatchcase(name, folder) for folder in BUILT))


def main():
    root = pathlib.Path(sys.argv[1])
    wrong = [text for folder in ("cli", "examples") for text in foreign_includes(root / folder)]
    wrong += twice_named(root)
    wrong += upward_includes(root, read_floors(root / "tests/floors.txt"))
    wrong += [f"a circle in {area}: {circle}" for area in ("lib", "cli")
              for circle in circles(root / area)]
    wrong += [text for area in ("lib", "cli") for text in crowded(root / area)]
    wrong += too_long(root)
    wrong += lost_files(root)
    wrong += named_alike(root)
    wrong += printers_that_work(root / "cli")
    if not any(PRINTING.search(path.name) for path in sources(root / "cli")):
        wrong.append("no file that prints was found")
    wrong += [f"the top level has {name}" for name in strangers(root)]
    users = [path for folder in ("cli", "examples") for path in sources(root / folder)
             if any(name == PUBLIC for _, name in includes(path))]
    if not users or len(sources(root / "lib")) < 5:
        wrong.append("no source was read")
    print("\n".join(wrong) if wrong else f"{len(users)} users of {PUBLIC}, nothing out of place")
    return len(wrong) != 0


if __name__ == "__main__":
    sys.exit(main())
