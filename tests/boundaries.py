"""What the project keeps apart: the program and the examples see nothing of
the library but its public header, no folder includes from one above it (see
floors.txt), no files include each other in a circle, no folder grows too full,
and the top level holds only what belongs there.

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
    wrong += [f"the top level has {name}" for name in strangers(root)]
    users = [path for folder in ("cli", "examples") for path in sources(root / folder)
             if any(name == PUBLIC for _, name in includes(path))]
    if not users or len(sources(root / "lib")) < 5:
        wrong.append("no source was read")
    print("\n".join(wrong) if wrong else f"{len(users)} users of {PUBLIC}, nothing out of place")
    return len(wrong) != 0


if __name__ == "__main__":
    sys.exit(main())
