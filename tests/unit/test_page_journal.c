/* SPDX-License-Identifier: GPL-3.0-or-later
 * The journal against a model that keeps every text: any order of changes, undo, redo, closing and
 * opening again gives the same texts; whatever is cut off at the end costs the last step only.
 */
#include "page/journal-private.h"
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static char *
new_file(void)
{
  g_autofree char *folder = g_dir_make_tmp("journal-XXXXXX", NULL);
  return g_build_filename(folder, "journal", NULL);
}

static void
remove_file(char *file)
{
  g_autofree char *folder = g_path_get_dirname(file);
  g_autofree char *damaged = g_strconcat(file, ".damaged", NULL);
  g_unlink(file);
  g_unlink(damaged);
  g_rmdir(folder);
  g_free(file);
}

static HfJournal *
open_good(const char *file)
{
  g_autoptr(GError) error = NULL;
  HfJournal *journal = hf_journal_open(file, &error);
  g_assert_no_error(error);
  return journal;
}

static void
assert_text(const HfJournal *journal, const char *text)
{
  gsize length;
  const char *now = hf_journal_text(journal, &length);
  g_assert_cmpmem(now, length, text, strlen(text));
}

static void
change(HfJournal *journal, const char *text, gboolean joined)
{
  g_autoptr(GError) error = NULL;
  g_assert_true(hf_journal_change(journal, text, strlen(text), joined, &error));
  g_assert_no_error(error);
}

/* ---- the model: a list of steps, each the texts it went through ----------------------------- */

typedef struct {
  GPtrArray *steps; /* char *: the text after each step; [0] the first */
  guint at;         /* where we are */
} Model;

static char *
random_text(GRand *rand, const char *from)
{
  GString *text = g_string_new(from);
  gsize at = text->len > 0 ? (gsize)g_rand_int_range(rand, 0, (gint32)text->len) : 0;
  gsize most = text->len - at, fewer = (gsize)g_rand_int_range(rand, 0, 6);
  g_string_erase(text, (gssize)at, (gssize)MIN(most, fewer));
  for (int n = g_rand_int_range(rand, 0, 8); n > 0; n--)
    g_string_insert_c(text, (gssize)at, (char)('a' + g_rand_int_range(rand, 0, 26)));
  return g_string_free(text, FALSE);
}

static void
model_change(Model *model, char *text, gboolean joined)
{
  const char *now = g_ptr_array_index(model->steps, model->at);
  if (strcmp(now, text) == 0) {
    g_free(text);
    return;
  }
  g_ptr_array_set_size(model->steps, (int)model->at + 1);
  if (joined && model->at > 0)
    g_ptr_array_remove_index(model->steps, model->at--);
  g_ptr_array_add(model->steps, text);
  model->at++;
}

static void
compare(const HfJournal *journal, const Model *model)
{
  assert_text(journal, g_ptr_array_index(model->steps, model->at));
  g_assert_cmpint(hf_journal_can_undo(journal), ==, model->at > 0);
  g_assert_cmpint(hf_journal_can_redo(journal), ==, model->at + 1 < model->steps->len);
}

static void
one_step(HfJournal **journal, const char *file, Model *model, GRand *rand)
{
  int what = g_rand_int_range(rand, 0, 10);
  if (what < 5) {
    gboolean joined = what == 0;
    char *text = random_text(rand, g_ptr_array_index(model->steps, model->at));
    change(*journal, text, joined);
    model_change(model, text, joined);
  } else if (what < 7) {
    g_assert_true(hf_journal_undo(*journal, NULL));
    model->at -= model->at > 0;
  } else if (what < 9) {
    g_assert_true(hf_journal_redo(*journal, NULL));
    model->at += model->at + 1 < model->steps->len;
  } else {
    hf_journal_close(*journal);
    *journal = open_good(file);
  }
}

static void
test_like_the_model(void)
{
  for (guint32 seed = 1; seed <= 20; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    char *file = new_file();
    HfJournal *journal = open_good(file);
    Model model = {g_ptr_array_new_with_free_func(g_free), 0};
    g_ptr_array_add(model.steps, g_strdup("holdfast: 1\n"));
    g_assert_true(hf_journal_is_new(journal));
    g_assert_true(hf_journal_begin(journal, "holdfast: 1\n", 12, NULL));
    for (int i = 0; i < 300; i++) {
      one_step(&journal, file, &model, rand);
      compare(journal, &model);
    }
    hf_journal_close(journal);
    g_ptr_array_unref(model.steps);
    remove_file(file);
  }
}

