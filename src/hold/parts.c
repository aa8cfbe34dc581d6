/* SPDX-License-Identifier: GPL-3.0-or-later
 * parts.c - which parts the metal has, which of them is the body, and which fall.
 *
 *   metal --cut at every joint under the joint limit--> parts
 *   body: carries the hanging points; without any, the largest not made only of what may stand
 *   alone. What may: each letter's largest part, for the entries named in `alone`. All else falls.
 */
#include "base/text.h"
#include "hold/parts-private.h"
#include <string.h>

/* A list of letters' own dots and accents may be named too: "dots of NUMBER". */
#define DOTS_OF "dots of "

/* ---- alone ----------------------------------------------------------------------------------- */

static gboolean
named_alone(const HfCheck *check, const char *before, guint entry)
{
  for (guint i = 0; check->recipe->alone != NULL && i < check->recipe->alone->len; i++) {
    const char *name = check->recipe->alone->pdata[i];
    if (g_str_has_prefix(name, before) &&
        hf_recipe_is_called(check->recipe, entry, name + strlen(before)))
      return TRUE;
  }
  return FALSE;
}

static guint
share_shape(const HfPiece *piece, guint i)
{
  return g_array_index(piece->shares, HfShare, i).shape;
}

/* Made of nothing but entries that may stand alone? Metal inside an opening is nobody's letter. */
static gboolean
only_alone(const HfCheck *check, const HfPiece *piece)
{
  gboolean named = FALSE;
  for (guint i = 0; i < piece->shares->len; i++) {
    const HfShape *shape = hf_layout_shape(check->layout, share_shape(piece, i));
    if (hf_check_only_holds(check, shape))
      continue;
    if (shape->opening || !named_alone(check, "", shape->entry))
      return FALSE;
    named = TRUE;
  }
  return named;
}

static gboolean
dots_alone(const HfCheck *check, const HfPiece *piece)
{
  for (guint i = 0; i < piece->shares->len; i++) {
    const HfShape *shape = hf_layout_shape(check->layout, share_shape(piece, i));
    if (!hf_check_only_holds(check, shape) && !named_alone(check, DOTS_OF, shape->entry))
      return FALSE;
  }
  return TRUE;
}

static gboolean
may_stand_alone(const HfCheck *check, const HfPiece *piece)
{
  return only_alone(check, piece) && (!piece->fragment || dots_alone(check, piece));
}

/* ---- body ------------------------------------------------------------------------------------ */

static double
distance_to(const HfRegion *region, guint outer, HfPoint p)
{
  double nearest = INFINITY;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    if (hf_region_root(region, r) != outer)
      continue;
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      nearest = fmin(nearest, hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)));
    }
  }
  return nearest;
}

/* The piece whose edge is the nearest: for a hole that is the metal round it. */
static guint
piece_at(const HfRegion *region, const GArray *pieces, HfPoint p)
{
  guint best = 0;
  double nearest = INFINITY;
  for (guint i = 0; i < pieces->len; i++) {
    double d = distance_to(region, g_array_index(pieces, HfPiece, i).outer, p);
    if (d < nearest - 1e-9) {
      nearest = d;
      best = i;
    }
  }
  return best;
}

/* Marks the parts that carry hanging points; one finding when they are several. */
static gboolean
find_hung(HfCheck *check, const HfRegion *region, const GArray *pieces, gboolean *body)
{
  const GArray *hangs = check->layout->hangs;
  guint first = 0;
  HfFinding *finding = NULL;
  for (guint i = 0; hangs != NULL && i < hangs->len; i++) {
    const HfHang *hang = &g_array_index(hangs, HfHang, i);
    guint piece = piece_at(region, pieces, hang->at);
    body[piece] = TRUE;
    if (i == 0)
      first = piece;
    if (piece == first)
      continue;
    if (finding == NULL)
      finding = hf_check_add(check, HF_LAW_HANGING_SPLIT, NAN, hang->at);
    if (finding != NULL) {
      hf_finding_name(check, finding, g_array_index(hangs, HfHang, 0).shape);
      hf_finding_name(check, finding, hang->shape);
    }
  }
  return hangs != NULL && hangs->len > 0;
}

/* Without hanging points: the largest that is not made of what may stand alone, nor a mere
 * fragment of it. */
static void
find_largest(const HfCheck *check, const GArray *pieces, gboolean *body)
{
  for (guint i = 0; i < pieces->len; i++)
    if (!only_alone(check, &g_array_index(pieces, HfPiece, i))) {
      body[i] = TRUE;
      return;
    }
}

/* ---- reporting ------------------------------------------------------------------------------- */

static int
by_number(gconstpointer a, gconstpointer b)
{
  guint p = *(const guint *)a, q = *(const guint *)b;
  return (p > q) - (p < q);
}

static HfPart
part_new(const HfCheck *check, const HfPiece *piece)
{
  HfPart part = {.area = piece->area,
                 .mass = hf_check_mass(check, piece->area),
                 .centroid = hf_point_scale(piece->moment, 1 / piece->area),
                 .box = piece->box,
                 .outer = piece->outer,
                 .name = hf_piece_name(check, piece),
                 .shapes = g_array_new(FALSE, FALSE, sizeof(guint))};
  for (guint i = 0; i < piece->shares->len; i++) {
    guint shape = share_shape(piece, i);
    g_array_append_val(part.shapes, shape);
  }
  g_array_sort(part.shapes, by_number);
  return part;
}

