/* SPDX-License-Identifier: GPL-3.0-or-later
 * The one document: it meets its file again after whatever happened to either meanwhile.
 */
#include "folder.h"
#include "page/document-private.h"
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

typedef struct {
  char *folder, *file, *state;
} Place;

static void
place_init(Place *place, gconstpointer data)
{
  (void)data;
  place->folder = g_dir_make_tmp("document-XXXXXX", NULL);
  place->file = g_build_filename(place->folder, "boats.yaml", NULL);
  place->state = g_build_filename(place->folder, "state", NULL);
  g_assert_true(g_file_set_contents(place->file, "on disk\n", -1, NULL));
}

static void
place_clear(Place *place, gconstpointer data)
{
  (void)data;
  remove_all(place->folder);
  g_free(place->folder);
  g_free(place->file);
  g_free(place->state);
}

static HfDocument *
open_it(const Place *place)
{
  g_autoptr(GError) error = NULL;
  HfDocument *document = hf_document_open(place->file, place->state, &error);
  g_assert_no_error(error);
  return document;
}

static void
type(HfDocument *document, const char *text)
{
  g_assert_true(hf_document_change(document, text, strlen(text), NULL, NULL));
}

static void
assert_text(const HfDocument *document, const char *text)
{
  gsize length;
  g_assert_cmpstr(hf_document_text(document, &length), ==, text);
}

static void
assert_file(const char *file, const char *text)
{
  g_autofree char *now = NULL;
  g_assert_true(g_file_get_contents(file, &now, NULL, NULL));
  g_assert_cmpstr(now, ==, text);
}

/* Unsaved work comes back; undo goes on behind it. */
static void
test_draft_comes_back(Place *place, gconstpointer data)
{
  (void)data;
  HfDocument *document = open_it(place);
  g_assert_true(hf_document_is_saved(document));
  g_assert_false(hf_document_is_draft(document));
  type(document, "typed\n");
  g_assert_false(hf_document_is_saved(document));
  hf_document_close(document);
  document = open_it(place);
  assert_text(document, "typed\n");
  g_assert_true(hf_document_is_draft(document));
  g_assert_cmpint(hf_document_disk(document), ==, HF_DISK_SAME);
  assert_file(place->file, "on disk\n");
  g_assert_true(hf_document_undo(document, NULL));
  assert_text(document, "on disk\n");
  g_assert_true(hf_document_is_saved(document));
  hf_document_close(document);
}

/* Nothing was unsaved: what is on disk now is taken, as a step that can be undone. */
static void
test_changed_while_closed(Place *place, gconstpointer data)
{
  (void)data;
  HfDocument *document = open_it(place);
  type(document, "saved\n");
  g_assert_true(hf_document_save(document, FALSE, NULL));
  hf_document_close(document);
  g_assert_true(g_file_set_contents(place->file, "by hand\n", -1, NULL));
  document = open_it(place);
  assert_text(document, "by hand\n");
  g_assert_true(hf_document_is_saved(document));
  g_assert_true(hf_document_undo(document, NULL));
  assert_text(document, "saved\n");
  hf_document_close(document);
}

