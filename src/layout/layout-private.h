/* SPDX-License-Identifier: GPL-3.0-or-later
 * layout-private.h - what the files of layout/ share: one kind of entry a file, one signature.
 *
 * Entries are laid in the order in which they depend on each other (a bar before the words that
 * stand on it); their shapes are then handed on in the recipe's own order.
 */
#pragma once
#include "layout/layout.h"

/* What is known of an entry once it is laid. */
typedef struct {
  gboolean done;
  GPtrArray *shapes;  /* HfShape *, own until handed to the layout */
  GArray *hangs;      /* HfHang; `shape` counts within `shapes` */
  GArray *frames;     /* HfMatrix: one a copy, from the entry's own frame to the sign's */
  HfBox box;          /* exact box of all its shapes in the sign's frame */
  HfPoint centre;     /* of its first copy, sign's frame */
  double inner, outer; /* ring, round plate: radii, mm; a solver may have changed them; else 0 */
} HfLaid;

/* Sizes that a solver found and that replace those of the recipe (a ring that gave way). */
typedef struct {
  double outer, inner; /* radii, mm; NAN: as in the recipe */
} HfChanged;

typedef struct {
  const HfRecipe *recipe;
  HfFonts *fonts;
  double joint_limit;
  HfLaid *laid;       /* one an entry */
  HfChanged *changed; /* one an entry */
  gboolean again;     /* a solver changed another entry: everything is laid anew (bounded) */
  HfLayout *layout;
} HfLaying;

typedef gboolean (*HfLayFunc)(HfLaying *laying, guint entry, GError **error);

gboolean hf_lay_ring(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_plate(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_bar(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_arch(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_words(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_initial(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_separator(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_hole(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_holes(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_ear(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_foot(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_stake(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_tie(HfLaying *laying, guint entry, GError **error);

/** hf_lay_where: (transfer full) `boats.yaml:4:9` of an entry, for errors. */
char *hf_lay_where(const HfLaying *laying, guint entry);

/** hf_lay_named: (transfer none) what is known of the entry called @name; it is laid already,
 *  because the order of laying follows the names. */
const HfLaid *hf_lay_named(const HfLaying *laying, const char *name, guint *ret_entry);

/** hf_lay_frames: fills laid->frames from the entry's HfPlace. @own: the entry's box in its own
 *  frame (origin = its own centre), needed to put it beside another one. */
gboolean hf_lay_frames(HfLaying *laying, guint entry, HfBox own, GError **error);

/** hf_lay_shape: adds a copy of @own, moved by each of the entry's frames, as its shapes.
 *  @letter -1: the entry itself. */
void hf_lay_shape(HfLaying *laying, guint entry, const HfOutline *own, gint letter);

/** hf_shape_new: (transfer full) takes @outline and @label. */
HfShape *hf_shape_new(HfOutline *outline, char *label, guint entry, gint letter, gboolean opening);
void hf_shape_free(HfShape *shape);
