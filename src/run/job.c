/* SPDX-License-Identifier: GPL-3.0-or-later
 * job.c - all that is made in one go, in memory: the rows of the table of formats, each written
 * once.
 */
#include "run/job.h"
#include "base/beside.h"
#include "base/file.h"
#include "run/cut-wished-private.h"
#include "run/proven.h"

static void
output_free(gpointer data)
{
  HfOutput *output = data;
  g_free(output->name);
  if (output->bytes != NULL)
    g_bytes_unref(output->bytes);
  g_free(output);
}

/* One row on its way: in this thread, or, what is slow, in one of its own. */
typedef struct {
  const HfFormat *format;
  const HfMaking *making;
  GThread *thread; /* (nullable) */
  GBytes *bytes;
  GError *error;
} Task;

static gpointer
carry_out(gpointer data)
{
  Task *task = data;
  task->bytes = task->format->write(task->making, task->format, &task->error);
  return NULL;
}

static void
task_clear(gpointer data)
{
  Task *task = data;
  if (task->thread != NULL)
    g_thread_join(task->thread);
  g_clear_pointer(&task->bytes, g_bytes_unref);
  g_clear_error(&task->error);
}

/* What is made of the whole sign, and of each of its layers. */
typedef struct {
  HfMaking whole;
  HfMaking layers[HF_N_LAYERS]; /* their signs are owned */
  guint n;
} Makings;

static void
makings_init(Makings *makings, const HfMaking *whole, const GPtrArray *cuttings)
{
  *makings = (Makings){.whole = *whole, .n = hf_sign_n_layers(whole->sign)};
  for (guint i = 0; i < makings->n; i++) {
    makings->layers[i] = *whole;
    makings->layers[i].sign = hf_sign_layer_to_cut(whole->sign, i);
    makings->layers[i].layer = makings->layers[i].sign->recipe->in_layer;
    makings->layers[i].cutting = cuttings != NULL ? cuttings->pdata[i] : NULL;
  }
}

static void
makings_clear(Makings *makings)
{
  for (guint i = 0; i < makings->n; i++)
    hf_sign_free((HfSign *)makings->layers[i].sign);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Makings, makings_clear)

/* Those of row @i: of the sign, or of each of its sheets that has one. */
static void
add_tasks(GArray *tasks, const Makings *makings, guint i, guint64 also)
{
  Task task = {.format = hf_format(i)};
  gboolean each = hf_about_each_layer(task.format->about);
  for (guint k = 0; k < (each ? makings->n : 1); k++) {
    task.making = each ? &makings->layers[k] : &makings->whole;
    if (hf_format_is_made(i, task.making, also))
      g_array_append_val(tasks, task);
  }
}

/* All but the report in the order of writing: by what they are about, what is slow behind. */
static GArray *
tasks_of(const Makings *makings, guint64 also)
{
  GArray *tasks = g_array_new(FALSE, TRUE, sizeof(Task));
  g_array_set_clear_func(tasks, task_clear);
  for (HfAbout about = 0; about < HF_ABOUT_REPORT; about++)
    for (int slow = 0; slow < 2; slow++)
      for (guint i = 0; hf_format(i) != NULL; i++)
        if (hf_format(i)->about == about && hf_format(i)->slow == slow)
          add_tasks(tasks, makings, i, also);
  return tasks;
}

static HfOutput *
output_new(const HfFormat *format, const HfMaking *making, GBytes *bytes)
{
  gboolean whole = making->sign->hold->whole;
  HfOutput *output = g_new0(HfOutput, 1);
  output->name = hf_format_name(format, making->layer, whole);
  output->bytes = bytes;
  output->format = format;
  output->layer = making->layer;
  output->type = format->type;
  output->says = hf_format_says(format, whole);
  return output;
}

