# SPDX-License-Identifier: GPL-3.0-or-later
"""Processor seconds of another process: what a promise of time can be held against while the machine is busy.

Source: POSIX.1-2017, clock_getcpuclockid (the clock of a process), and wait4 of 4.3BSD for the sum at its end.
"""
import ctypes
import os
import time

_libc = ctypes.CDLL(None, use_errno=True)


def spent(pid):
    """Processor seconds of `pid`, all of its threads, until now."""
    clock = ctypes.c_int()
    code = _libc.clock_getcpuclockid(ctypes.c_int(pid), ctypes.byref(clock))
    if code != 0:
        raise ProcessLookupError(code, os.strerror(code))
    return time.clock_gettime(clock.value)


def ended(process):
    """Waits for the end of a subprocess.Popen; its processor seconds in all."""
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return usage.ru_utime + usage.ru_stime
