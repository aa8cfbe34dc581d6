/* SPDX-License-Identifier: GPL-3.0-or-later
 * document.c - one recipe, its journal and its file.
 */
#include "base/file.h"
#include "page/document-private.h"
#include "page/journal-private.h"
#include "page/trial-private.h"
#include <errno.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_BYTES = 1 << 20 };

struct HfDocument {
  char *file;
  char *state;
  HfJournal *journal;
  char *merge; /* (nullable) of the change that came last */
  HfTrial *trial;
  gboolean draft, aside, held;
};

/* ---- places -------------------------------------------------------------------------------- */

/* The folder of a recipe's journal is named by the digest of its path. */
static char *
folder_of(const char *state, const char *file)
{
  g_autofree char *digest = hf_file_digest(file, strlen(file));
  digest[32] = '\0';
  return g_build_filename(state, digest, NULL);
}

/* For whoever looks into the folder: whose journal is this? */
static gboolean
make_folder(const char *folder, const char *file, GError **error)
{
  if (g_mkdir_with_parents(folder, 0700) != 0) {
    hf_error_set(error, HF_ERROR_IO, folder, "make it writable for you",
                 "can't make the folder for unsaved work: %s", g_strerror(errno));
    return FALSE;
  }
  g_autofree char *note = g_build_filename(folder, "recipe", NULL);
  g_autofree char *line = g_strconcat(file, "\n", NULL);
  if (g_file_test(note, G_FILE_TEST_EXISTS))
    return TRUE;
  return hf_file_write(note, line, strlen(line), error) && (g_chmod(note, 0600), TRUE);
}

static HfJournal *
open_journal(const char *state, const char *file, GError **error)
{
  g_autofree char *folder = folder_of(state, file);
  g_autofree char *path = g_build_filename(folder, "journal", NULL);
  return make_folder(folder, file, error) ? hf_journal_open(path, error) : NULL;
}

static char *
true_path(const char *file, GError **error)
{
  char *path = realpath(file, NULL);
  if (path == NULL) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, file, NULL, "can't read the file: %s",
                 g_strerror(errno));
    return NULL;
  }
  char *own = g_strdup(path);
  free(path);
  return own;
}

/* ---- the file on disk ---------------------------------------------------------------------- */

static GBytes *
read_file(const char *file, GError **error)
{
  g_autoptr(GBytes) bytes = hf_file_read(file, MOST_BYTES, error);
  if (bytes == NULL)
    return NULL;
  gsize length;
  const char *text = g_bytes_get_data(bytes, &length);
  if (length == 0 || g_utf8_validate_len(text, length, NULL))
    return g_steal_pointer(&bytes);
  hf_error_set(error, HF_ERROR_BAD_VALUE, file, "name a recipe: text in UTF-8",
               "this is no text file");
  return NULL;
}

static char *
digest_of(GBytes *bytes)
{
  gsize length;
  const void *data = g_bytes_get_data(bytes, &length);
  return hf_file_digest(data != NULL ? data : "", length);
}

static char *
digest_of_text(const HfDocument *document)
{
  gsize length;
  const char *text = hf_journal_text(document->journal, &length);
  return hf_file_digest(text, length);
}

static gboolean
take_bytes(HfDocument *document, GBytes *bytes, GError **error)
{
  gsize length;
  const char *text = g_bytes_get_data(bytes, &length);
  g_autofree char *digest = digest_of(bytes);
  g_clear_pointer(&document->merge, g_free);
  gboolean begun = !hf_journal_is_new(document->journal);
  if (text == NULL)
    text = "";
  return (begun ? hf_journal_change(document->journal, text, length, FALSE, error)
                : hf_journal_begin(document->journal, text, length, error)) &&
         hf_journal_keep(document->journal, digest, error);
}

/* What was open before meets what is on disk now. Work that was not saved is never thrown away:
 * it stays, and the file counts as changed. */
static gboolean
meet(HfDocument *document, GBytes *bytes, GError **error)
{
  if (hf_journal_is_new(document->journal))
    return take_bytes(document, bytes, error);
  g_autofree char *disk = digest_of(bytes), *text = digest_of_text(document);
  const char *kept = hf_journal_kept(document->journal);
  if (strcmp(disk, text) == 0)
    return hf_journal_keep(document->journal, disk, error);
  if (kept == NULL || strcmp(text, kept) == 0)
    return take_bytes(document, bytes, error);
  document->draft = TRUE;
  return TRUE;
}

/* A text that brought the page down when it was worked out last is not worked out once more. What
 * was not saved is set aside: the file is opened, undo brings the other text back, and a copy lies
 * beside the journal. Where the file itself is that text, it is shown and nothing more. */
