"""What programs that are built against the library rely on: the sizes of its
types and the places of their members, the values of its constants, and its
functions. abi.txt has them as they were; a change must be meant.

    abi.py COMPILER ROOT [--update]

--update rewrites abi.txt: read what git shows then. What is new there breaks
no program; for what has changed or gone, raise SOVERSION in lib/CMakeLists.txt.
Sizes are those of machines with 64 bits.
"""
import pathlib
import re
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import headers


def declarations(root):
    """The headers without comments, each macro in one line."""
    text = re.sub(r"/\*.*?\*/", "", headers.text(root), flags=re.S)
    return re.sub(r"\\\n\s*", "", text)


def members(body):
    """Names of the members of a struct, of which each declaration ends in ;."""
    names = []
    for declaration in filter(None, (part.strip() for part in body.split(";"))):
        pointer = re.search(r"\(\*(\w+)\)", declaration)
        if pointer:
            names.append(pointer.group(1))
        else:
            names += [re.search(r"(\w+)\s*(?:\[[^]]*\]\s*)*$", part).group(1)
                      for part in declaration.split(",")]
    return names


def structures(text):
    return {name: members(body)
            for name, body in re.findall(r"typedef struct (nh_\w+) \{(.*?)\n\} \1;", text, re.S)}


def constants(text):
    """Enumerators, and macros that are numbers."""
    names = []
    for body in re.findall(r"\benum\b[^{;]*\{(.*?)\}", text, re.S):
        names += [part.split("=")[0].strip() for part in body.split(",") if part.strip()]
    for name, value in re.findall(r"^#define (NH_\w+) (\S.*)$", text, re.M):
        if re.match(r"[\d(]", value) and not name.startswith("NH_VERSION"):
            names.append(name)
    return names


def functions(text):
    found = re.findall(r"\bNH_API\b\s*([^;()]*?\bnh_\w+\s*\([^;]*\));", text)
    return [re.sub(r"\s+", " ", function).strip() for function in found]


def lines_of(name, fields):
    yield f'    printf("struct {name}: %zu bytes\\n", sizeof({name}));'
    for field in fields:
        yield (f'    printf("struct {name}: {field} at %zu, %zu bytes\\n", '
               f'offsetof({name}, {field}), sizeof((({name} *)0)->{field}));')


def measured(compiler, root, text):
    """What the compiler makes of types and constants."""
    source = ['#include "nearhand.h"', "#include <stdio.h>", "int main(void) {"]
    for name, fields in structures(text).items():
        source += lines_of(name, fields)
    for name in re.findall(r"typedef enum (nh_\w+)", text):
        source.append(f'    printf("enum {name}: %zu bytes\\n", sizeof({name}));')
    for name in constants(text):
        source.append(f'    printf("{name} = %lld\\n", (long long){name});')
    source.append("}")
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, "abi.c")
        path.write_text("\n".join(source))
        subprocess.run([compiler, "-std=c17", "-I", root / "lib", path, "-o", f"{folder}/abi"],
                       timeout=120, check=True)
        return subprocess.run([f"{folder}/abi"], timeout=120, check=True, capture_output=True,
                              text=True).stdout.splitlines()


def interface(compiler, root):
    text = declarations(root)
    soname = re.search(r"SOVERSION (\d+)", (root / "CMakeLists.txt").read_text()).group(1)
    return [f"SOVERSION {soname}", *measured(compiler, root, text), *functions(text)]


def unread(root, lines):
    """What of the header this script would have had to read and has not."""
    text = declarations(root)
    whole = "\n".join(lines)
    names = set(re.findall(r"\b(nh_\w+)\s*\(|^\} (nh_\w+);", text, re.M))
    return sorted(name for pair in names for name in pair
                  if name and not re.search(rf"\b{name}\b", whole))


def main():
    compiler, root = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
    baseline = root / "tests/abi.txt"
    lines = interface(compiler, root)
    if sys.argv[3:] == ["--update"]:
        baseline.write_text("".join(f"{line}\n" for line in lines))
        return 0
    before = baseline.read_text().splitlines()
    gone = [f"changed or gone: {line}" for line in before if line not in lines]
    new = [f"new: {line}" for line in lines if line not in before]
    lost = [f"not read: {name}" for name in unread(root, lines)]
    for line in gone + new + lost:
        print(line)
    if gone or new:
        print("If this is meant, run tests/abi.py COMPILER ROOT --update; its top says what it takes.")
    print(f"{len(lines)} lines, {len(gone) + len(new) + len(lost)} differences")
    return len(gone) + len(new) + len(lost) > 0 or len(lines) < 100


if __name__ == "__main__":
    sys.exit(main())
