/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_journal.c - any bytes as a journal of changes: it opens or is refused, and all bytes are
 * there still, in it or put aside; what it opens to can be gone through, changed, and opened again
 * to the same text.
 */
#include "page/journal-private.h"
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

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

static char *folder, *path, *aside;

static void
remove_folder(void)
{
  g_unlink(path);
  g_unlink(aside);
  g_rmdir(folder);
}

/* In a folder of its own, as what is damaged is put aside there; in memory, where there is such a
 * one, as what is put aside is synced. */
static void
make_folder(void)
{
  folder = g_mkdtemp(g_strdup("/dev/shm/fuzz-XXXXXX"));
  if (folder == NULL)
    folder = g_dir_make_tmp("fuzz-XXXXXX", NULL);
  g_assert_nonnull(folder);
  path = g_build_filename(folder, "journal", NULL);
  aside = g_strconcat(path, ".damaged", NULL);
  atexit(remove_folder);
}

/* The input is what was kept and then what was put aside. */
static void
assert_all_there(const guint8 *data, gsize size)
{
  g_autofree char *kept = NULL, *rest = NULL;
  gsize n_kept, n_rest = 0;
  g_assert_true(g_file_get_contents(path, &kept, &n_kept, NULL));
  g_file_get_contents(aside, &rest, &n_rest, NULL);
  g_assert_true(n_rest <= size);
  if (n_rest > 0)
    g_assert_cmpmem(rest, n_rest, data + size - n_rest, n_rest);
  g_assert_cmpuint(n_kept, >=, size - n_rest);
  g_assert_cmpmem(kept, size - n_rest, data, size - n_rest);
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  if (folder == NULL)
    make_folder();
  g_unlink(path);
  g_unlink(aside);
  g_assert_true(g_file_set_contents_full(path, (const char *)data, (gssize)size,
                                         G_FILE_SET_CONTENTS_NONE, 0600, NULL));
  HfJournal *journal = hf_journal_open(path, NULL);
  assert_all_there(data, size);
  if (journal != NULL) {
    go_through(journal);
    hf_journal_close(journal);
    journal = hf_journal_open(path, NULL);
    gsize length;
    g_assert_nonnull(journal);
    g_assert_cmpstr(hf_journal_text(journal, &length), ==, "the end");
    hf_journal_close(journal);
  }
  return 0;
}
