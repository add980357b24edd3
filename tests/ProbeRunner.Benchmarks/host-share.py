#!/usr/bin/env python3
"""Share of a run's time that is the program's own: from each acknowledgment to the next line sent, by the wire log.

    host-share.py WIRE-LOG...

Waits that the program makes on purpose (a dwell, a person's answer) count as its own, so give it an unattended run.
"""
import re
import sys
from datetime import datetime

LINE = re.compile(r"(\S+) (->|<-) (.*)")


def main(files):
    own, gaps, first, last, acknowledged = 0.0, [], None, None, None
    for file in files:
        for text in open(file, encoding="utf-8"):
            match = LINE.match(text)
            if not match:
                continue
            at = datetime.fromisoformat(match[1]).timestamp()
            first, last = first or at, at
            if match[2] == "<-" and match[3].startswith("ok"):
                acknowledged = at
            elif match[2] == "->" and acknowledged:
                gaps.append(at - acknowledged)
                acknowledged = None
    gaps.sort()
    own = sum(gaps)
    print(f"{len(gaps)} exchanges in {last - first:.1f} s; the program's own {own:.2f} s, {100 * own / (last - first):.2f} %; "
          f"between acknowledgment and next line: median {1000 * gaps[len(gaps) // 2]:.2f} ms, p99 {1000 * gaps[int(len(gaps) * 0.99)]:.2f} ms, longest {1000 * gaps[-1]:.1f} ms")


main(sys.argv[1:])
