/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_journal.c - any bytes as a journal of changes: it opens or is refused; what it opens to can
 * be gone through, changed, and opened again to the same text.
 */
#include "page/journal-private.h"
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

enum { STEPS = 50 };

static void
go_through(HfJournal *journal)
{
  if (hf_journal_is_new(journal))
    g_assert_true(hf_journal_begin(journal, "new", 3, NULL));
  for (int i = 0; i < STEPS && hf_journal_can_undo(journal); i++)
    if (!hf_journal_undo(journal, NULL))
      break;
  for (int i = 0; i < STEPS / 2 && hf_journal_can_redo(journal); i++)
    if (!hf_journal_redo(journal, NULL))
      break;
  g_assert_true(hf_journal_change(journal, "the end", 7, FALSE, NULL));
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  int fd = memfd_create("journal", MFD_CLOEXEC);
  if (fd < 0 || write(fd, data, size) != (gssize)size)
    return 0;
  g_autofree char *path = g_strdup_printf("/proc/self/fd/%d", fd);
  HfJournal *journal = hf_journal_open(path, NULL);
  if (journal != NULL) {
    go_through(journal);
    hf_journal_close(journal);
    journal = hf_journal_open(path, NULL);
    gsize length;
    g_assert_nonnull(journal);
    g_assert_cmpstr(hf_journal_text(journal, &length), ==, "the end");
    hf_journal_close(journal);
  }
  close(fd);
  return 0;
}
