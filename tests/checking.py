"""Runs checks: what tests that yield pairs of a name and a problem, empty when all
is well, end with."""
SHOWN = 1000  # characters told of what is wrong


def run(*groups):
    """Tells each problem and the sums; the status to exit with."""
    passed = failed = 0
    for checks in groups:
        for name, problem in checks:
            if problem:
                print(f"FAILED {name}: {problem[:SHOWN]}")
            failed += bool(problem)
            passed += not problem
    print(f"{passed} passed, {failed} failed")
    return failed != 0
