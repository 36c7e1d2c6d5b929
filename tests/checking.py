"""Runs checks, which are pairs of a name and a problem; the problem is empty when all
is well."""
SHOWN = 1000  # characters shown of what is wrong


def run(*groups):
    """Prints each problem and the sums; returns the status to exit with."""
    passed = failed = 0
    for checks in groups:
        for name, problem in checks:
            if problem:
                print(f"FAILED {name}: {problem[:SHOWN]}")
            failed += bool(problem)
            passed += not problem
    print(f"{passed} passed, {failed} failed")
    return failed != 0
