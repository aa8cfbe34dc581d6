# SPDX-License-Identifier: GPL-3.0-or-later
"""A server that is killed at a chosen step of a save."""
import os
import subprocess

# Loaded into the server: once the file $DIE_WHEN is there, the nth call that changes a file is done by half and
# the process is killed (SIGKILL can't be caught: what is not on disk or in the page cache then is gone).
DIE = r"""
#define _GNU_SOURCE
#include <dlfcn.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>
static int
due(void)
{
  static int n;
  const char *when = getenv("DIE_WHEN"), *at = getenv("DIE_AT");
  return when != NULL && at != NULL && access(when, F_OK) == 0 && ++n == atoi(at);
}
static int
is_file(int fd)
{
  struct stat st;
  return fstat(fd, &st) == 0 && S_ISREG(st.st_mode);
}
static void
die(void)
{
  kill(getpid(), SIGKILL);
  pause();
}
#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))
ssize_t
write(int fd, const void *bytes, size_t n)
{
  if (is_file(fd) && due()) {
    (void)!REAL(write)(fd, bytes, n / 2);
    die();
  }
  return REAL(write)(fd, bytes, n);
}
ssize_t
pwrite64(int fd, const void *bytes, size_t n, off64_t at)
{
  if (due()) {
    (void)!REAL(pwrite64)(fd, bytes, n / 2, at);
    die();
  }
  return REAL(pwrite64)(fd, bytes, n, at);
}
ssize_t
pwrite(int fd, const void *bytes, size_t n, off_t at)
{
  return pwrite64(fd, bytes, n, at);
}
int
fsync(int fd)
{
  if (due())
    die();
  return REAL(fsync)(fd);
}
int
rename(const char *from, const char *to)
{
  if (due())
    die();
  return REAL(rename)(from, to);
}
"""


def dies_at(step, folder):
    """The environment of a server that dies at that step once the file 'now' is in the folder."""
    library = folder / "die.so"
    if not library.exists():
        subprocess.run(["gcc", "-shared", "-fPIC", "-w", "-x", "c", "-", "-o", str(library), "-ldl"], input=DIE, text=True, check=True)
    # a sanitizer wants to be loaded first; what comes before it here calls it
    sanitizer = ":".join(filter(None, [os.environ.get("ASAN_OPTIONS"), "verify_asan_link_order=0"]))
    return {"LD_PRELOAD": str(library), "DIE_WHEN": str(folder / "now"), "DIE_AT": str(step), "ASAN_OPTIONS": sanitizer}
