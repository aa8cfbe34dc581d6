# SPDX-License-Identifier: GPL-3.0-or-later
"""What is shown is what is made, and what cures are looked for: one text goes through the stages once.

Counted from outside, by a library loaded before the others: each way through the stages reads the shop file
once, and each making of outputs draws each of its PDFs once: proof, shop sheet, traveller and template.
"""
import hashlib
import json
import pathlib
import subprocess

import pytest

from serving import PLATE, Serving

PDFS = 4
COUNT = r"""
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))
static void
count(const char *what)
{
  int fd = REAL(open)(getenv("COUNT"), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
  (void)!write(fd, what, 1);
  close(fd);
}
static int
is_shop(const char *path)
{
  const char *slash = strrchr(path, '/');
  return strcmp(slash != NULL ? slash + 1 : path, "shop.yaml") == 0;
}
#define OPEN(name) \
  int name(const char *path, int flags, ...) \
  { \
    va_list rest; \
    va_start(rest, flags); \
    int mode = va_arg(rest, int); \
    va_end(rest); \
    if (is_shop(path)) \
      count("s"); \
    return ((int (*)(const char *, int, ...))dlsym(RTLD_NEXT, #name))(path, flags, mode); \
  }
OPEN(open)
OPEN(open64)
#define OPENAT(name) \
  int name(int at, const char *path, int flags, ...) \
  { \
    va_list rest; \
    va_start(rest, flags); \
    int mode = va_arg(rest, int); \
    va_end(rest); \
    if (is_shop(path)) \
      count("s"); \
    return ((int (*)(int, const char *, int, ...))dlsym(RTLD_NEXT, #name))(at, path, flags, mode); \
  }
OPENAT(openat)
OPENAT(openat64)
void *
cairo_pdf_surface_create_for_stream(void *func, void *closure, double width, double height)
{
  count("p");
  return ((void *(*)(void *, void *, double, double))dlsym(RTLD_NEXT, "cairo_pdf_surface_create_for_stream"))(func, closure, width, height);
}
"""


class Counting(Serving):
    def counts(self):
        text = self.count.read_text() if self.count.exists() else ""
        return {"stages": text.count("s"), "papers": text.count("p")}


@pytest.fixture
def page(tmp_path):
    library = tmp_path / "count.so"
    subprocess.run(["gcc", "-shared", "-fPIC", "-w", "-x", "c", "-", "-o", str(library), "-ldl"], input=COUNT, text=True, check=True)
    folder = tmp_path / "signs"
    folder.mkdir()
    (folder / "board.yaml").write_text(PLATE)
    (folder / "shop.yaml").write_text("holdfast: 1\nkerf: 1.4 mm\n")
    serving = Counting(folder / "board.yaml", state=tmp_path / "state", env={"LD_PRELOAD": str(library), "COUNT": str(tmp_path / "count")})
    serving.count = tmp_path / "count"
    with serving as page:
        yield page


def test_one_text_goes_through_the_stages_once(page):
    page.view()
    assert page.counts() == {"stages": 1, "papers": 0}
    listed = page.get("/api/outputs")
    made = page.does("make", folder="out")
    assert page.counts() == {"stages": 1, "papers": PDFS}
    for one in listed:
        body = page.raw("GET", f"/api/output/{one['name']}")[2]
        assert body == (pathlib.Path(made["folder"]) / one["name"]).read_bytes() and len(body) == one["size"]
    assert page.raw("GET", "/api/sign.zip")[0] == 200
    page.does("make", folder="out again")
    assert page.counts() == {"stages": 1, "papers": PDFS}


def test_made_before_it_is_shown_it_is_made_of_what_will_be_shown(page):
    """Nobody waits for the view: the order does, and does not go the way again."""
    for width in range(201, 206):
        page.does("text", text=PLATE.replace("200 mm", f"{width} mm"))
        before = page.counts()
        made = page.does("make", folder="out")
        report = json.loads((pathlib.Path(made["folder"]) / "report.json").read_text())
        assert report["figures"]["box"]["width"] == width
        assert page.counts()["papers"] == before["papers"] + PDFS
    page.view()
    assert page.counts()["stages"] <= 6, "five texts and the first"


def test_another_paper_is_another_proof_of_the_same_sign(page):
    page.view()
    four = page.raw("GET", "/api/output/proof.pdf?paper=a4")[2]
    letter = page.raw("GET", "/api/output/proof.pdf?paper=letter")[2]
    assert four != letter and page.counts() == {"stages": 1, "papers": 2 * PDFS}


def test_cures_are_looked_for_in_the_sign_that_is_shown(page):
    """Each cure that is tried goes through the stages, but reads no shop file: it has the sign's."""
    page.listen()
    page.does("text", text=PLATE + "  - dot: {diameter: 20 mm, at: [300 mm, 0 mm]}\n")
    revision = page.state["revision"]
    page.view()
    before = page.counts()
    page.does("cures")
    page.hear("cures-done", lambda it: it["revision"] == revision, seconds=60)
    assert page.counts() == before


def test_what_can_not_be_made_says_why(page):
    page.does("text", text=PLATE.replace("200 mm", "0.2 mm").replace("oak", "ash") + "  - words: {text: Quay, font: No Such Face, height: 20 mm}\n")
    status, _, body = page.raw("GET", "/api/outputs")
    assert status >= 400 and "No Such Face" in json.loads(body)["error"]["what"]
    before = page.counts()
    assert page.raw("GET", "/api/output/metal.svg")[0] == status and page.counts() == before


def test_the_digests_in_the_report_are_of_what_is_served(page):
    report = page.get("/api/output/report.json")
    assert {one["name"]: one["sha256"] for one in report["files"]} == {
        one["name"]: hashlib.sha256(page.raw("GET", f"/api/output/{one['name']}")[2]).hexdigest() for one in page.get("/api/outputs") if one["name"] != "report.json"}