static gboolean
keep_away(HfDocument *document, GBytes *bytes, GError **error)
{
  gsize length;
  const char *text = hf_journal_text(document->journal, &length);
  g_autofree char *disk = digest_of(bytes), *mine = digest_of_text(document);
  if (!hf_trial_was_fatal(document->trial, mine))
    return TRUE;
  document->held = strcmp(disk, mine) == 0;
  if (document->held)
    return TRUE;
  g_autofree char *folder = folder_of(document->state, document->file);
  g_autofree char *copy = g_build_filename(folder, "set-aside.yaml", NULL);
  if (!hf_file_write(copy, text, length, error))
    return FALSE;
  g_chmod(copy, 0600);
  document->aside = TRUE;
  document->draft = FALSE;
  return take_bytes(document, bytes, error);
}

/* What was opened with suspicion is as good as any other once it was changed. */
static void
changed(HfDocument *document)
{
  document->aside = document->held = FALSE;
}

/* A save that was killed leaves as much as it had written. It goes, once all of it stands in the
 * text that came back. */
static void
remove_unfinished(const HfDocument *document, const char *path)
{
  gsize length, size;
  const char *text = hf_journal_text(document->journal, &length);
  g_autoptr(GBytes) bytes = hf_file_read(path, MOST_BYTES, NULL);
  if (bytes == NULL)
    return;
  const char *rest = g_bytes_get_data(bytes, &size);
  if (size <= length && memcmp(rest != NULL ? rest : "", text, size) == 0)
    g_unlink(path);
}

static void
tidy(const HfDocument *document)
{
  g_autofree char *folder = g_path_get_dirname(document->file);
  g_autofree char *base = g_path_get_basename(document->file);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  for (const char *name; dir != NULL && (name = g_dir_read_name(dir)) != NULL;) {
    g_autofree char *of = hf_file_unfinished(name);
    g_autofree char *path = g_build_filename(folder, name, NULL);
    if (g_strcmp0(of, base) == 0)
      remove_unfinished(document, path);
  }
}

HfDocument *
hf_document_open(const char *file, const char *state, GError **error)
{
  g_return_val_if_fail(file != NULL && state != NULL, NULL);
  g_autoptr(HfDocument) document = g_new0(HfDocument, 1);
  document->state = g_strdup(state);
  document->file = true_path(file, error);
  if (document->file == NULL)
    return NULL;
  g_autoptr(GBytes) bytes = read_file(document->file, error);
  if (bytes == NULL)
    return NULL;
  document->journal = open_journal(state, document->file, error);
  if (document->journal == NULL)
    return NULL;
  g_autofree char *folder = folder_of(state, document->file);
  g_autofree char *note = g_build_filename(folder, "working", NULL);
  document->trial = hf_trial_open(note);
  if (!meet(document, bytes, error) || !keep_away(document, bytes, error))
    return NULL;
  tidy(document);
  return g_steal_pointer(&document);
}

void
hf_document_close(HfDocument *document)
{
  if (document == NULL)
    return;
  if (document->journal != NULL)
    hf_journal_sync(document->journal);
  g_clear_pointer(&document->trial, hf_trial_close);
  g_clear_pointer(&document->journal, hf_journal_close);
  g_free(document->merge);
  g_free(document->state);
  g_free(document->file);
  g_free(document);
}

/* ---- the text ------------------------------------------------------------------------------ */

const char *
hf_document_file(const HfDocument *document)
{
  return document->file;
}

const char *
hf_document_text(const HfDocument *document, gsize *ret_length)
{
  return hf_journal_text(document->journal, ret_length);
}

gboolean
hf_document_change(HfDocument *document, const char *text, gsize length, const char *merge,
                   GError **error)
{
  if (length > MOST_BYTES || (length > 0 && !g_utf8_validate_len(text, length, NULL))) {
    hf_error_set(error, length > MOST_BYTES ? HF_ERROR_TOO_BIG : HF_ERROR_BAD_VALUE, NULL,
                 "a recipe is text of at most 1 MB", "this can't be a recipe");
    return FALSE;
  }
  gboolean joined = merge != NULL && g_strcmp0(merge, document->merge) == 0;
  if (!hf_journal_change(document->journal, text, length, joined, error))
    return FALSE;
  g_free(document->merge);
  document->merge = g_strdup(merge);
  changed(document);
  return TRUE;
}

gboolean
hf_document_undo(HfDocument *document, GError **error)
{
  g_clear_pointer(&document->merge, g_free);
  changed(document);
  return hf_journal_undo(document->journal, error);
}

gboolean
hf_document_redo(HfDocument *document, GError **error)
{
  g_clear_pointer(&document->merge, g_free);
  changed(document);
  return hf_journal_redo(document->journal, error);
}

