"""What a judge says: one line for each check, a closing line with the counts, an exit code."""

import sys


class Verdict:
    """Counts checks; failures are printed with the name of the file or part they are about."""

    def __init__(self, quiet=False):
        self.passed = 0
        self.failures = []
        self.quiet = quiet

    def check(self, name, well, says=""):
        """Records one check; `says` is printed when it fails."""
        if well:
            self.passed += 1
        else:
            self.failures.append(f"{name}: {says}" if says else name)
            if not self.quiet:
                print(f"FAILED {self.failures[-1]}")
        return bool(well)

    def attempt(self, name, work):
        """Runs `work`; an exception is a failure of `name`. Its value, or None."""
        try:
            return work()
        except Exception as problem:  # a judge reports whatever a reader stumbles over
            self.check(name, False, f"{type(problem).__name__}: {problem}")
            return None

    def close(self):
        """Prints the closing line and leaves the program."""
        print(f"{self.passed} passed, {len(self.failures)} failed")
        sys.exit(1 if self.failures or not self.passed else 0)
