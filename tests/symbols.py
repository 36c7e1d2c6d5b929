"""What the library shows and needs: it exports exactly the functions of
symbols.txt, which are those that the public header declares; it calls nothing
that prints or exits; and its only variable is the lock around cJSON's parser.

    symbols.py SHARED_LIBRARY STATIC_LIBRARY ROOT
"""
import pathlib
import re
import subprocess
import sys

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import headers

FORBIDDEN = {"printf", "puts", "putchar", "fprintf", "fputs", "fputc", "putc", "vprintf", "vfprintf",
             "fwrite", "perror", "write", "stdout", "stderr", "exit", "_exit", "_Exit", "quick_exit",
             "abort", "raise", "kill", "__assert_fail", "__printf_chk", "__fprintf_chk",
             "__vprintf_chk", "__vfprintf_chk"}
VARIABLES = {"lock"}


def output_of(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout


def dynamic_symbols(library, which):
    """Names without the version that the C library's carry."""
    lines = output_of("nm", "-D", which, "--format=posix", library).splitlines()
    names = {line.split()[0].split("@")[0] for line in lines}
    # Compilers' own helpers, of sanitizers and coverage, are no one's interface.
    return {name for name in names if not name.startswith(("__asan", "__ubsan", "__tsan", "__gcov",
                                                           "__odr_asan", "__llvm"))}


def declared(text):
    """Functions that the header marks as part of the interface."""
    text = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    text = re.sub(r"^#.*$", "", text, flags=re.MULTILINE)
    return set(re.findall(r"\bNH_API\b[^;(]*?\b(nh_\w+)\s*\(", text))


def variables(library):
    """Objects of the library that can change while it runs."""
    found = set()
    for line in output_of("objdump", "-t", library).splitlines():
        parts = line.replace("\t", " ").split()
        if len(parts) >= 5 and "O" in parts[1:3] and re.match(r"\.t?(data|bss)(\.(?!rel\.ro).*)?$",
                                                              parts[-3]):
            # gcc says lock.0, clang parse.lock
            found.add([part for part in parts[-1].split(".") if not part.isdigit()][-1])
    return {name for name in found if not name.startswith("__")}


def report(what, names):
    for name in sorted(names):
        print(f"{what}: {name}")
    return len(names)


def main():
    shared, static, root = sys.argv[1:]
    root = pathlib.Path(root)
    listed = set((root / "tests/symbols.txt").read_text().split())
    header = declared(headers.text(root))
    exported = dynamic_symbols(shared, "--defined-only")
    needed = dynamic_symbols(shared, "--undefined-only")
    found = variables(static)
    wrong = report("listed but not exported", listed - exported)
    wrong += report("exported but not listed", exported - listed)
    wrong += report("listed but not in the header", listed - header)
    wrong += report("in the header but not listed", header - listed)
    wrong += report("the library must not use", needed & FORBIDDEN)
    wrong += report("the library must not have the variable", found - VARIABLES)
    # An empty list would agree with an empty library.
    if len(listed) < 20 or "nh_rank" not in header or "free" not in needed:
        print("the names could not be read")
        wrong += 1
    print(f"{len(listed)} functions, {wrong} wrong")
    return wrong != 0


if __name__ == "__main__":
    sys.exit(main())