/* Both changed: the draft stays, the file too, until the user says which. */
static void
test_both_changed(Place *place, gconstpointer data)
{
  (void)data;
  HfDocument *document = open_it(place);
  type(document, "typed\n");
  hf_document_close(document);
  g_assert_true(g_file_set_contents(place->file, "by hand\n", -1, NULL));
  document = open_it(place);
  assert_text(document, "typed\n");
  g_assert_cmpint(hf_document_disk(document), ==, HF_DISK_CHANGED);
  g_autoptr(GError) error = NULL;
  g_assert_false(hf_document_save(document, FALSE, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_NO_ROOM);
  assert_file(place->file, "by hand\n");
  g_assert_true(hf_document_reload(document, NULL));
  assert_text(document, "by hand\n");
  g_assert_cmpint(hf_document_disk(document), ==, HF_DISK_SAME);
  g_assert_true(hf_document_undo(document, NULL));
  assert_text(document, "typed\n");
  g_assert_true(hf_document_save(document, FALSE, NULL));
  assert_file(place->file, "typed\n");
  g_assert_true(g_file_set_contents(place->file, "by hand again\n", -1, NULL));
  g_assert_false(hf_document_save(document, FALSE, NULL));
  g_assert_true(hf_document_save(document, TRUE, NULL));
  assert_file(place->file, "typed\n");
  hf_document_close(document);
}

static void
test_gone(Place *place, gconstpointer data)
{
  (void)data;
  HfDocument *document = open_it(place);
  type(document, "typed\n");
  g_remove(place->file);
  g_assert_cmpint(hf_document_disk(document), ==, HF_DISK_GONE);
  g_assert_true(hf_document_save(document, FALSE, NULL));
  assert_file(place->file, "typed\n");
  hf_document_close(document);
}

/* Killed after the file was written, before that was noted. */
static void
test_killed_in_save(Place *place, gconstpointer data)
{
  (void)data;
  HfDocument *document = open_it(place);
  type(document, "typed\n");
  hf_document_close(document);
  g_assert_true(g_file_set_contents(place->file, "typed\n", -1, NULL));
  document = open_it(place);
  g_assert_true(hf_document_is_saved(document));
  g_assert_false(hf_document_is_draft(document));
  hf_document_close(document);
}

static void
test_save_as(Place *place, gconstpointer data)
{
  (void)data;
  g_autofree char *other = g_build_filename(place->folder, "ferry.yaml", NULL);
  HfDocument *document = open_it(place);
  type(document, "typed\n");
  g_autoptr(GError) error = NULL;
  g_assert_false(hf_document_save_as(document, place->file, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_NO_ROOM);
  assert_file(place->file, "on disk\n");
  g_assert_true(hf_document_save_as(document, other, NULL));
  g_assert_cmpstr(hf_document_file(document), ==, other);
  g_assert_true(hf_document_is_saved(document));
  assert_file(other, "typed\n");
  assert_file(place->file, "on disk\n");
  g_assert_true(hf_document_undo(document, NULL));
  assert_text(document, "on disk\n");
  hf_document_close(document);
}

static void
test_merge(Place *place, gconstpointer data)
{
  (void)data;
  HfDocument *document = open_it(place);
  static const char *const merges[] = {"drag-1", "drag-1", "drag-1", "drag-2", NULL, NULL};
  for (gsize i = 0; i < G_N_ELEMENTS(merges); i++) {
    char text[] = {(char)('0' + i), '\n', 0};
    g_assert_true(hf_document_change(document, text, 2, merges[i], NULL));
  }
  static const char *const undone[] = {"4\n", "3\n", "2\n", "on disk\n"};
  for (gsize i = 0; i < G_N_ELEMENTS(undone); i++) {
    g_assert_true(hf_document_undo(document, NULL));
    assert_text(document, undone[i]);
  }
  hf_document_close(document);
}

/* For the user's eyes only. */
static void
test_private(Place *place, gconstpointer data)
{
  (void)data;
  hf_document_close(open_it(place));
  g_autoptr(GDir) dir = g_dir_open(place->state, 0, NULL);
  g_autofree char *own = g_build_filename(place->state, g_dir_read_name(dir), NULL);
  static const char *const files[] = {".", "journal", "recipe"};
  for (gsize i = 0; i < G_N_ELEMENTS(files); i++) {
    g_autofree char *path = g_build_filename(own, files[i], NULL);
    struct stat info;
    g_assert_cmpint(stat(path, &info), ==, 0);
    g_assert_cmpint(info.st_mode & 0077, ==, 0);
  }
}

static void
test_no_text(Place *place, gconstpointer data)
{
  (void)data;
  g_autoptr(GError) error = NULL;
  g_assert_true(g_file_set_contents(place->file, "a\xff", 2, NULL));
  g_assert_null(hf_document_open(place->file, place->state, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
  g_assert_true(g_file_set_contents(place->file, "", 0, NULL));
  HfDocument *document = open_it(place);
  assert_text(document, "");
  g_assert_false(hf_document_change(document, "a\0b", 3, NULL, NULL));
  g_assert_false(hf_document_change(document, "\xff", 1, NULL, NULL));
  assert_text(document, "");
  hf_document_close(document);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  static const struct {
    const char *name;
    void (*test)(Place *, gconstpointer);
  } tests[] = {
      {"/page/document/draft-comes-back", test_draft_comes_back},
      {"/page/document/changed-while-closed", test_changed_while_closed},
      {"/page/document/both-changed", test_both_changed},
      {"/page/document/gone", test_gone},
      {"/page/document/killed-in-save", test_killed_in_save},
      {"/page/document/save-as", test_save_as},
      {"/page/document/merge", test_merge},
      {"/page/document/private", test_private},
      {"/page/document/no-text", test_no_text},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(tests); i++)
    g_test_add(tests[i].name, Place, NULL, place_init, tests[i].test, place_clear);
  return g_test_run();
}
