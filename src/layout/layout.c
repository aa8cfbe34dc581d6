/* SPDX-License-Identifier: GPL-3.0-or-later
 * layout.c - from a recipe to placed shapes: lays each entry after those that it names, then hands
 * the shapes on in the recipe's own order.
 *
 *   order.c says who comes when;  a table says who lays which kind;  a solver that changes an
 *   entry laid before it (a ring that gives way) has everything laid anew, a few times at most.
 */
#include "base/text.h"
#include "geom/region.h"
#include "layout/layout-private.h"
#include "recipe/kind.h"

#include <string.h>

#define MAX_ROUNDS  16
#define MOST_SHAPES 50000
#define FARTHEST    (HF_REGION_LIMIT_MM - 1000) /* mm from the sign's centre, on either axis */

/* A rule has no shape until there is metal: its shapes come by hf_layout_extended(). */
static gboolean
lay_rule(HfLaying *laying, guint entry, GError **error)
{
  (void)laying, (void)entry, (void)error;
  return TRUE;
}

static const HfLayFunc lay_kind[HF_N_ENTRY_KINDS] = {
    [HF_ENTRY_RING] = hf_lay_ring,
    [HF_ENTRY_PLATE] = hf_lay_plate,
    [HF_ENTRY_BAR] = hf_lay_bar,
    [HF_ENTRY_ARCH] = hf_lay_arch,
    [HF_ENTRY_SEPARATOR] = hf_lay_separator,
    [HF_ENTRY_BORDER] = hf_lay_border,
    [HF_ENTRY_DRAWING] = hf_lay_drawing,
    [HF_ENTRY_ORNAMENT] = hf_lay_ornament,
    [HF_ENTRY_HOLE] = hf_lay_hole,
    [HF_ENTRY_HOLES] = hf_lay_holes,
    [HF_ENTRY_SLOT] = hf_lay_slot,
    [HF_ENTRY_KEYHOLE] = hf_lay_keyhole,
    [HF_ENTRY_EAR] = hf_lay_ear,
    [HF_ENTRY_FOOT] = hf_lay_foot,
    [HF_ENTRY_STAKE] = hf_lay_stake,
    [HF_ENTRY_TIE] = hf_lay_tie,
    [HF_ENTRY_WORDS] = hf_lay_words,
    [HF_ENTRY_INITIAL] = hf_lay_initial,
    [HF_ENTRY_TIES] = lay_rule,
    [HF_ENTRY_MEND] = lay_rule,
    [HF_ENTRY_STUDS] = lay_rule,
    [HF_ENTRY_ROW] = hf_lay_group,
    [HF_ENTRY_STACK] = hf_lay_group,
};

static const struct {
  const char *name;
  gboolean share;
} solved_rows[HF_N_SOLVED] = {
    [HF_SOLVED_LETTER_HEIGHT] = {"letter height", FALSE},
    [HF_SOLVED_BASELINE_RADIUS] = {"baseline radius", FALSE},
    [HF_SOLVED_SPACING] = {"spacing", FALSE},
    [HF_SOLVED_LETTER_WIDTH] = {"letter width", TRUE},
    [HF_SOLVED_OUTER_DIAMETER] = {"outer diameter", FALSE},
    [HF_SOLVED_INNER_DIAMETER] = {"inner diameter", FALSE},
    [HF_SOLVED_TIE_WIDTH] = {"tie width", FALSE},
    [HF_SOLVED_PLATE_WIDTH] = {"width", FALSE},
    [HF_SOLVED_PLATE_HEIGHT] = {"height", FALSE},
    [HF_SOLVED_PLATE_DIAMETER] = {"diameter", FALSE},
    [HF_SOLVED_LENGTH] = {"length", FALSE},
    [HF_SOLVED_GAP] = {"gap", FALSE},
    [HF_SOLVED_THINNEST_STROKE] = {"thinnest stroke", FALSE},
};

const char *
hf_solved_name(HfSolvedWhat what)
{
  return solved_rows[what].name;
}

gboolean
hf_solved_is_share(HfSolvedWhat what)
{
  return solved_rows[what].share;
}

static void
laid_init(HfLaid *laid)
{
  *laid = (HfLaid){.box = HF_BOX_EMPTY, .own = HF_BOX_EMPTY};
  laid->shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_shape_free);
  laid->hangs = g_array_new(FALSE, FALSE, sizeof(HfHang));
  laid->joints = g_array_new(FALSE, FALSE, sizeof(HfJoint));
  laid->frames = g_array_new(FALSE, FALSE, sizeof(HfMatrix));
}

