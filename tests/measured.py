# SPDX-License-Identifier: GPL-3.0-or-later
"""What a command costs by itself. The kernel counts into a child's greatest memory what stood there before exec, which is the
parent's: a test worker that has read much would be taken for the command. A small process starts it instead.
"""
import collections
import json
import os
import subprocess
import sys

Cost = collections.namedtuple("Cost", "code said seconds kilobytes")  # minus the signal; processor seconds; the most at once

STARTER = """
import json, resource, subprocess, sys
try:
    code = subprocess.run(sys.argv[2:], timeout=float(sys.argv[1]), stdout=sys.stderr).returncode
except subprocess.TimeoutExpired:
    code = -9
used = resource.getrusage(resource.RUSAGE_CHILDREN)
print(json.dumps([code, used.ru_utime + used.ru_stime, used.ru_maxrss]))
"""


def measured(*command, cwd=None, longest=600):
    """Runs it for @longest seconds at the most; what it says is both of its streams in turn."""
    done = subprocess.run([sys.executable, "-S", "-E", "-c", STARTER, str(longest), *map(str, command)], cwd=cwd, capture_output=True,
                          env={**os.environ, "LC_ALL": "C.UTF-8"}, check=True)
    code, seconds, kilobytes = json.loads(done.stdout)
    return Cost(code, done.stderr.decode(), seconds, kilobytes)