/* What is slow begins first and is waited for when its turn comes. */
static gboolean
carry_out_all(GArray *tasks, const HfCancel *cancel, GPtrArray *outputs, GError **error)
{
  for (guint i = 0; i < tasks->len; i++) {
    Task *task = &g_array_index(tasks, Task, i);
    if (task->format->slow)
      task->thread = hf_beside_thread("format", carry_out, task); /* else in its turn */
  }
  for (guint i = 0; i < tasks->len; i++) {
    Task *task = &g_array_index(tasks, Task, i);
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    if (task->thread != NULL)
      g_thread_join(g_steal_pointer(&task->thread));
    else
      carry_out(task);
    if (task->bytes == NULL) {
      g_propagate_error(error, g_steal_pointer(&task->error));
      return FALSE;
    }
    g_ptr_array_add(outputs, output_new(task->format, task->making, g_steal_pointer(&task->bytes)));
  }
  return TRUE;
}

/* An empty list is told too: there is none, which is more than not having looked. */
static HfReportMore
told_of(const HfJob *job)
{
  static const HfCureTold none = {0};
  HfReportMore told = {.cuttings = job->cuttings};
  if (job->cures == NULL)
    return told;
  told.cures = job->cures->len > 0 ? (const HfCureTold *)job->cures->data : &none;
  told.n_cures = job->cures->len;
  return told;
}

/* Those that carry the digests of all the others. */
static gboolean
add_reports(const HfJob *job, HfMaking *making, GPtrArray *outputs, GError **error)
{
  HfReportMore told = told_of(job);
  g_autofree HfWritten *written = g_new0(HfWritten, outputs->len + 1);
  g_autoptr(GPtrArray) digests = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < outputs->len; i++) {
    const HfOutput *output = g_ptr_array_index(outputs, i);
    gsize length;
    const void *bytes = g_bytes_get_data(output->bytes, &length);
    g_ptr_array_add(digests, hf_file_digest(bytes, length));
    written[i] = (HfWritten){output->name, g_ptr_array_index(digests, i)};
  }
  told.written = written;
  told.n_written = outputs->len;
  making->told = told;
  for (guint i = 0; hf_format(i) != NULL; i++) {
    const HfFormat *format = hf_format(i);
    if (format->about != HF_ABOUT_REPORT || !hf_format_is_made(i, making, job->wishes.also))
      continue;
    GBytes *bytes = format->write(making, format, error);
    if (bytes == NULL)
      return FALSE;
    g_ptr_array_add(outputs, output_new(format, making, bytes));
  }
  return TRUE;
}

/* The first picture about the same is what a browser can show for @output. */
static const char *
shown_by(const GPtrArray *outputs, const HfOutput *output)
{
  for (guint i = 0; i < outputs->len; i++) {
    const HfOutput *other = g_ptr_array_index(outputs, i);
    if (other->format->picture && other->format->about == output->format->about &&
        other->layer == output->layer)
      return other->name;
  }
  return NULL;
}

HfJob *
hf_job_new(const HfSign *sign, HfWishes wishes)
{
  HfJob *job = g_new0(HfJob, 1);
  job->signs = g_ptr_array_new_with_free_func((GDestroyNotify)hf_sign_free);
  g_ptr_array_add(job->signs, hf_sign_ref(sign));
  job->wishes = wishes;
  return job;
}

void
hf_job_free(HfJob *job)
{
  if (job == NULL)
    return;
  g_ptr_array_unref(job->signs);
  g_clear_pointer(&job->cures, g_array_unref);
  g_clear_pointer(&job->cured, g_bytes_unref);
  g_clear_pointer(&job->cuttings, g_ptr_array_unref);
  g_clear_pointer(&job->outputs, g_ptr_array_unref);
  g_free(job);
}

/* Takes @sign, for the job's own. */
static void
keep_sign(HfJob *job, HfSign *sign)
{
  hf_sign_free(job->signs->pdata[0]);
  job->signs->pdata[0] = sign;
}