static void
laid_clear(HfLaid *laid)
{
  g_ptr_array_unref(laid->shapes);
  g_array_unref(laid->hangs);
  g_array_unref(laid->joints);
  g_array_unref(laid->frames);
}

static void
laying_init(HfLaying *laying, const HfRecipe *recipe, HfFonts *fonts, const double *joint_limits,
            const HfCancel *cancel)
{
  guint n = recipe->entries->len;
  *laying =
      (HfLaying){.recipe = recipe, .fonts = fonts, .joint_limits = joint_limits, .cancel = cancel};
  laying->laid = g_new0(HfLaid, n);
  laying->changed = g_new0(HfChanged, n);
  for (guint i = 0; i < n; i++) {
    laid_init(&laying->laid[i]);
    laying->changed[i] = (HfChanged){NAN, NAN, NAN};
  }
  laying->layout = hf_lay_layout_new();
}

static void
laying_done(HfLaying *laying)
{
  for (guint i = 0; i < laying->recipe->entries->len; i++)
    laid_clear(&laying->laid[i]);
  g_free(laying->laid);
  g_free(laying->changed);
  hf_layout_free(laying->layout);
}

/* Back to the start, but for what the solvers changed. */
static void
laying_restart(HfLaying *laying)
{
  for (guint i = 0; i < laying->recipe->entries->len; i++) {
    laid_clear(&laying->laid[i]);
    laid_init(&laying->laid[i]);
  }
  hf_layout_free(laying->layout);
  laying->layout = hf_lay_layout_new();
  laying->again = FALSE;
}

/* Letters, holes and other shapes that an entry comes to, at most. */
static guint64
count_shapes(const HfEntry *entry)
{
  guint64 copies = entry->place.at != NULL ? MAX(entry->place.at->len, 1) : 1, each = 2;
  for (guint i = 0; hf_entry_line(entry, i) != NULL; i++)
    each += (guint64)g_utf8_strlen(hf_entry_line(entry, i), -1);
  if (entry->kind == HF_ENTRY_HOLE)
    each *= (guint64)MAX(entry->hole.count, 1);
  if (entry->kind == HF_ENTRY_HOLES)
    each = (guint64)MAX(entry->holes.count, entry->holes.columns * entry->holes.rows);
  return copies * each;
}

/* How often a group puts its members. */
static guint64
count_repeats(const HfEntry *entry)
{
  if (!hf_entry_is(entry, HF_KIND_GROUP))
    return 1;
  guint64 at = entry->place.at != NULL ? MAX(entry->place.at->len, 1) : 1;
  const HfGroupEntry *group = &entry->group;
  return at * (guint64)MAX(group->count, MAX(group->columns, 1) * MAX(group->rows, 1));
}

/* A cap on what a small recipe can grow to by copies. */
static gboolean
check_count(const HfRecipe *recipe, GError **error)
{
  guint64 n = 0;
  for (guint i = 0; i < recipe->entries->len; i++) {
    guint64 own = count_shapes(hf_recipe_at(recipe, i));
    gint group = hf_recipe_group(recipe, i);
    for (; group >= 0 && own <= MOST_SHAPES; group = hf_recipe_group(recipe, (guint)group))
      own *= count_repeats(hf_recipe_at(recipe, (guint)group));
    n += own;
  }
  if (n <= MOST_SHAPES)
    return TRUE;
  hf_error_set(error, HF_ERROR_TOO_BIG, recipe->file, "make fewer copies",
               "the recipe comes to %" G_GUINT64_FORMAT " letters, holes and other shapes; "
               "at most %d",
               n, MOST_SHAPES);
  return FALSE;
}

/* Written so that a box that is no number is refused too. */
static gboolean
check_reach(HfLaying *laying, guint entry, GError **error)
{
  HfBox box = laying->laid[entry].box;
  if (hf_box_is_empty(box) && laying->laid[entry].shapes->len == 0)
    return TRUE;
  double far = MAX(MAX(-box.min.x, box.max.x), MAX(-box.min.y, box.max.y));
  if (far <= FARTHEST)
    return TRUE;
  g_autofree char *most = hf_text_mm(FARTHEST);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM, "place it nearer",
                       "it would reach farther than %s from the sign's centre", most);
}

