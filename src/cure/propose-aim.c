/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-aim.c - what a family may look at: findings that its key can cure, pieces in the air.
 */
#include "cure/propose-private.h"
#include "geom/index.h"
#include "recipe/kind.h"
#include <string.h>

#define MOST_PIECES 64
#define FARTHEST    2000.0 /* mm that is looked for other metal */
#define SAME_BOX    0.05   /* mm */

/* ---- findings -------------------------------------------------------------------------------- */

static gboolean
lists(const HfLaw *law, const char *key)
{
  for (guint i = 0; law->cures[i] != NULL; i++)
    if (strcmp(law->cures[i], key) == 0)
      return TRUE;
  return FALSE;
}

/* Forms of a law's finding that one family alone cures: others would bring some of it back by
 * chance, as letters that are set apart until a tail stands beyond the end of its bar. */
static const struct {
  HfLawKind kind;
  const char *form, *key;
} owned[] = {{HF_LAW_CHANGED_LETTER, "tail", "shallow"}};

static gboolean
is_anothers(const HfFinding *finding, const char *key)
{
  for (guint i = 0; i < G_N_ELEMENTS(owned); i++)
    if (finding->kind == owned[i].kind && g_strcmp0(finding->form, owned[i].form) == 0)
      return strcmp(owned[i].key, key) != 0;
  return FALSE;
}

static gboolean
takes_part(const HfFinding *finding, gint entry)
{
  for (guint i = 0; entry >= 0 && i < finding->entries->len; i++)
    if (g_array_index(finding->entries, guint, i) == (guint)entry)
      return TRUE;
  return entry < 0;
}

static gboolean
may_aim(const HfProposing *asked, const HfFinding *finding, gint entry)
{
  const HfLaw *law = hf_law(finding->kind);
  gboolean worth = finding->gravity > HF_NOTE || law->gravity == HF_NOTE;
  return worth && finding->accepted == NULL && lists(law, asked->family->key) &&
         !is_anothers(finding, asked->family->key) && takes_part(finding, entry);
}

GArray *
hf_proposing_aims(const HfProposing *asked, gint entry)
{
  GArray *aims = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < asked->sign->hold->findings->len; i++)
    if (may_aim(asked, hf_proposing_finding(asked, i), entry))
      g_array_append_val(aims, i);
  return aims;
}

GArray *
hf_proposing_aims_of(const HfProposing *asked, gint entry, HfLawKind kind)
{
  GArray *aims = hf_proposing_aims(asked, entry);
  for (guint i = aims->len; i-- > 0;)
    if (hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind != kind)
      g_array_remove_index(aims, i);
  return aims;
}

GArray *
hf_proposing_aims_in_form(const HfProposing *asked, gint entry, HfLawKind kind, const char *form)
{
  GArray *aims = hf_proposing_aims_of(asked, entry, kind);
  for (guint i = aims->len; i-- > 0;)
    if (g_strcmp0(hf_proposing_finding(asked, g_array_index(aims, guint, i))->form, form) != 0)
      g_array_remove_index(aims, i);
  return aims;
}

gboolean
hf_proposing_has(const HfProposing *asked, const GArray *aims, HfLawKind kind)
{
  for (guint i = 0; i < aims->len; i++)
    if (hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind == kind)
      return TRUE;
  return FALSE;
}

double
hf_proposing_lack(const HfProposing *asked, const GArray *aims)
{
  double most = 0;
  for (guint i = 0; i < aims->len; i++) {
    const HfFinding *finding = hf_proposing_finding(asked, g_array_index(aims, guint, i));
    if (strcmp(hf_law(finding->kind)->unit, "mm") == 0 && !isnan(finding->limit))
      most = fmax(most, fabs(finding->limit - finding->measured));
  }
  return most;
}

double
hf_proposing_limit(const HfProposing *asked, HfLawKind kind)
{
  HfLimit limit = asked->sign->hold->limits[kind];
  return isnan(limit.stop) ? limit.caution : limit.stop;
}

/* ---- entries --------------------------------------------------------------------------------- */

gint
hf_proposing_named(const HfProposing *asked, const char *name)
{
  for (guint i = 0; name != NULL && i < hf_proposing_n(asked); i++)
    if (strcmp(hf_proposing_entry(asked, i)->name, name) == 0)
      return (gint)i;
  return -1;
}

double
hf_proposing_bite(const HfProposing *asked, double said)
{
  return isnan(said) ? fmax(hf_proposing_limit(asked, HF_LAW_WEAK_JOINT) / 2, 1) : said;
}

const HfFontWish *
hf_proposing_font(const HfEntry *entry)
{
  return hf_entry_font(entry);
}

HfBox
hf_proposing_box(const HfProposing *asked, guint entry, gint copy)
{
  const HfLayout *layout = asked->sign->layout;
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry == entry && (copy < 0 || shape->copy == (guint)copy))
      box = hf_box_union(box, hf_outline_box(shape->outline));
  }
  return box;
}

double
hf_proposing_solved(const HfProposing *asked, guint entry, HfSolvedWhat what)
{
  const GArray *solved = asked->sign->layout->solved;
  for (guint i = 0; solved != NULL && i < solved->len; i++) {
    const HfSolved *one = &g_array_index(solved, HfSolved, i);
    if (one->entry == entry && one->what == what)
      return one->value;
  }
  return NAN;
}

