"""What the project keeps apart: the program and the examples see nothing of
the library but its public header, no module reaches into another's folder, and
the top level holds only what belongs there.

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


def includes(path):
    return re.findall(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', path.read_text(), re.MULTILINE)


def sources(folder):
    return sorted(path for path in folder.rglob("*.[ch]"))


def foreign_includes(folder, library):
    """Includes of a user of the library that are not its own nor public."""
    own = {path.relative_to(folder).as_posix() for path in sources(folder)}
    private = {path.name for path in sources(library)} - {PUBLIC}
    for path in sources(folder):
        for bracket, name in includes(path):
            inside = bracket == '"'
            if ".." in name or name.startswith("/"):
                yield path, name
            elif inside and name != PUBLIC and name not in own:
                yield path, name
            elif not inside and not name.startswith("sys/") and \
                    pathlib.PurePath(name).name in private:
                yield path, name
            elif inside and name in own and name in private:
                yield path, name  # which of the two is read hangs on the order of folders


def library_includes(library):
    own = {path.name for path in sources(library)}
    for path in sources(library):
        for bracket, name in includes(path):
            if bracket == '"' and name not in own:
                yield path, name


def strangers(root):
    names = {path.name for path in root.iterdir() if not path.name.startswith(".")}
    return sorted(name for name in names - TOP_LEVEL
                  if not any(fnmatch.fnmatchcase(name, folder) for folder in BUILT))


def main():
    root = pathlib.Path(sys.argv[1])
    library = root / "lib"
    wrong = [f"{path.relative_to(root)} includes {name}"
             for folder in ("cli", "examples")
             for path, name in foreign_includes(root / folder, library)]
    wrong += [f"{path.relative_to(root)} includes {name}" for path, name in library_includes(library)]
    wrong += [f"the top level has {name}" for name in strangers(root)]
    users = [path for folder in ("cli", "examples") for path in sources(root / folder)
             if any(name == PUBLIC for _, name in includes(path))]
    if not users or len(sources(library)) < 5:
        wrong.append("no source was read")
    print("\n".join(wrong) if wrong else f"{len(users)} users of {PUBLIC}, nothing out of place")
    return len(wrong) != 0


if __name__ == "__main__":
    sys.exit(main())
