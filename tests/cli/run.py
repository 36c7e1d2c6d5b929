"""Tests of the program nearhand.

    run.py PROGRAM ROOT [--faults LIBRARY] [--under COMMAND] [--update] [--seed N] [MODULE ...]

Runs the checks of the modules below, all of them if none is named. --update
writes the answers of the golden cases anew instead: read what git shows then.
The checks of faulty.py need what faults.c is built to. --under runs the golden
cases, and nothing else, by a command that takes the program and its words, such
as valgrind.
"""
import argparse
import random
import shlex
import sys
import traceback

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import answers
import batch
import deals
import drills
import failures
import faulty
import finding
import golden
import heavy
import odd_input
import passes
import practice
import program
import screens
import sheets
import terminal
import waiting

MODULES = {module.__name__: module for module in (
    answers,
    batch,
    deals,
    drills,
    failures,
    faulty,
    finding,
    golden,
    heavy,
    odd_input,
    passes,
    practice,
    screens,
    sheets,
    terminal,
    waiting,
)}

PROBLEM_MOST = 1000  # characters told of what is wrong


def read_words():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("root")
    parser.add_argument("--faults")
    parser.add_argument("--under", type=shlex.split)
    parser.add_argument("--update", action="store_true")
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**9))
    parser.add_argument("modules", nargs="*", choices=[*MODULES, []])
    return parser.parse_args()


def run(module, tested):
    """Checks of a module that went well, and those that did not."""
    passed = failed = 0
    try:
        for name, problem in module.checks(tested):
            if problem:
                print(f"FAILED {module.__name__}: {name}: {problem[:PROBLEM_MOST]}")
            failed += bool(problem)
            passed += not problem
    except Exception:  # a check that breaks off is one that failed
        print(f"FAILED {module.__name__}:")
        traceback.print_exc(file=sys.stdout)
        failed += 1
    return passed, failed


def main():
    words = read_words()
    tested = program.Program(words.program, words.root, words.faults, words.under)
    if words.update:
        golden.update(tested)
        return 0
    print(f"seed {words.seed}")
    random.seed(words.seed)
    names = words.modules or [name for name in MODULES if words.faults or name != "faulty"]
    if words.under:
        names = ["golden"]
    results = [run(MODULES[name], tested) for name in names]
    passed, failed = (sum(column) for column in zip(*results))
    print(f"{passed} passed, {failed} failed")
    return failed != 0


if __name__ == "__main__":
    sys.exit(main())