/* ---- cut off, damaged ----------------------------------------------------------------------- */

static gsize
size_of(const char *file)
{
  struct stat info;
  g_assert_cmpint(stat(file, &info), ==, 0);
  return (gsize)info.st_size;
}

/* Killed in mid write: at whatever byte the file ends, the text is one of those that were reached,
 * and never older than the last record that is whole. */
static void
test_cut_off_anywhere(void)
{
  char *file = new_file();
  HfJournal *journal = open_good(file);
  static const char *const texts[] = {"a", "ab", "xb", "xyz", "xz"};
  gsize sizes[G_N_ELEMENTS(texts)];
  g_assert_true(hf_journal_begin(journal, texts[0], 1, NULL));
  sizes[0] = size_of(file);
  for (gsize i = 1; i < G_N_ELEMENTS(texts); i++) {
    change(journal, texts[i], FALSE);
    sizes[i] = size_of(file);
  }
  hf_journal_close(journal);
  g_autofree char *whole = NULL;
  gsize length;
  g_assert_true(g_file_get_contents(file, &whole, &length, NULL));
  for (gsize cut = length; cut >= sizes[0]; cut--) {
    g_assert_true(g_file_set_contents(file, whole, (gssize)cut, NULL));
    gsize reached = 0;
    while (reached + 1 < G_N_ELEMENTS(texts) && sizes[reached + 1] <= cut)
      reached++;
    journal = open_good(file);
    assert_text(journal, texts[reached]);
    change(journal, "after", FALSE);
    hf_journal_close(journal);
    journal = open_good(file);
    assert_text(journal, "after");
    g_assert_true(hf_journal_undo(journal, NULL));
    assert_text(journal, texts[reached]);
    hf_journal_close(journal);
  }
  for (gsize cut = sizes[0]; cut-- > 0;) { /* before anything was begun */
    g_assert_true(g_file_set_contents(file, whole, (gssize)cut, NULL));
    journal = open_good(file);
    g_assert_true(hf_journal_is_new(journal));
    hf_journal_close(journal);
  }
  remove_file(file);
}

/* A byte that went bad costs what is behind it, which is put aside, never the start. */
static void
test_damaged(void)
{
  char *file = new_file();
  HfJournal *journal = open_good(file);
  g_assert_true(hf_journal_begin(journal, "one", 3, NULL));
  change(journal, "one two", FALSE);
  gsize good = size_of(file);
  change(journal, "one two three", FALSE);
  change(journal, "one two three four", FALSE);
  hf_journal_close(journal);
  g_autofree char *bytes = NULL, *aside = NULL, *name = g_strconcat(file, ".damaged", NULL);
  gsize length, put;
  g_assert_true(g_file_get_contents(file, &bytes, &length, NULL));
  bytes[good + 40] ^= 1;
  g_assert_true(g_file_set_contents(file, bytes, (gssize)length, NULL));
  journal = open_good(file);
  assert_text(journal, "one two");
  hf_journal_close(journal);
  g_assert_true(g_file_get_contents(name, &aside, &put, NULL));
  g_assert_cmpmem(aside, put, bytes + good, length - good);
  remove_file(file);
}

/* No file may be longer than that; who writes on gets EFBIG, as on a full disk ENOSPC. */
static void
limit_files(rlim_t size)
{
  struct rlimit now;
  g_assert_cmpint(getrlimit(RLIMIT_FSIZE, &now), ==, 0);
  now.rlim_cur = MIN(size, now.rlim_max);
  signal(SIGXFSZ, SIG_IGN);
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &now), ==, 0);
}

static char *
contents_of(const char *file, gsize *ret_length)
{
  char *bytes;
  g_assert_true(g_file_get_contents(file, &bytes, ret_length, NULL));
  return bytes;
}

/* Where what is damaged can't be put aside, whole, nothing is cut off; with room it is. */
static void
test_damaged_without_room(void)
{
  char *file = new_file();
  HfJournal *journal = open_good(file);
  g_assert_true(hf_journal_begin(journal, "one", 3, NULL));
  gsize good = size_of(file), length, left, put;
  change(journal, "one two", FALSE);
  change(journal, "one two three", FALSE);
  hf_journal_close(journal);
  g_autofree char *name = g_strconcat(file, ".damaged", NULL), *bytes = contents_of(file, &length);
  bytes[good + 40] ^= 1;
  g_assert_true(g_file_set_contents(file, bytes, (gssize)length, NULL));
  for (rlim_t room = 0; room < length - good; room += 7) {
    g_autoptr(GError) error = NULL;
    limit_files(room);
    g_assert_null(hf_journal_open(file, &error));
    limit_files(RLIM_INFINITY);
    g_assert_error(error, HF_ERROR, HF_ERROR_IO);
    g_autofree char *now = contents_of(file, &left);
    g_assert_cmpmem(now, left, bytes, length);
    g_assert_false(g_file_test(name, G_FILE_TEST_EXISTS));
  }
  journal = open_good(file);
  assert_text(journal, "one");
  hf_journal_close(journal);
  g_autofree char *aside = contents_of(name, &put);
  g_assert_cmpmem(aside, put, bytes + good, length - good);
  remove_file(file);
}