gboolean
hf_document_can_undo(const HfDocument *document)
{
  return hf_journal_can_undo(document->journal);
}

gboolean
hf_document_can_redo(const HfDocument *document)
{
  return hf_journal_can_redo(document->journal);
}

gboolean
hf_document_is_saved(const HfDocument *document)
{
  g_autofree char *text = digest_of_text(document);
  return g_strcmp0(text, hf_journal_kept(document->journal)) == 0;
}

gboolean
hf_document_is_draft(const HfDocument *document)
{
  return document->draft && !hf_document_is_saved(document);
}

gboolean
hf_document_is_aside(const HfDocument *document)
{
  return document->aside;
}

gboolean
hf_document_is_held(const HfDocument *document)
{
  return document->held;
}

void
hf_document_begin_work(HfDocument *document)
{
  g_autofree char *digest = digest_of_text(document);
  hf_trial_begin(document->trial, digest);
}

void
hf_document_end_work(HfDocument *document)
{
  hf_trial_end(document->trial);
}

/* ---- saving -------------------------------------------------------------------------------- */

/* What was saved just now by this very document is not a change by something else, also when the
 * server was killed before it could note that it had saved. */
HfDisk
hf_document_disk(const HfDocument *document)
{
  if (!g_file_test(document->file, G_FILE_TEST_EXISTS))
    return HF_DISK_GONE;
  g_autoptr(GBytes) bytes = hf_file_read(document->file, MOST_BYTES, NULL);
  if (bytes == NULL)
    return HF_DISK_CHANGED;
  g_autofree char *disk = digest_of(bytes), *text = digest_of_text(document);
  gboolean same =
      strcmp(disk, text) == 0 || g_strcmp0(disk, hf_journal_kept(document->journal)) == 0;
  return same ? HF_DISK_SAME : HF_DISK_CHANGED;
}

gboolean
hf_document_save(HfDocument *document, gboolean over, GError **error)
{
  if (!over && hf_document_disk(document) == HF_DISK_CHANGED) {
    hf_error_set(error, HF_ERROR_NO_ROOM, document->file,
                 "look at what is in it now, then take that, or save over it",
                 "the file was changed by something else");
    return FALSE;
  }
  gsize length;
  const char *text = hf_journal_text(document->journal, &length);
  g_autofree char *digest = digest_of_text(document);
  g_clear_pointer(&document->merge, g_free);
  if (!hf_file_write(document->file, text, length, error))
    return FALSE;
  document->draft = FALSE;
  return hf_journal_keep(document->journal, digest, error);
}

gboolean
hf_document_reload(HfDocument *document, GError **error)
{
  g_autoptr(GBytes) bytes = read_file(document->file, error);
  if (bytes == NULL)
    return FALSE;
  changed(document);
  return take_bytes(document, bytes, error);
}

/* The journal of the new file begins with that of the old one, so that undo goes on. A journal that
 * a file of that name left behind is put aside. */
static gboolean
copy_journal(const HfDocument *document, const char *file, GError **error)
{
  g_autofree char *from = folder_of(document->state, document->file);
  g_autofree char *to = folder_of(document->state, file);
  g_autofree char *source = g_build_filename(from, "journal", NULL);
  g_autofree char *target = g_build_filename(to, "journal", NULL);
  g_autofree char *aside = g_build_filename(to, "journal.before", NULL);
  if (!make_folder(to, file, error))
    return FALSE;
  if (g_file_test(target, G_FILE_TEST_EXISTS))
    g_rename(target, aside);
  char *bytes = NULL;
  gsize length = 0;
  gboolean copied = g_file_get_contents(source, &bytes, &length, NULL) &&
                    hf_file_write(target, bytes, length, error);
  g_free(bytes);
  g_chmod(target, 0600);
  if (!copied && error != NULL && *error == NULL)
    hf_error_set(error, HF_ERROR_IO, source, NULL, "can't copy the journal of changes");
  return copied;
}

gboolean
hf_document_save_as(HfDocument *document, const char *file, GError **error)
{
  gsize length;
  const char *text = hf_journal_text(document->journal, &length);
  if (!hf_file_write_new(file, text, length, error))
    return FALSE;
  g_autofree char *path = true_path(file, error);
  if (path == NULL || !copy_journal(document, path, error))
    return FALSE;
  HfDocument *other = hf_document_open(path, document->state, error);
  if (other == NULL)
    return FALSE;
  HfDocument mine = *document;
  *document = *other;
  *other = mine;
  hf_document_close(other);
  return TRUE;
}

void
hf_document_sync(HfDocument *document)
{
  hf_journal_sync(document->journal);
}
