/* SPDX-License-Identifier: GPL-3.0-or-later
 * outputs.c - all that is made of one sign, in memory: the rows of the table of formats, each
 * written once.
 */
#include "base/file.h"
#include "out/format.h"
#include "run/job.h"

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

/* All but the report in the order of writing: by what they are about, what is slow behind. */
static GArray *
tasks_of(const HfMaking *making, guint64 also)
{
  GArray *tasks = g_array_new(FALSE, TRUE, sizeof(Task));
  g_array_set_clear_func(tasks, task_clear);
  for (HfAbout about = 0; about < HF_ABOUT_REPORT; about++)
    for (int slow = 0; slow < 2; slow++)
      for (guint i = 0; hf_format(i) != NULL; i++) {
        Task task = {.format = hf_format(i), .making = making};
        if (task.format->about == about && task.format->slow == slow &&
            hf_format_is_made(i, making, also))
          g_array_append_val(tasks, task);
      }
  return tasks;
}

static HfOutput *
output_new(const HfFormat *format, gboolean whole, GBytes *bytes)
{
  HfOutput *output = g_new0(HfOutput, 1);
  output->name = hf_format_name(format, whole);
  output->bytes = bytes;
  output->format = format;
  output->type = format->type;
  output->says = hf_format_says(format, whole);
  return output;
}

/* What is slow begins first and is waited for when its turn comes. */
static gboolean
carry_out_all(GArray *tasks, const HfMaking *making, GPtrArray *outputs, GError **error)
{
  for (guint i = 0; i < tasks->len; i++) {
    Task *task = &g_array_index(tasks, Task, i);
    if (task->format->slow)
      task->thread = g_thread_new("format", carry_out, task);
  }
  for (guint i = 0; i < tasks->len; i++) {
    Task *task = &g_array_index(tasks, Task, i);
    if (!hf_cancel_check(making->cancel, error))
      return FALSE;
    if (task->thread != NULL)
      g_thread_join(g_steal_pointer(&task->thread));
    else
      carry_out(task);
    if (task->bytes == NULL) {
      g_propagate_error(error, g_steal_pointer(&task->error));
      return FALSE;
    }
    g_ptr_array_add(outputs, output_new(task->format, making->sign->hold->whole,
                                        g_steal_pointer(&task->bytes)));
  }
  return TRUE;
}

/* Those that carry the digests of all the others. */
static gboolean
add_reports(HfMaking *making, guint64 also, GPtrArray *outputs, GError **error)
{
  guint n = outputs->len;
  g_autofree HfWritten *written = g_new0(HfWritten, n + 1);
  g_autoptr(GPtrArray) digests = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < n; i++) {
    const HfOutput *output = g_ptr_array_index(outputs, i);
    gsize length;
    const void *bytes = g_bytes_get_data(output->bytes, &length);
    g_ptr_array_add(digests, hf_file_digest(bytes, length));
    written[i] = (HfWritten){output->name, g_ptr_array_index(digests, i)};
  }
  making->told.written = written;
  making->told.n_written = n;
  for (guint i = 0; hf_format(i) != NULL; i++) {
    const HfFormat *format = hf_format(i);
    if (format->about != HF_ABOUT_REPORT || !hf_format_is_made(i, making, also))
      continue;
    GBytes *bytes = format->write(making, format, error);
    if (bytes == NULL)
      return FALSE;
    g_ptr_array_add(outputs, output_new(format, making->sign->hold->whole, bytes));
  }
  return TRUE;
}

/* The first picture about the same is what a browser can show for @output. */
static const char *
shown_by(const GPtrArray *outputs, const HfOutput *output)
{
  for (guint i = 0; i < outputs->len; i++) {
    const HfOutput *other = g_ptr_array_index(outputs, i);
    if (other->format->picture && other->format->about == output->format->about)
      return other->name;
  }
  return NULL;
}

GPtrArray *
hf_run_outputs(const HfSign *sign, const HfMakeOptions *options, GError **error)
{
  g_autoptr(HfSign) what = hf_sign_fitted(sign);
  g_autoptr(GBytes) cured =
      options->cured != NULL ? g_bytes_new(options->cured, options->cured_length) : NULL;
  HfMaking making = {.sign = what,
                     .pixels = options->pixels,
                     .cancel = options->cancel,
                     .paper = options->paper,
                     .cured = cured,
                     .told = {.cures = options->cures, .n_cures = options->n_cures}};
  g_autoptr(GPtrArray) outputs = g_ptr_array_new_with_free_func(output_free);
  g_autoptr(GArray) tasks = tasks_of(&making, options->also);
  if (!hf_cancel_check(options->cancel, error) || !carry_out_all(tasks, &making, outputs, error) ||
      !hf_cancel_check(options->cancel, error) ||
      !add_reports(&making, options->also, outputs, error))
    return NULL;
  for (guint i = 0; i < outputs->len; i++) {
    HfOutput *output = g_ptr_array_index(outputs, i);
    output->shown_by = shown_by(outputs, output);
  }
  return g_steal_pointer(&outputs);
}