double
hf_proposing_height(const HfProposing *asked, guint entry)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++)
    if (hf_layout_shape(layout, i)->entry == entry && hf_layout_shape(layout, i)->letter >= 0)
      return hf_layout_shape(layout, i)->letter_height;
  return 0;
}

/* ---- pieces in the air ----------------------------------------------------------------------- */

typedef struct {
  const HfRegion *region;
  HfIndex *index;
  GArray *ids;
} Search;

/* The outer ring that is just as large as the part; -1: the part hangs on by a weak joint. */
static gint
ring_of(const HfRegion *region, const HfPart *part)
{
  for (guint r = 0; r < region->rings->len; r++) {
    if (hf_region_ring(region, r)->parent >= 0)
      continue;
    HfBox box = hf_ring_box(hf_region_ring(region, r));
    if (hf_point_distance(box.min, part->box.min) < SAME_BOX &&
        hf_point_distance(box.max, part->box.max) < SAME_BOX)
      return (gint)r;
  }
  return -1;
}

static guint
most_of_ring(const HfRegion *region, guint r)
{
  const HfRing *ring = hf_region_ring(region, r);
  g_autoptr(GHashTable) lengths = g_hash_table_new_full(NULL, NULL, NULL, g_free);
  guint best = HF_NO_SHAPE;
  double longest = 0;
  for (guint v = 0; ring->from != NULL && v < ring->n; v++) {
    guint shape = ring->from[v].shape;
    double *sum = g_hash_table_lookup(lengths, GUINT_TO_POINTER(shape));
    if (sum == NULL) {
      sum = g_new0(double, 1);
      g_hash_table_insert(lengths, GUINT_TO_POINTER(shape), sum);
    }
    *sum += hf_point_distance(hf_edge_start(region, (HfEdgeId){r, v}),
                              hf_edge_end(region, (HfEdgeId){r, v}));
    if (*sum > longest) {
      longest = *sum;
      best = shape;
    }
  }
  return best;
}

/* The nearest edge of other metal to one edge, no farther than piece->gap. */
static void
look_from(const Search *search, HfEdgeId own, HfAdrift *piece)
{
  HfPoint a = hf_edge_start(search->region, own), b = hf_edge_end(search->region, own);
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  hf_index_query(search->index, hf_box_grow(box, piece->gap), search->ids);
  for (guint i = 0; i < search->ids->len; i++) {
    HfEdgeId id = g_array_index(search->ids, HfEdgeId, i);
    const HfRing *ring = hf_region_ring(search->region, id.ring);
    if (id.ring == piece->ring || ring->parent == (gint)piece->ring)
      continue;
    HfPoint on, other;
    double gap = hf_segment_gap(a, b, hf_edge_start(search->region, id),
                                hf_edge_end(search->region, id), &on, &other);
    if (gap >= piece->gap)
      continue;
    piece->gap = gap;
    piece->from = on;
    piece->to = other;
    piece->to_shape = ring->from != NULL ? ring->from[id.vertex].shape : HF_NO_SHAPE;
  }
}

static gboolean
look_round(const Search *search, HfAdrift *piece)
{
  guint n = hf_region_ring(search->region, piece->ring)->n;
  for (double reach = 4; reach < FARTHEST; reach *= 4) {
    piece->gap = reach;
    for (guint v = 0; v < n; v++)
      look_from(search, (HfEdgeId){piece->ring, v}, piece);
    if (piece->gap < reach)
      return TRUE;
  }
  return FALSE;
}

static gboolean
look(const HfProposing *asked, const Search *search, guint part, HfAdrift *ret_piece)
{
  gint ring = ring_of(search->region, &g_array_index(asked->sign->hold->parts, HfPart, part));
  if (ring < 0)
    return FALSE;
  *ret_piece = (HfAdrift){.part = part,
                          .ring = (guint)ring,
                          .shape = most_of_ring(search->region, (guint)ring),
                          .to_shape = HF_NO_SHAPE};
  return ret_piece->shape < asked->sign->layout->shapes->len && look_round(search, ret_piece);
}

static Search
search_new(const HfProposing *asked)
{
  const HfRegion *region = asked->sign->metal->region;
  return (Search){region, hf_index_new(region, 10), g_array_new(FALSE, FALSE, sizeof(HfEdgeId))};
}

static void
search_clear(Search *search)
{
  g_array_unref(search->ids);
  hf_index_free(search->index);
}

gboolean
hf_proposing_look(HfProposing *asked, guint part, HfAdrift *ret_piece)
{
  Search search = search_new(asked);
  gboolean found = look(asked, &search, part, ret_piece);
  search_clear(&search);
  return found;
}

const GArray *
hf_proposing_pieces(HfProposing *asked)
{
  const HfHold *hold = asked->sign->hold;
  if (asked->pieces != NULL)
    return asked->pieces;
  asked->pieces = g_array_new(FALSE, FALSE, sizeof(HfAdrift));
  if (hold->parts->len < 2)
    return asked->pieces;
  Search search = search_new(asked);
  for (guint i = 0; i < hold->parts->len && asked->pieces->len < MOST_PIECES; i++) {
    const HfPart *part = &g_array_index(hold->parts, HfPart, i);
    HfAdrift piece;
    if (!part->body && !part->alone && look(asked, &search, i, &piece))
      g_array_append_val(asked->pieces, piece);
  }
  search_clear(&search);
  return asked->pieces;
}
