/* SPDX-License-Identifier: GPL-3.0-or-later
 * batch.c - many recipes on all cores; told in the order in which they were named.
 *
 *   worker threads take the next recipe, run it, keep what is to be printed
 *   this thread prints each in turn, as soon as it and all before it are done
 */
#include "base/beside.h"
#include "base/seen.h"
#include "cli/cli-private.h"
#include "run/treated.h"
#include "stock/cautions.h"
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct {
  const char *file;
  gboolean done;
  int code;
  char *said;  /* for stdout */
  HfLeft left; /* what lay in the folder */
  GError *error;
} Turn;

typedef struct {
  const HfBatch *batch;
  Turn *turns;
  guint n;
  gint next;      /* atomic: the next turn to take */
  guint told;     /* reports printed so far */
  guint finished; /* under lock */
  GMutex lock;
  GCond changed;
} Crew;

gboolean
hf_cli_units(const char *word, HfUnits *ret_units)
{
  *ret_units = word != NULL ? hf_units_of_word(word) : HF_UNITS_UNSAID;
  if (word == NULL || *ret_units != HF_UNITS_UNSAID)
    return TRUE;
  g_autofree char *shown = hf_seen_value(word);
  g_printerr("holdfast: --units '%s' is not known; there is mm, in and in-decimal\n", shown);
  return FALSE;
}

/* ---- one recipe ---------------------------------------------------------------------------- */

static char *
report_of(const HfJob *job)
{
  g_autoptr(GBytes) bytes = hf_job_report(job);
  return g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
}

static gboolean
make(const HfBatch *batch, HfJob *job, HfLeft *ret_left, GError **error)
{
  return hf_job_make(job, batch->cancel, error) &&
         hf_job_write(job, batch->folder, batch->cancel, ret_left, error);
}

/* The verdict, and the sizes where they are asked for. */
static char *
verdict_of(const HfBatch *batch, const HfSign *sign)
{
  g_autofree char *verdict = hf_run_verdict(sign, hf_cli_colour(STDOUT_FILENO), batch->all);
  g_autofree char *sizes = batch->sizes ? hf_run_sizes(sign) : NULL;
  return g_strconcat(verdict, sizes, NULL);
}

static char *
words_with(const HfBatch *batch, const HfTreated *treated, const HfCured *cured, const HfJob *job)
{
  const HfSign *sign = hf_job_sign(job, 0);
  g_autofree char *of_sign = verdict_of(batch, sign), *program = hf_job_words(job);
  g_autofree char *verdict = g_strconcat(of_sign, program, NULL);
  if (cured != NULL) {
    g_autofree char *line = hf_treated_line(cured),
                    *sentence = hf_seen_message(cured->sentence, FALSE);
    return g_strdup_printf("%s  cured: %s\n         %s\n", verdict, sentence, line);
  }
  return g_strconcat(verdict, treated->searched ? "  no cure was found that makes it whole\n" : "",
                     NULL);
}

/* The best cure of what is not whole. One hand: the recipes of a batch already have all cores. */
static void
do_cured(const HfBatch *batch, Turn *turn, guint hands)
{
  HfRunOptions options = {batch->shop_file, batch->cancel, FALSE, &batch->order};
  HfCuresOptions cures = {.cancel = batch->cancel, .hands = hands};
  g_autoptr(HfTreated) treated =
      hf_treated_file(turn->file, &options, HF_SEARCH_FOR_WHOLE, &cures, &turn->error);
  const HfCured *cured = treated != NULL ? hf_run_cures_best(treated->cures) : NULL;
  g_autoptr(HfJob) job = treated != NULL ? hf_treated_job(treated, cured, batch->wishes) : NULL;
  if (job == NULL || !make(batch, job, &turn->left, &turn->error)) {
    turn->code = hf_error_exit_code(turn->error);
    return;
  }
  turn->code = hf_job_sign(job, 0)->hold->whole ? 0 : 1;
  if (batch->json)
    turn->said = report_of(job);
  else if (!batch->quiet)
    turn->said = words_with(batch, treated, cured, job);
}

