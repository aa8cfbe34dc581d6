/* SPDX-License-Identifier: GPL-3.0-or-later
 * margin.c - words nearer to an edge, a hole or other words than one stroke of theirs.
 *
 *      +------------------+        Such a strip of metal may hold well enough; it looks like a
 *      |  Hendry & Sons   |<- d    mistake, and it is the first to bend. A stroke is twice the area
 *      +------------------+        of a letter over its edge.
 *
 * Cut-through letters are held against outer edges, holes and the letters of other entries,
 * standing ones against standing letters of other entries that they do not touch.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include "recipe/kind.h"

#define COARSE_MM 0.1  /* lengths are compared, not drawn */
#define TOUCHES   0.02 /* mm: they run into each other, which other laws speak of */

typedef enum { TO_NOTHING, TO_EDGE, TO_HOLE, TO_WORDS } To;

static const char *const forms[] = {NULL, "edge", "hole", "words"};

/* What an edge that shape @other made is to letter @own. */
static To
what_is(const HfCheck *check, const HfShape *own, guint s)
{
  if (s >= check->layout->shapes->len)
    return TO_NOTHING;
  const HfShape *other = hf_layout_shape(check->layout, s);
  if (other->entry == own->entry || other->mends > 0)
    return TO_NOTHING;
  const HfEntry *entry = hf_recipe_at(check->recipe, other->entry);
  if (entry->kind == HF_ENTRY_INITIAL && !own->opening) /* words about it may come close to it */
    return TO_NOTHING;
  if (hf_entry_is(entry, HF_KIND_LETTERING))
    return other->letter >= 0 && other->opening == own->opening ? TO_WORDS : TO_NOTHING;
  if (hf_entry_is(entry, HF_KIND_FIXTURE))
    return own->opening && other->opening ? TO_HOLE : TO_NOTHING;
  return own->opening && hf_entry_is(entry, HF_KIND_GROUND) ? TO_EDGE : TO_NOTHING;
}

typedef struct {
  double apart;
  HfPoint at;
  guint shape;
  To to;
} Nearest;

static void
keep_nearer(Nearest *nearest, const HfRegion *letter, HfPoint a, HfPoint b, guint shape, To to)
{
  for (guint r = 0; r < letter->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(letter, r)->n; v++) {
      HfEdgeId id = {r, v};
      HfPoint on;
      double apart =
          hf_segment_gap(hf_edge_start(letter, id), hf_edge_end(letter, id), a, b, &on, NULL);
      if (apart < nearest->apart)
        *nearest = (Nearest){apart, on, shape, to};
    }
}

static void
add_finding(HfCheck *check, guint s, const Nearest *nearest, double stroke)
{
  HfFinding *finding =
      hf_check_add(check, HF_LAW_TIGHT_MARGIN, 100 * nearest->apart / stroke, nearest->at);
  if (finding == NULL)
    return;
  static const char *const what[] = {NULL, "the edge", "a hole", "other words"};
  double asked = check->hold->limits[HF_LAW_TIGHT_MARGIN].caution / 100;
  g_autofree char *apart = hf_text_mm(nearest->apart), *wanted = hf_text_mm(asked * stroke);
  g_autofree char *number = hf_text_number(asked, 2);
  g_autofree char *strokes =
      asked == 1 ? g_strdup("one stroke") : g_strconcat(number, " strokes", NULL);
  hf_finding_name(check, finding, s);
  hf_finding_name(check, finding, nearest->shape);
  hf_finding_form(finding, forms[nearest->to]);
  hf_finding_say(finding, "only %s from %s, should be %s of the letter, %s", apart,
                 what[nearest->to], strokes, wanted);
}

static void
check_letter(HfCheck *check, guint s, GArray *ids)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  g_autoptr(HfRegion) letter = hf_region_new();
  hf_region_flatten(letter, shape->outline, s, COARSE_MM);
  double edge = hf_region_perimeter(letter);
  double stroke = edge > 0 ? 2 * fabs(hf_outline_area(shape->outline)) / edge : 0;
  double most = stroke * check->hold->limits[HF_LAW_TIGHT_MARGIN].caution / 100;
  Nearest nearest = {most, {0, 0}, s, TO_NOTHING};
  HfBox about = hf_box_grow(hf_outline_box(shape->outline), most);
  hf_index_query(check->index, about, ids);
  for (guint i = 0; i < ids->len; i++) {
    HfEdgeId id = g_array_index(ids, HfEdgeId, i);
    guint other = hf_check_shape_at(check, id);
    HfPoint a = hf_edge_start(check->metal->region, id), b = hf_edge_end(check->metal->region, id);
    To to = what_is(check, shape, other);
    HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
    if (to != TO_NOTHING && hf_box_overlaps(about, box))
      keep_nearer(&nearest, letter, a, b, other, to);
  }
  if (nearest.to != TO_NOTHING && nearest.apart > TOUCHES)
    add_finding(check, s, &nearest, stroke);
}

static gboolean
check_margin(HfCheck *check, GError **error)
{
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(check->layout, s);
    const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
    if (shape->letter < 0 || shape->mends > 0 || entry->kind != HF_ENTRY_WORDS)
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    check_letter(check, s, ids);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_tight_margin_law = {
    .key = "tight-margin",
    .quantity = "how near words are to an edge, a hole or other words, in strokes of their letters",
    .unit = "%",
    .at_least = TRUE,
    .gravity = HF_CAUTION,
    .caution = {"100 %", ", one stroke"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "it looks like a mistake, and the strip between bends first",
    .what = "only {measured} of a stroke from what is beside it, {needs} {limit}",
    .fix = "make the words smaller, or give them more room",
    .cures = HF_CURES("middle", "arc", "plate", "smaller", "inward", "wider"),
    .check = check_margin,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
