/* SPDX-License-Identifier: GPL-3.0-or-later
 * kept.c - drawings that were read are kept, the last used first: a solver lays everything anew
 * hundreds of times, and a search for cures lays the same drawing for each trial.
 */
#include "base/file.h"
#include "base/text.h"
#include "drawing/drawing-private.h"
#include <string.h>

enum { MOST_KEPT = 12 };
#define MOST_BYTES ((gsize)48 << 20) /* of files, all together */

typedef struct {
  HfDrawing *drawing;
  char *wish; /* as text */
  gsize bytes;
} Kept;

static GMutex lock;
static Kept kept[MOST_KEPT]; /* the last used first */
static guint n_kept;

static void
add_names(GString *text, const GPtrArray *names)
{
  g_string_append_c(text, '\x1d');
  for (guint i = 0; names != NULL && i < names->len; i++)
    g_string_append_printf(text, "\x1f%s", (const char *)names->pdata[i]);
}

static void
add_wanted(GString *text, const HfFaceWanted *face)
{
  const char *const parts[] = {face->family, face->style, face->file, face->axes};
  for (gsize i = 0; i < G_N_ELEMENTS(parts); i++)
    g_string_append_printf(text, "\x1f%s", parts[i] != NULL ? parts[i] : "\x1e");
}

/* What two wishes have alike when they are one. */
static char *
text_of(const HfDrawingWish *wish)
{
  GString *text = g_string_new(NULL);
  hf_text_append(text, wish->unit_mm, 9);
  g_string_append_printf(text, "\x1d%u", wish->page);
  add_names(text, wish->metal);
  add_names(text, wish->openings);
  add_names(text, wish->left_out);
  g_string_append(text, wish->fonts != NULL ? "words" : "");
  for (guint i = 0; i < wish->n_faces; i++) {
    g_string_append_printf(text, "\x1d%s", wish->faces[i].named);
    add_wanted(text, &wish->faces[i].instead);
  }
  if (wish->face != NULL)
    add_wanted(text, wish->face);
  return g_string_free(text, FALSE);
}

/* One place further back from the front up to @i, where @one then stands. */
static void
to_front(guint i, Kept one)
{
  memmove(&kept[1], &kept[0], i * sizeof *kept);
  kept[0] = one;
}

/* (nullable) (transfer full) */
static HfDrawing *
find(const char *digest, const char *wish)
{
  HfDrawing *found = NULL;
  g_mutex_lock(&lock);
  for (guint i = 0; i < n_kept && found == NULL; i++)
    if (strcmp(kept[i].wish, wish) == 0 && strcmp(kept[i].drawing->digest, digest) == 0) {
      found = hf_drawing_ref(kept[i].drawing);
      to_front(i, kept[i]);
    }
  g_mutex_unlock(&lock);
  return found;
}

static gsize
bytes_kept(void)
{
  gsize all = 0;
  for (guint i = 0; i < n_kept; i++)
    all += kept[i].bytes;
  return all;
}

static void
let_go(void)
{
  n_kept--;
  hf_drawing_free(kept[n_kept].drawing);
  g_free(kept[n_kept].wish);
}

/* Of one whose words could not be set the face may be here the next time. */
static void
keep(HfDrawing *drawing, const char *wish, gsize bytes)
{
  if (bytes > MOST_BYTES || hf_drawing_unset(drawing) != NULL)
    return;
  g_mutex_lock(&lock);
  while (n_kept > 0 && (n_kept == MOST_KEPT || bytes_kept() + bytes > MOST_BYTES))
    let_go();
  to_front(n_kept++, (Kept){hf_drawing_ref(drawing), g_strdup(wish), bytes});
  g_mutex_unlock(&lock);
}

HfDrawing *
hf_drawing_open(const char *where, const void *bytes, gsize length, const HfDrawingWish *wish,
                GError **error)
{
  g_autofree char *digest = hf_file_digest(bytes, length);
  g_autofree char *key = text_of(wish);
  HfDrawing *drawing = find(digest, key);
  if (drawing != NULL)
    return drawing;
  drawing = hf_drawing_read_as(where, bytes, length, wish, error);
  if (drawing == NULL)
    return NULL;
  drawing->digest = g_steal_pointer(&digest);
  keep(drawing, key, length);
  return drawing;
}