static char *
how_held(const HfCheck *check, const HfPiece *piece)
{
  if (!isnan(piece->joint)) {
    g_autofree char *width = hf_text_mm(piece->joint);
    g_autofree char *limit = hf_text_mm(check->hold->limits[HF_LAW_WEAK_JOINT].stop);
    return g_strdup_printf("held only by a joint of %s, where %s is needed", width, limit);
  }
  return g_strdup(piece->touches ? "joined only at a point" : "joined to nothing");
}

/* Would fall: what lies within other metal, hangs on it by too little, or is a scrap of a letter.
 * A whole thing that lies apart is a second sign that nobody asked for. */
static gboolean
falls(const HfPiece *piece)
{
  return piece->enclosed || piece->fragment || piece->touches || !isnan(piece->joint);
}

/* Only what would be taken is offered: metal inside an opening is nobody's, and can't be named. */
static const char *
cure_of(const HfCheck *check, const HfPiece *piece)
{
  for (guint i = 0; i < piece->shares->len; i++) {
    const HfShape *shape = hf_layout_shape(check->layout, share_shape(piece, i));
    if (shape->opening)
      return shape->letter >= 0 ? "tie it, or take a stencil face" : "tie it";
  }
  if (!piece->fragment)
    return "tie it, let it bite deeper, or name it under alone";
  const HfShape *of = hf_layout_shape(check->layout, share_shape(piece, 0));
  return of->letter >= 0
             ? "tie it, let it bite deeper, or say under alone: dots of the entry's name"
             : "tie it, or move off what cuts it apart";
}

static void
report(HfCheck *check, const HfPiece *piece, const HfPart *part)
{
  HfLawKind kind = part->loose ? HF_LAW_LOOSE_PART : HF_LAW_STANDS_ALONE;
  HfFinding *finding = hf_check_add(check, kind, NAN, part->centroid);
  if (finding == NULL)
    return;
  finding->area = part->area;
  finding->mass = part->mass;
  finding->box = part->box;
  for (guint i = 0; i < piece->shares->len; i++)
    hf_finding_name(check, finding, share_shape(piece, i));
  g_ptr_array_set_size(finding->names, 0); /* the part's own name says it better */
  hf_finding_call(finding, part->name);
  g_autofree char *held = how_held(check, piece), *mass = hf_text_grams(part->mass);
  g_autofree char *size = hf_text_size(hf_box_width(part->box), hf_box_height(part->box));
  hf_finding_fix(finding, cure_of(check, piece));
  if (part->loose)
    hf_finding_say(finding, "loose, %s: %s, %s, would fall out", held, mass, size);
  else
    hf_finding_say(finding, "stands alone, %s, which the recipe does not ask for: %s, %s", held,
                   mass, size);
}

static gboolean
check_parts(HfCheck *check, GError **error)
{
  g_return_val_if_fail(check->cuts != NULL, FALSE);
  HfRegion *cut = check->cuts->len > 0 ? hf_region_splice(check->metal->region, check->cuts) : NULL;
  check->hold->cut = cut;
  const HfRegion *region = cut != NULL ? cut : check->metal->region;
  if (!hf_cancel_check(check->cancel, error))
    return FALSE;
  g_autoptr(GArray) pieces = hf_pieces_new(check, region);
  g_autofree gboolean *body = g_new0(gboolean, pieces->len + 1);
  gboolean hung = find_hung(check, region, pieces, body);
  if (!hung)
    find_largest(check, pieces, body);
  for (guint i = 0; i < pieces->len; i++) {
    const HfPiece *piece = &g_array_index(pieces, HfPiece, i);
    HfPart part = part_new(check, piece);
    part.hung = hung && body[i];
    part.of_alone = only_alone(check, piece);
    part.alone = may_stand_alone(check, piece);
    part.body = body[i] || part.alone;
    part.loose = !part.body && falls(piece);
    if (!part.body)
      report(check, piece, &part);
    g_array_append_val(check->hold->parts, part);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_loose_part_law = {
    .key = "loose-part",
    .quantity = "metal that nothing holds",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "it falls out when the cut closes",
    .what = "loose, nothing holds it[: {mass} would fall out]",
    .fix = "tie it, let it bite deeper, or name it under alone",
    .cures =
        HF_CURES("ties", "slim", "lowered", "longer", "closer", "joined", "nearer", "bite", "arc",
                 "fill", "ring", "room", "bar", "larger", "bolder", "further", "ends", "alone"),
    .check = check_parts,
    .after = &hf_thin_web_law,
    .measures = HF_MEASURES_PART,
    .trouble = HF_TROUBLE_HELD,
    .mends = HF_MENDS_PART,
};

const HfLaw hf_stands_alone_law = {
    .key = "stands-alone",
    .quantity = "part that was not asked for",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "one sign is one piece unless the recipe says otherwise",
    .what = "stands alone, which the recipe does not ask for[: {mass}]",
    .fix = "tie it, let it bite deeper, or name it under alone",
    .cures = HF_CURES("ties", "slim", "lowered", "longer", "closer", "joined", "nearer", "bite",
                      "arc", "fill", "ring", "room", "bar", "larger", "bolder", "ends", "alone"),
    .check = check_parts,
    .after = &hf_thin_web_law,
    .measures = HF_MEASURES_PART,
    .trouble = HF_TROUBLE_HELD,
    .mends = HF_MENDS_PART,
};

const HfLaw hf_hanging_split_law = {
    .key = "hanging-split",
    .quantity = "hanging points on different parts",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "one of the parts hangs by less than was drawn",
    .what = "hanging points are on different parts",
    .fix = "join the parts by a bar",
    .cures = HF_CURES("ties", "longer", "bar"),
    .check = check_parts,
    .after = &hf_thin_web_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_HELD,
    .mends = HF_MENDS_NOTHING,
};
