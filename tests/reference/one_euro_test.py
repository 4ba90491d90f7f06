# The One Euro filter of each panel reader against its authors' published values.
# Source: G. Casiez, N. Roussel, D. Vogel, "1 Euro Filter: A Simple Speed-based Low-pass Filter for
# Noisy Input in Interactive Systems", CHI 2012, doi 10.1145/2207676.2208639. The values are the
# first seven rows of the ground truth that the authors publish beside their implementations, made
# at 120 samples a second with mincutoff 1.0, beta 0.1 and dcutoff 1.0, to be met within 1e-4 (their
# own tolerance). And one value of the paper's equations alone. Argument: the C++ probe.
import os
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../readers"))
from languages import reader_programs, run_probe

SAMPLES_A_SECOND, TOLERANCE = 120, 1e-4
ROWS = [(-0.0385099, -0.0385099), (-0.0280664, -0.0379872), (0.048622, -0.0334427),
        (0.111498, -0.0252696), (0.053026, -0.0207099), (0.120548, -0.0119912),
        (0.00972308, -0.0106507)]
# alpha = 1 / (1 + tau / Te) with tau = 1 / (2 pi cutoff): a step from 0 to 1 with beta 0 goes as
# far as alpha in one sample: 0.0497547 at 1 Hz and 120 a second.
ALPHA, ALPHA_TOLERANCE = 0.0497547, 1e-7


def orders():
    yield "euro 1.0 0.1 1.0"
    for number, (noisy, _) in enumerate(ROWS):
        yield "sample %.9f %s" % (number / SAMPLES_A_SECOND, noisy)
    yield "euro 1.0 0.0 1.0"
    yield "sample 0.0 0.0"
    yield "sample %.12f 1.0" % (1 / SAMPLES_A_SECOND)


def main():
    failures = []
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "orders")
        with open(path, "w", encoding="ascii") as file:
            file.write("\n".join(orders()) + "\n")
        for language, command in reader_programs(sys.argv[1], folder).items():
            _, *said = run_probe(language, command, ["shape", path])
            got = [float(line) for line in said]
            if len(got) != len(ROWS) + 2:
                sys.exit("%s: %d values, expected %d" % (language, len(got), len(ROWS) + 2))
            off = [abs(value - want) for value, (_, want) in zip(got, ROWS)]
            print("%s: at most %.1e from the authors' rows" % (language, max(off)))
            failures += ["%s: row %d is %.7f, published %.7f" % (language, row, got[row], want)
                         for row, (_, want) in enumerate(ROWS) if off[row] > TOLERANCE]
            if abs(got[-1] - ALPHA) > ALPHA_TOLERANCE:
                failures.append("%s: alpha %.7f, expected %.7f" % (language, got[-1], ALPHA))
    print("\n".join(failures))
    return 1 if failures else 0


sys.exit(main())