/* What was put aside once stays when more comes to it. */
static void
test_damaged_twice(void)
{
  char *file = new_file();
  g_autofree char *name = g_strconcat(file, ".damaged", NULL);
  g_assert_true(g_file_set_contents(name, "earlier", -1, NULL));
  HfJournal *journal = open_good(file);
  g_assert_true(hf_journal_begin(journal, "one", 3, NULL));
  gsize good = size_of(file), length, put;
  change(journal, "one two", FALSE);
  hf_journal_close(journal);
  g_autofree char *bytes = contents_of(file, &length);
  g_assert_true(g_file_set_contents(file, bytes, (gssize)length - 1, NULL));
  hf_journal_close(open_good(file));
  g_autofree char *aside = contents_of(name, &put);
  gsize before = strlen("earlier");
  g_assert_cmpuint(put, >, before);
  g_assert_cmpmem(aside, before, "earlier", before);
  g_assert_cmpmem(aside + before, put - before, bytes + good, length - 1 - good);
  remove_file(file);
}

static void
test_one_at_a_time(void)
{
  char *file = new_file();
  g_autoptr(HfJournal) journal = open_good(file);
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_journal_open(file, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_NO_ROOM);
  struct stat info;
  g_assert_cmpint(stat(file, &info), ==, 0);
  g_assert_cmpint(info.st_mode & 0777, ==, 0600);
  remove_file(file);
}

static void
test_not_a_journal(void)
{
  char *file = new_file();
  g_autoptr(GError) error = NULL;
  g_assert_true(g_file_set_contents(file, "somebody's own letter, no journal", -1, NULL));
  g_assert_null(hf_journal_open(file, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_IO);
  g_autofree char *text = NULL;
  g_assert_true(g_file_get_contents(file, &text, NULL, NULL));
  g_assert_cmpstr(text, ==, "somebody's own letter, no journal");
  remove_file(file);
}

/* A short one too is only taken for one that was just begun when it is the beginning of one. */
static void
test_short_and_not_a_journal(void)
{
  char *file = new_file();
  g_autoptr(GError) error = NULL;
  g_assert_true(g_file_set_contents(file, "hello", -1, NULL));
  g_assert_null(hf_journal_open(file, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_IO);
  gsize length;
  g_autofree char *text = contents_of(file, &length);
  g_assert_cmpstr(text, ==, "hello");
  g_assert_true(g_file_set_contents(file, "holdfast jou", -1, NULL));
  hf_journal_close(open_good(file));
  remove_file(file);
}

static void
test_joined(void)
{
  char *file = new_file();
  g_autoptr(HfJournal) journal = open_good(file);
  g_assert_true(hf_journal_begin(journal, "0", 1, NULL));
  change(journal, "1", FALSE);
  for (char c = '2'; c <= '9'; c++)
    change(journal, (char[]){c, 0}, TRUE);
  g_assert_true(hf_journal_undo(journal, NULL));
  assert_text(journal, "0");
  g_assert_false(hf_journal_can_undo(journal));
  g_assert_true(hf_journal_redo(journal, NULL));
  assert_text(journal, "9");
  g_assert_false(hf_journal_can_redo(journal));
  remove_file(file);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/page/journal/like-the-model", test_like_the_model);
  g_test_add_func("/page/journal/cut-off-anywhere", test_cut_off_anywhere);
  g_test_add_func("/page/journal/damaged", test_damaged);
  g_test_add_func("/page/journal/damaged-without-room", test_damaged_without_room);
  g_test_add_func("/page/journal/damaged-twice", test_damaged_twice);
  g_test_add_func("/page/journal/one-at-a-time", test_one_at_a_time);
  g_test_add_func("/page/journal/not-a-journal", test_not_a_journal);
  g_test_add_func("/page/journal/short-and-not-a-journal", test_short_and_not_a_journal);
  g_test_add_func("/page/journal/joined", test_joined);
  return g_test_run();
}