char *
hf_cli_line(const char *file, const HfOrder *order)
{
  g_autofree char *name = g_shell_quote(file), *words = hf_order_words(order);
  const char *plain = strpbrk(file, " '\"\\$&;()<>|*?~#`!") == NULL ? file : name;
  g_autofree char *line = g_strconcat(plain, words, NULL);
  return hf_seen(line, FALSE);
}

/* The verdict, and where the way out of a stop is to be found. */
static char *
words_of(const HfBatch *batch, const HfJob *job, const char *file)
{
  const HfSign *sign = hf_job_sign(job, 0);
  g_autofree char *verdict = verdict_of(batch, sign), *program = hf_job_words(job);
  if (sign->hold->whole)
    return g_strconcat(verdict, program, NULL);
  g_autofree char *line = hf_cli_line(file, &batch->order);
  return g_strconcat(verdict, "  to see what would make it whole: holdfast cure ", line, "\n",
                     NULL);
}

static void
do_given(const HfBatch *batch, Turn *turn)
{
  HfRunOptions options = {batch->shop_file, batch->cancel, FALSE, &batch->order};
  g_autoptr(HfSign) sign = hf_run_file(turn->file, &options, &turn->error);
  g_autoptr(HfJob) job = sign != NULL ? hf_job_new(sign, batch->wishes) : NULL;
  if (job == NULL || (batch->make && !make(batch, job, &turn->left, &turn->error))) {
    turn->code = hf_error_exit_code(turn->error);
    return;
  }
  turn->code = hf_job_sign(job, 0)->hold->whole ? 0 : 1;
  if (batch->json)
    turn->said = report_of(job);
  else if (!batch->quiet)
    turn->said = words_of(batch, job, turn->file);
}

static gpointer
work(gpointer data)
{
  Crew *crew = data;
  g_auto(HfUnitsScope) scope = hf_units_scope(crew->batch->units);
  guint i;
  while ((i = (guint)g_atomic_int_add(&crew->next, 1)) < crew->n) {
    if (!hf_cancel_check(crew->batch->cancel, &crew->turns[i].error))
      crew->turns[i].code = 130;
    else if (crew->batch->cure)
      do_cured(crew->batch, &crew->turns[i], crew->n > 1 ? 1 : 0);
    else
      do_given(crew->batch, &crew->turns[i]);
    g_mutex_lock(&crew->lock);
    crew->turns[i].done = TRUE;
    crew->finished++;
    g_cond_signal(&crew->changed);
    g_mutex_unlock(&crew->lock);
  }
  return NULL;
}

/* ---- telling ------------------------------------------------------------------------------- */

static void
show_progress(const Crew *crew, guint finished)
{
  if (!isatty(STDERR_FILENO) || crew->batch->quiet || crew->n < 2)
    return;
  if (finished == crew->n)
    fputs("\r\033[K", stderr);
  else
    fprintf(stderr, "\r\033[K%u of %u: %s", finished, crew->n, crew->turns[finished].file);
  fflush(stderr);
}

static void
tell_left(const HfLeft *left)
{
  g_autofree char *kept = hf_seen(left->kept, FALSE), *half_done = hf_seen(left->half_done, FALSE);
  if (kept != NULL)
    g_print("  kept: the cured.yaml that lay there is not as holdfast left it; it is %s now\n",
            kept);
  if (half_done != NULL)
    g_print("  mind: %s had files but no report, as a run leaves it that was stopped half way; all "
            "of it is new now\n",
            half_done);
}

static void
tell(Crew *crew, guint i)
{
  const Turn *turn = &crew->turns[i];
  gboolean array = crew->batch->json && crew->n > 1;
  if (turn->error != NULL && turn->error->code != HF_ERROR_CANCELLED)
    g_printerr("holdfast: %s\n", turn->error->message);
  if (turn->said != NULL && array)
    fputs(crew->told++ == 0 ? "[" : ",", stdout);
  if (turn->said != NULL)
    fputs(turn->said, stdout);
  if (!crew->batch->quiet && !crew->batch->json)
    tell_left(&turn->left);
  fflush(stdout);
}