/* What is stopped may break off anywhere and leave anything: what it says of it is no error. */
static gboolean
lay_one(HfLaying *laying, guint entry, GError **error)
{
  HfLayFunc lay = lay_kind[hf_lay_entry(laying, entry)->kind];
  g_assert(lay != NULL);
  if (!hf_cancel_check(laying->cancel, error))
    return FALSE;
  g_autoptr(GError) own = NULL;
  laying->joint_limit = laying->joint_limits[hf_entry_layer(hf_lay_entry(laying, entry))];
  gboolean done = lay(laying, entry, &own);
  if (!hf_cancel_check(laying->cancel, error))
    return FALSE;
  if (!done) {
    g_propagate_error(error, g_steal_pointer(&own));
    return FALSE;
  }
  HfLaid *laid = &laying->laid[entry];
  for (guint i = 0; i < laid->shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(laid->shapes, i);
    laid->box = hf_box_union(laid->box, hf_outline_box(shape->outline));
  }
  laid->done = TRUE;
  return check_reach(laying, entry, error);
}

gboolean
hf_lay_anew(HfLaying *laying, guint entry, GError **error)
{
  GArray *solved = laying->layout->solved;
  laid_clear(&laying->laid[entry]);
  laid_init(&laying->laid[entry]);
  for (guint i = solved->len; i-- > 0;)
    if (g_array_index(solved, HfSolved, i).entry == entry)
      g_array_remove_index(solved, i);
  return lay_one(laying, entry, error);
}

static gboolean
lay_all(HfLaying *laying, const GArray *order, GError **error)
{
  for (guint round = 0; round < MAX_ROUNDS; round++) {
    for (guint i = 0; i < order->len && !laying->again; i++)
      if (!lay_one(laying, g_array_index(order, guint, i), error))
        return FALSE;
    if (!laying->again)
      return TRUE;
    laying_restart(laying);
  }
  hf_error_set(error, HF_ERROR_NO_ROOM, laying->recipe->file, "state the sizes of the rings",
               "the rings that give way to words change each other without end");
  return FALSE;
}

static guint
handed_index(const guint *firsts, guint numbered)
{
  return firsts[numbered >> 16] + (numbered & 0xffff);
}

static void
hand_over_marks(HfLayout *layout, const HfLaid *laid, const guint *firsts, guint entry)
{
  for (guint i = 0; i < laid->hangs->len; i++) {
    HfHang hang = g_array_index(laid->hangs, HfHang, i);
    hang.shape += firsts[entry];
    g_array_append_val(layout->hangs, hang);
  }
  for (guint i = 0; i < laid->joints->len; i++) {
    HfJoint joint = g_array_index(laid->joints, HfJoint, i);
    joint.a = handed_index(firsts, joint.a);
    joint.b = handed_index(firsts, joint.b);
    g_array_append_val(layout->joints, joint);
  }
}

/* Shapes leave `laid` for the layout, in recipe order; hangs and joints get their final numbers. */
static void
hand_over(HfLaying *laying)
{
  guint n = laying->recipe->entries->len;
  HfLayout *layout = laying->layout;
  g_autofree guint *firsts = g_new0(guint, n + 1);
  for (guint i = 0; i < n; i++) {
    firsts[i] = layout->shapes->len;
    g_ptr_array_extend_and_steal(layout->shapes, laying->laid[i].shapes);
    laying->laid[i].shapes = g_ptr_array_new();
  }
  for (guint i = 0; i < n; i++)
    hand_over_marks(layout, &laying->laid[i], firsts, i);
}

HfLayout *
hf_layout_new(const HfRecipe *recipe, HfFonts *fonts, double joint_limit, const HfCancel *cancel,
              GError **error)
{
  g_return_val_if_fail(recipe != NULL && joint_limit > 0, NULL);
  double all[HF_N_LAYERS];
  for (guint i = 0; i < HF_N_LAYERS; i++)
    all[i] = joint_limit;
  return hf_layout_new_layered(recipe, fonts, all, cancel, error);
}

HfLayout *
hf_layout_new_layered(const HfRecipe *recipe, HfFonts *fonts,
                      const double joint_limits[HF_N_LAYERS], const HfCancel *cancel,
                      GError **error)
{
  if (!check_count(recipe, error))
    return NULL;
  g_autoptr(GArray) order = hf_lay_order(recipe, error);
  if (order == NULL)
    return NULL;
  HfLaying laying;
  laying_init(&laying, recipe, fonts, joint_limits, cancel);
  HfLayout *layout = NULL;
  if (lay_all(&laying, order, error)) {
    hand_over(&laying);
    layout = g_steal_pointer(&laying.layout);
    hf_lay_miss_letters(layout, recipe);
  }
  laying_done(&laying);
  return layout;
}
