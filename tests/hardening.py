"""What compiler and linker harden in a release: the program and the shared library
are read with readelf, and with nm the functions that check sizes and the stack.

    hardening.py PROGRAM SHARED_LIBRARY
"""
import re
import subprocess
import sys

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import checking


def output_of(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout


def segments(path):
    """The kinds of segments, each with its flags, such as "R E"."""
    return re.findall(r"^\s+([A-Z_]+)(?:\s+0x[0-9a-f]+){5}\s+([RWE ]{3})\s",
                      output_of("readelf", "--wide", "--program-headers", path), re.M)


def called(path):
    """Functions of others that a file calls."""
    lines = output_of("nm", "--undefined-only", "--format=posix", path).splitlines()
    return {line.split()[0].split("@")[0] for line in lines if line and not line.endswith(":")}


def of_linker(name, path):
    flags = dict(segments(path))
    dynamic = output_of("readelf", "--wide", "--dynamic", path)
    kind = re.search(r"Type:\s+(\w+)", output_of("readelf", "--file-header", path))
    both = [(kind, flags) for kind, flags in segments(path) if "W" in flags and "E" in flags]
    yield f"{name}: may be loaded anywhere", (
        "" if kind and kind[1] == "DYN" else f"its type is {kind and kind[1]}")
    yield f"{name}: has a stack without code", (
        "" if flags.get("GNU_STACK", "E").strip() == "RW" else f"GNU_STACK {flags}")
    yield f"{name}: nothing is written and run", f"{both}" if both else ""
    yield f"{name}: what is relocated is read only then", (
        "" if "GNU_RELRO" in flags else "there is no GNU_RELRO")
    yield f"{name}: and all of it before it starts", (
        "" if re.search(r"\(FLAGS\).*BIND_NOW|\(FLAGS_1\).*NOW", dynamic) else "no BIND_NOW")
    yield f"{name}: no code is relocated", "TEXTREL" if "TEXTREL" in dynamic else ""


def of_compiler(name, path):
    functions = called(path)
    yield f"{name}: the stack is watched", (
        "" if "__stack_chk_fail" in functions else "__stack_chk_fail is not called")
    yield f"{name}: sizes are watched", (
        "" if any(re.fullmatch(r"__\w+_chk", function) for function in functions)
        else "no function with _chk is called")


def main():
    program, library = sys.argv[1:3]
    return checking.run(*(group for name, path in (("program", program), ("library", library))
                          for group in (of_linker(name, path), of_compiler(name, path))))


if __name__ == "__main__":
    sys.exit(main())