static int
tell_all(Crew *crew)
{
  int code = 0;
  for (guint i = 0; i < crew->n; i++) {
    g_mutex_lock(&crew->lock);
    while (!crew->turns[i].done) {
      show_progress(crew, crew->finished);
      g_cond_wait(&crew->changed, &crew->lock);
    }
    g_mutex_unlock(&crew->lock);
    show_progress(crew, crew->n);
    tell(crew, i);
    code = MAX(code, crew->turns[i].code);
  }
  return code;
}

static int
run_all(const HfBatch *batch, char **files)
{
  Crew crew = {.batch = batch, .n = g_strv_length(files)};
  crew.turns = g_new0(Turn, crew.n);
  for (guint i = 0; i < crew.n; i++)
    crew.turns[i].file = files[i];
  guint hands = MIN(crew.n, g_get_num_processors());
  g_autofree GThread **threads = g_new(GThread *, hands);
  hands = hf_beside_hands("recipe", work, &crew, hands, threads);
  int code = tell_all(&crew);
  for (guint i = 0; i < hands; i++)
    g_thread_join(threads[i]);
  if (batch->json && crew.n > 1)
    fputs(crew.told == 0 ? "[]\n" : "]\n", stdout);
  for (guint i = 0; i < crew.n; i++) {
    g_free(crew.turns[i].said);
    hf_left_clear(&crew.turns[i].left);
    g_clear_error(&crew.turns[i].error);
  }
  g_free(crew.turns);
  if (!batch->json && !batch->quiet && code < 2)
    g_print("%s\n", hf_caution_line());
  return code;
}

/* ---- the names ----------------------------------------------------------------------------- */

/* NAME of a recipe file; two of the same name would write into one folder. */
static gboolean
names_differ(char **files)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; files[i] != NULL; i++) {
    char *name = hf_recipe_name_of(files[i]);
    const char *other = g_hash_table_lookup(seen, name);
    if (other != NULL) {
      g_printerr("holdfast: %s and %s would both go into '%s'; rename one\n", other, files[i],
                 name);
      g_free(name);
      return FALSE;
    }
    g_hash_table_insert(seen, name, files[i]);
  }
  return TRUE;
}

/* ---- watching ------------------------------------------------------------------------------ */

static gint64
stamp_file(gint64 stamp, const char *path)
{
  struct stat info;
  return stat(path, &info) != 0
             ? stamp
             : stamp * 31 + info.st_mtim.tv_sec * 1000003 + info.st_mtim.tv_nsec + info.st_size;
}

/* Changes when any of the files does; asked four times a second, which no file system minds. */
static gint64
stamp_of(const HfBatch *batch, char **files)
{
  gint64 stamp = 0;
  for (guint i = 0; files[i] != NULL; i++) {
    g_autofree char *folder = g_path_get_dirname(files[i]);
    g_autofree char *shop = batch->shop_file != NULL ? g_strdup(batch->shop_file)
                                                     : g_build_filename(folder, "shop.yaml", NULL);
    stamp = stamp_file(stamp_file(stamp, files[i]), shop);
    g_autoptr(GPtrArray) drawings = hf_run_drawings(files[i]);
    for (guint k = 0; k < drawings->len; k++)
      stamp = stamp_file(stamp, (const char *)drawings->pdata[k]);
  }
  return stamp;
}

static int
watch(const HfBatch *batch, char **files)
{
  int code = 0;
  gint64 seen = 0;
  gboolean first = TRUE;
  while (hf_cancel_check(batch->cancel, NULL)) {
    gint64 stamp = stamp_of(batch, files);
    if (first || stamp != seen) {
      code = run_all(batch, files);
      seen = stamp;
      first = FALSE;
      if (!batch->quiet)
        g_printerr("watching; Ctrl-C to stop\n");
    }
    g_usleep(250000);
  }
  return code >= 2 ? code : 130;
}

int
hf_cli_batch(const HfBatch *batch, char **files)
{
  if (files[0] == NULL) {
    g_printerr("holdfast: which recipe? name one, or write one with 'holdfast new'\n");
    return 2;
  }
  if (batch->make && !names_differ(files))
    return 2;
  HfBatch with_cancel = *batch;
  with_cancel.cancel = hf_cli_interrupts();
  return batch->watch ? watch(&with_cancel, files) : run_all(&with_cancel, files);
}