/* @sign with what planning it found; taken for the job's own. */
static void
take_found(HfJob *job, const HfSign *sign)
{
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(HfCutFound));
  for (guint i = 0; i < job->cuttings->len; i++) {
    const HfCutting *cutting = job->cuttings->pdata[i];
    g_array_append_vals(found, cutting->found->data, cutting->found->len);
  }
  if (found->len == 0)
    return;
  keep_sign(job, hf_sign_with_found(sign, (const HfCutFound *)(void *)found->data, found->len));
}

/* A rest is of one program: of several sheets it has to be said which. */
static gboolean
has_layer(const HfSign *sign, HfFromCut from, GError **error)
{
  guint n = hf_sign_n_layers(sign);
  gboolean has = from.cut == 0 || n == 1;
  for (guint i = 0; i < n && !has; i++)
    has = hf_sign_layer(sign, i)->recipe->in_layer == from.layer;
  if (has)
    return TRUE;
  g_autofree char *words = hf_sign_layer_words(sign);
  g_autofree char *fix = g_strdup_printf("say which: --from-cut \"back %u\"", from.cut);
  hf_error_set(error, HF_ERROR_BAD_VALUE, "--from-cut", fix, "this sign has several programs: %s",
               words);
  return FALSE;
}

/* How each sheet of the sign, which is whole and has its true arcs, is cut. */
static gboolean
prove(HfJob *job, const HfCancel *cancel, GError **error)
{
  const HfSign *sign = hf_job_sign(job, 0);
  if (!hf_cut_wished_names(sign, error) || !has_layer(sign, job->wishes.from, error))
    return FALSE;
  g_autoptr(GPtrArray) cuttings = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cutting_free);
  for (guint i = 0; i < hf_sign_n_layers(sign); i++) {
    HfCutting *cutting = hf_prove_cutting(hf_sign_layer(sign, i), job->wishes.from, cancel, error);
    if (cutting == NULL)
      return FALSE;
    g_ptr_array_add(cuttings, cutting);
  }
  job->cuttings = g_steal_pointer(&cuttings);
  take_found(job, sign);
  return TRUE;
}

char *
hf_job_words(const HfJob *job)
{
  if (job->cuttings == NULL)
    return NULL;
  g_auto(HfUnitsScope) scope = hf_units_scope(hf_job_sign(job, 0)->recipe->units);
  return hf_prove_words(job->cuttings);
}

gboolean
hf_job_make(HfJob *job, const HfCancel *cancel, GError **error)
{
  if (job->outputs != NULL)
    return TRUE;
  g_auto(HfUnitsScope) scope = hf_units_scope(hf_job_sign(job, 0)->recipe->units);
  keep_sign(job, hf_sign_fitted(hf_job_sign(job, 0)));
  if (hf_job_sign(job, 0)->hold->whole && job->cuttings == NULL && !prove(job, cancel, error))
    return FALSE;
  const HfSign *sign = hf_job_sign(job, 0);
  HfMaking making = {.sign = sign,
                     .pixels = job->wishes.pixels,
                     .cancel = cancel,
                     .paper = job->wishes.paper,
                     .cured = job->cured};
  g_autoptr(GPtrArray) outputs = g_ptr_array_new_with_free_func(output_free);
  g_auto(Makings) makings = {.n = 0};
  makings_init(&makings, &making, job->cuttings);
  g_autoptr(GArray) tasks = tasks_of(&makings, job->wishes.also);
  if (!hf_cancel_check(cancel, error) || !carry_out_all(tasks, cancel, outputs, error) ||
      !hf_cancel_check(cancel, error) || !add_reports(job, &making, outputs, error))
    return FALSE;
  for (guint i = 0; i < outputs->len; i++) {
    HfOutput *output = g_ptr_array_index(outputs, i);
    output->shown_by = shown_by(outputs, output);
  }
  job->outputs = g_steal_pointer(&outputs);
  return TRUE;
}

GBytes *
hf_job_report(const HfJob *job)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(hf_job_sign(job, 0)->recipe->units);
  HfReportMore told = told_of(job);
  return hf_out_report(hf_job_sign(job, 0), &told);
}
