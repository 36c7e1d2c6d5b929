"""Tests of the program nearhand.

    run.py PROGRAM ROOT [--faults LIBRARY] [--under COMMAND] [--update] [--seed N] [MODULE ...]

Runs the checks of the modules below, all of them if none is named. --update
rewrites the answers of the golden cases instead: read what git shows then.
The checks of faulty.py need what faults.c is built to. --under runs the golden
cases, and nothing else, by a command that takes the program and its words, such
as valgrind.
"""
import argparse
import contextlib
import io
import multiprocessing
import random
import shlex
import signal
import sys
import traceback

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import answers
import batch
import charts
import claims
import deals
import surveys
import discards
import drills
import failures
import faulty
import finding
import golden
import heavy
import keeping
import kept_parts
import kept_rounds
import leaning
import odd_input
import outputs
import passes
import past_rounds
import practice
import reads
import program
import screens
import sheets
import terminal
import waiting
import wording

MODULES = {module.__name__: module for module in (
    answers,
    batch,
    charts,
    claims,
    deals,
    surveys,
    discards,
    reads,
    drills,
    failures,
    faulty,
    finding,
    golden,
    heavy,
    keeping,
    kept_parts,
    kept_rounds,
    leaning,
    odd_input,
    outputs,
    passes,
    past_rounds,
    practice,
    screens,
    sheets,
    terminal,
    waiting,
    wording,
)}

PROBLEM_MOST = 1000  # characters shown of what is wrong
MODULE_MOST = 3600  # seconds, for a module that waits for what never comes


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


LONG = ("faulty", "drills", "answers", "heavy", "golden")  # begun first


def break_off(*_):
    raise TimeoutError(f"it takes longer than {MODULE_MOST} seconds")


def run(module, tested):
    """Checks of a module that went well, and those that did not."""
    passed = failed = 0
    signal.signal(signal.SIGALRM, break_off)
    signal.alarm(MODULE_MOST)
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
    signal.alarm(0)
    return passed, failed


def run_apart(words, name):
    """A module in a process of its own: what it tells, and its sums."""
    random.seed(f"{words.seed} {name}")
    told = io.StringIO()
    with contextlib.redirect_stdout(told):
        sums = run(MODULES[name], tested_by(words))
    return told.getvalue(), sums


def run_all(words, names):
    """Two modules at a time, as most of the time goes to the program; each with
    random numbers that hang on the seed and its name alone."""
    names = sorted(names, key=lambda name: LONG.index(name) if name in LONG else len(LONG))
    with multiprocessing.get_context("fork").Pool(2) as pool:
        asked = [(words, name) for name in names]
        for told, sums in pool.starmap(run_apart, asked, chunksize=1):
            print(told, end="")
            yield sums


def tested_by(words):
    return program.Program(words.program, words.root, words.faults, words.under)


def main():
    words = read_words()
    if words.update:
        golden.update(tested_by(words))
        return 0
    print(f"seed {words.seed}")
    names = words.modules or [name for name in MODULES if words.faults or name != "faulty"]
    if words.under:
        names = ["golden"]
    passed, failed = (sum(column) for column in zip(*run_all(words, names)))
    print(f"{passed} passed, {failed} failed")
    return failed != 0


if __name__ == "__main__":
    sys.exit(main())
