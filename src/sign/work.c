/* SPDX-License-Identifier: GPL-3.0-or-later
 * work.c - making and freeing what rules come to.
 */
#include "sign/sign.h"

static void
tie_clear(gpointer data)
{
  HfTie *tie = data;
  hf_outline_free(tie->outline);
  g_free(tie->label);
}

static void
untied_clear(gpointer data)
{
  HfUntied *untied = data;
  g_free(untied->name);
  g_free(untied->why);
  g_free(untied->help);
}

HfWork *
hf_work_new(guint entry)
{
  HfWork *work = g_new0(HfWork, 1);
  *work = (HfWork){.entry = entry, .cost = NAN, .area = NAN, .bound = NAN};
  work->shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_shape_free);
  work->ties = g_array_new(FALSE, TRUE, sizeof(HfTie));
  g_array_set_clear_func(work->ties, tie_clear);
  work->untied = g_array_new(FALSE, TRUE, sizeof(HfUntied));
  g_array_set_clear_func(work->untied, untied_clear);
  return work;
}

HfWork *
hf_work_ref(HfWork *work)
{
  g_atomic_int_inc(&work->others);
  return work;
}

void
hf_work_free(HfWork *work)
{
  if (work == NULL || g_atomic_int_add(&work->others, -1) > 0)
    return;
  g_ptr_array_unref(work->shapes);
  g_array_unref(work->ties);
  g_array_unref(work->untied);
  g_free(work);
}
