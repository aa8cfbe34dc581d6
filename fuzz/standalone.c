/* SPDX-License-Identifier: GPL-3.0-or-later
 * standalone.c - replays a corpus through a fuzz target, each file once, in the order of names:
 * whatever once crashed a door stays tried for good. Then it tries some that nobody has tried:
 *
 *   fuzz_NAME [--tries N] [--seed S] FOLDER-OR-FILE...
 *
 * Try n of seed S is the same bytes everywhere: a file of the corpus, changed in one to four places
 * (a byte, a stretch left out, doubled, taken from another file, a number that is none). The last
 * one stands in the output: `try 17 of seed 5`.
 */
#include <gio/gio.h>
#include <stdio.h>
#include <string.h>

enum { MOST_BYTES = 65536, MOST_CHANGES = 4, MOST_STRETCH = 64 };

static gint tries = 0, seed = 1;
static const GOptionEntry OPTIONS[] = {
    {"tries", 0, 0, G_OPTION_ARG_INT, &tries, "changed inputs after the corpus", "N"},
    {"seed", 0, 0, G_OPTION_ARG_INT, &seed, "of the changes", "S"},
    {NULL, 0, 0, 0, NULL, NULL, NULL}};

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

/* ---- the corpus ------------------------------------------------------------------------------ */

/* A copy of just this length, so that a sanitizer sees a byte too far. */
static void
try_one(const GByteArray *input)
{
  g_autofree guint8 *exact = g_memdup2(input->data, input->len);
  LLVMFuzzerTestOneInput(exact != NULL ? exact : (const guint8 *)"", input->len);
}

static void
add_file(GPtrArray *corpus, const char *path)
{
  char *bytes = NULL;
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (g_file_get_contents(path, &bytes, &length, &error))
    g_ptr_array_add(corpus, g_byte_array_new_take((guint8 *)bytes, length));
  else
    fprintf(stderr, "%s\n", error->message);
}

static int
by_name(gconstpointer a, gconstpointer b)
{
  return g_strcmp0(*(char *const *)a, *(char *const *)b);
}

static void
add_folder(GPtrArray *corpus, const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  g_autoptr(GPtrArray) paths = g_ptr_array_new_with_free_func(g_free);
  for (const char *name; dir != NULL && (name = g_dir_read_name(dir)) != NULL;)
    g_ptr_array_add(paths, g_build_filename(folder, name, NULL));
  g_ptr_array_sort(paths, by_name);
  for (guint i = 0; i < paths->len; i++)
    add_file(corpus, paths->pdata[i]);
}

/* ---- changes --------------------------------------------------------------------------------- */

typedef struct {
  const GPtrArray *corpus;
  GByteArray *input;
  GRand *rand;
} Change;

static guint
below(Change *change, guint n)
{
  return n > 1 ? (guint)g_rand_int_range(change->rand, 0, (gint32)n) : 0;
}

static void
put_in(GByteArray *to, guint at, const guint8 *bytes, guint n)
{
  guint tail = to->len - at;
  if (n == 0)
    return;
  g_byte_array_set_size(to, to->len + n);
  memmove(to->data + at + n, to->data + at, tail);
  memcpy(to->data + at, bytes, n);
}

static void
other_byte(Change *change)
{
  if (change->input->len > 0)
    change->input->data[below(change, change->input->len)] = (guint8)below(change, 256);
}

static void
leave_out(Change *change)
{
  guint at = below(change, change->input->len), left = change->input->len - at;
  if (left > 0)
    g_byte_array_remove_range(change->input, at, 1 + below(change, MIN(left, MOST_STRETCH)));
}

/* A stretch of some file of the corpus, its own too. */
static void
take_from_another(Change *change)
{
  const GByteArray *from = change->corpus->pdata[below(change, change->corpus->len)];
  guint at = below(change, from->len), left = from->len - at;
  guint n = left > 0 ? 1 + below(change, MIN(left, MOST_STRETCH)) : 0;
  g_autofree guint8 *bytes = g_memdup2(from->data + at, n);
  put_in(change->input, below(change, change->input->len + 1), bytes, n);
}

static void
put_nonsense(Change *change)
{
  static const char *const NONSENSE[] = {"-1",         "0",
                                         "1e308",      "NaN",
                                         "4294967296", "-9223372036854775809",
                                         "\xff\xfe",   "\xed\xa0\x80",
                                         "%n",         "\"",
                                         "{",          "[",
                                         ": ",         "\r\n",
                                         "\t",         "&a",
                                         "*a",         "../",
                                         "\x1b[2J"};
  const char *what = NONSENSE[below(change, G_N_ELEMENTS(NONSENSE))];
  put_in(change->input, below(change, change->input->len + 1), (const guint8 *)what,
         (guint)strlen(what));
}

static void
try_changed(const GPtrArray *corpus, guint number)
{
  static void (*const CHANGES[])(Change *) = {other_byte, leave_out, take_from_another,
                                              put_nonsense};
  const guint32 from[] = {(guint32)seed, number};
  g_autoptr(GRand) rand = g_rand_new_with_seed_array(from, G_N_ELEMENTS(from));
  Change change = {corpus, g_byte_array_new(), rand};
  const GByteArray *whole = corpus->pdata[below(&change, corpus->len)];
  g_byte_array_append(change.input, whole->data, MIN(whole->len, MOST_BYTES));
  for (guint i = 0, n = 1 + below(&change, MOST_CHANGES); i < n; i++)
    CHANGES[below(&change, G_N_ELEMENTS(CHANGES))](&change);
  printf("try %u of seed %d\n", number, seed);
  fflush(stdout);
  try_one(change.input);
  g_byte_array_unref(change.input);
}

int
main(int argc, char **argv)
{
  g_autoptr(GOptionContext) context = g_option_context_new("FOLDER-OR-FILE...");
  g_autoptr(GPtrArray) corpus = g_ptr_array_new_with_free_func((GDestroyNotify)g_byte_array_unref);
  g_option_context_add_main_entries(context, OPTIONS, NULL);
  if (!g_option_context_parse(context, &argc, &argv, NULL))
    return 2;
  for (int i = 1; i < argc; i++)
    (g_file_test(argv[i], G_FILE_TEST_IS_DIR) ? add_folder : add_file)(corpus, argv[i]);
  for (guint i = 0; i < corpus->len; i++)
    try_one(corpus->pdata[i]);
  for (guint n = 0; corpus->len > 0 && (gint)n < tries; n++)
    try_changed(corpus, n);
  printf("%u inputs, %d changed ones\n", corpus->len, tries);
  return corpus->len > 0 ? 0 : 1;
}
