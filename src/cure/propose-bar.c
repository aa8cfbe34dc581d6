/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-bar.c - a bar under the words or through them, a ring under words on an arc, bars that
 * join the ends of a sign in two pieces.
 *
 *    B A K E R Y         B-A-K-E-R-Y        ==========
 *   =============                           |        |   ends
 *      under               through          ==========
 */
#include "cure/propose-private.h"
#include "geom/index.h"
#include "recipe/kind.h"
#include <string.h>

/* ---- words -------------------------------------------------------------------------------------
 */

/* The words' ink, and the level of their last line's baseline. */
typedef struct {
  HfBox ink;
  double baseline, height;
} Line;

/* %FALSE: not one straight, level line of text. */
static gboolean
measure_line(const HfProposing *asked, guint entry, Line *line)
{
  const HfLayout *layout = asked->sign->layout;
  *line = (Line){HF_BOX_EMPTY, INFINITY, 0};
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry != entry || shape->letter < 0 || shape->copy > 0)
      continue;
    if (fabs(shape->em.xy) > 1e-6 * fabs(shape->em.xx) || shape->em.xx <= 0)
      return FALSE;
    line->ink = hf_box_union(line->ink, hf_outline_box(shape->outline));
    line->baseline = fmin(line->baseline, shape->em.y0);
    line->height = shape->letter_height;
  }
  return line->height > 0;
}

static gboolean
is_plain_line(const HfEntry *e)
{
  return hf_words_are_level(e) && e->words.stand_on == NULL &&
         (e->place.at == NULL || e->place.at->len < 2) && !e->words.fill;
}

static double
bar_height(const HfProposing *asked, double letter_height)
{
  double limit = hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB);
  return ceil(fmax(1.6 * limit, 0.1 * letter_height));
}

/* @name: (transfer full) */
static HfNode *
bar_entry(const HfEntry *like, HfNode *name, HfPoint at, double length, double height)
{
  return hf_node_new_entry("bar", hf_table({"name", name},
                                           {"length", hf_say_rough(like, "height", length)},
                                           {"height", hf_say_rough(like, "height", height)},
                                           {"at", hf_say_point(like, "height", at)}));
}

/* What places the words now gives way to `stand on`. */
static void
stand_on(const HfProposing *asked, HfProposal *proposal, guint entry, const char *bar)
{
  const HfPlace *place = &hf_proposing_entry(asked, entry)->place;
  const struct {
    const char *key;
    gboolean given;
  } keys[] = {{"on", place->on != NULL},
              {"at", place->at != NULL && place->at->len > 0},
              {"gap", place->gap != 0 && !isnan(place->gap)},
              {"above", place->above != NULL},
              {"below", place->below != NULL},
              {"left of", place->left_of != NULL},
              {"right of", place->right_of != NULL}};
  for (gsize i = 0; i < G_N_ELEMENTS(keys); i++)
    if (keys[i].given)
      hf_propose_take_out(asked, proposal, entry, keys[i].key);
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (guint i = 0; e->said != NULL && i < e->said->len; i++)
    if (strcmp(g_array_index(e->said, HfSaid, i).key, "shift") == 0) {
      hf_propose_take_out(asked, proposal, entry, "shift");
      break;
    }
  hf_propose_set(asked, proposal, entry, "stand on", hf_node_new_text(bar));
}

static void
bar_under(HfProposing *asked, guint entry, const Line *line)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double height = bar_height(asked, line->height);
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                                    hf_phrase("stand %s on a bar", hf_proposing_called(asked, e)));
  if (proposal == NULL)
    return;
  g_autofree char *name = hf_say_new_name(asked, "rail");
  HfPoint at = {hf_box_centre(line->ink).x, line->baseline - height / 2};
  double length = ceil(hf_box_width(line->ink));
  hf_propose_append(proposal, bar_entry(e, hf_node_new_text(name), at, length, height));
  stand_on(asked, proposal, entry, name);
}

/* Words that stand on a bar and reach over its ends: the bar as long as the words, about the same
 * middle. */
static void
bar_longer(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (guint i = 0; e->kind == HF_ENTRY_WORDS && i < hf_proposing_n(asked); i++) {
    const HfEntry *bar = hf_proposing_entry(asked, i);
    if (bar->kind != HF_ENTRY_BAR || g_strcmp0(bar->name, e->words.stand_on) != 0 ||
        (bar->place.at != NULL && bar->place.at->len > 1))
      continue;
    HfBox strip = hf_proposing_box(asked, i, 0), ink = hf_proposing_box(asked, entry, -1);
    double over = fmax(strip.min.x - ink.min.x, ink.max.x - strip.max.x);
    if (over <= 0 || fabs(hf_box_width(strip) - bar->bar.length) > 0.1) /* it is turned */
      continue;
    HfProposal *proposal =
        hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                   hf_phrase_knob(hf_phrase("make %s ", hf_proposing_called(asked, bar)),
                                  " longer, under all of %s", hf_proposing_called(asked, e)));
    if (proposal == NULL)
      return;
    double now = bar->bar.length;
    hf_propose_knob(proposal, bar, "length", now, now + 0.4 * over, now + 2 * over + 1, 1);
    hf_propose_turn(asked, proposal, i, "length");
  }
}

/* Through the middle of small letters where there are any, else of the capitals: as high up as
 * every letter of the usual scripts has ink. It holds the counters of cut-through words too. */
static void
bar_through(HfProposing *asked, guint entry, const Line *line, double share, const char *where)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double height = bar_height(asked, line->height) * 0.75, level = share * line->height;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase("lay a bar through %s, %s", hf_proposing_called(asked, e), where));
  if (proposal == NULL)
    return;
  proposal->last = TRUE;
  double left = line->ink.min.x + 0.5, right = line->ink.max.x - 0.5;
  if (e->as == HF_AS_OPENING) { /* into the metal round them, but not out of it */
    HfBox metal = asked->sign->hold->box;
    left = fmax(left - 1, metal.min.x + 1);
    right = fmin(right + 1, metal.max.x - 1);
  }
  HfPoint at = {(left + right) / 2, line->baseline + level};
  hf_propose_append(proposal,
                    bar_entry(e, hf_say_new(asked, "through"), at, floor(right - left), height));
}

/* Capitals and figures have room for a bar; it strikes out small letters, and in scripts without
 * capitals it is a stroke more, and another letter. */
static gboolean
bears_a_bar(const char *text)
{
  gboolean any = FALSE;
  for (const char *c = text; c != NULL && *c != '\0'; c = g_utf8_next_char(c)) {
    gunichar letter = g_utf8_get_char(c);
    if (g_unichar_isalpha(letter) && !g_unichar_isupper(letter))
      return FALSE;
    any = any || g_unichar_isupper(letter) || g_unichar_isdigit(letter);
  }
  return any;
}

/* Words on an arc: a ring under their feet. */
static void
ring_under(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const HfLayout *layout = asked->sign->layout;
  if (e->kind != HF_ENTRY_WORDS || isnan(e->words.arc_radius) || e->as != HF_AS_METAL)
    return;
  /* the feet of a rigid letter leave the arc by the sagitta of half its width: bite that too */
  HfPoint centre = {0, 0};
  double widest = 0, sign = 0;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry != entry || shape->letter < 0)
      continue;
    HfBox box = hf_outline_box(shape->outline);
    widest = fmax(widest, fmin(hf_box_width(box), hf_box_height(box)));
    HfPoint up = {shape->em.xy, shape->em.yy}, pen = {shape->em.x0, shape->em.y0};
    double length = hf_point_length(up), r = e->words.arc_radius;
    if (sign == 0 && length > 0) {
      HfPoint inward = hf_point_add(pen, hf_point_scale(up, -r / length));
      HfPoint outward = hf_point_add(pen, hf_point_scale(up, r / length));
      sign = hf_point_length(inward) < hf_point_length(outward) ? 1 : -1;
    }
  }
  if (sign == 0 || e->place.on != NULL)
    return;
  double r = e->words.arc_radius, joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  double bite = joint / 2 + widest * widest / (8 * r), strip = 2 * joint + bite;
  double outer = sign > 0 ? 2 * (r + bite) : 2 * (r - bite + strip);
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase("lay a ring under the feet of %s", hf_proposing_called(asked, e)));
  if (proposal == NULL)
    return;
  HfNode *ring =
      hf_table({"name", hf_say_new(asked, "hoop")}, {"outer", hf_say_mm(e, "arc radius", outer)},
               {"width", hf_say_rough(e, "arc radius", strip)},
               {"at", hf_say_point(e, "arc radius", centre)});
  hf_propose_append(proposal, hf_node_new_entry("ring", ring));
}

/* The sign hangs by two parts: a bar from one to the other, the shortest way. */
static void
join_hung(HfProposing *asked)
{
  GArray *aims = hf_proposing_aims_of(asked, -1, HF_LAW_HANGING_SPLIT);
  const GArray *parts = asked->sign->hold->parts;
  HfAdrift piece;
  guint part = parts->len;
  while (part-- > 0)
    if (g_array_index(parts, HfPart, part).hung)
      break;
  if (aims->len == 0 || part >= parts->len || !hf_proposing_look(asked, part, &piece)) {
    g_array_unref(aims);
    return;
  }
  HfProposal *proposal =
      hf_propose(asked, aims, hf_phrase("join the parts that the sign hangs by with a bar"));
  double limit = hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB), height = ceil(3 * limit);
  HfPoint middle = hf_point_mix(piece.from, piece.to, 0.5);
  double angle = hf_angle_of(hf_point_sub(piece.to, piece.from));
  const HfEntry *e =
      hf_proposing_entry(asked, hf_layout_shape(asked->sign->layout, piece.shape)->entry);
  HfNode *bar =
      hf_table({"name", hf_say_new(asked, "link")},
               {"length", hf_say_mm(e, "length", piece.gap + 4 * limit)},
               {"height", hf_say_mm(e, "length", height)},
               {"at", hf_say_point(e, "length", middle)}, {"turn", hf_say_angle(angle, 1)});
  hf_propose_append(proposal, hf_node_new_entry("bar", bar));
}

static void
propose_bar(HfProposing *asked)
{
  join_hung(asked);
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    Line line;
    ring_under(asked, i);
    bar_longer(asked, i);
    if (!is_plain_line(e) || !measure_line(asked, i, &line))
      continue;
    if (e->as == HF_AS_METAL && (e->words.lines == NULL || e->words.lines->len == 1))
      bar_under(asked, i, &line);
    if (e->words.lines == NULL || e->words.lines->len != 1 ||
        !bears_a_bar(e->words.lines->pdata[0]))
      continue;
    bar_through(asked, i, &line, 0.5, "half way up");
    bar_through(asked, i, &line, 0.36, "a little below half way up");
  }
}

const HfFamily hf_family_bar = {.key = "bar", .guards = HF_GUARDS_USUAL, .propose = propose_bar};

/* ---- ends --------------------------------------------------------------------------------------
 */

/* Where the upright line at @x leaves piece @ring for other metal, the narrowest way: from @y0 to
 * @y1 there is no metal. */
static gboolean
gap_at(const HfProposing *asked, guint ring, double x, double *ret_y0, double *ret_y1)
{
  const HfRegion *region = asked->sign->metal->region;
  g_autoptr(GArray) own = g_array_new(FALSE, FALSE, sizeof(double));
  g_autoptr(GArray) other = g_array_new(FALSE, FALSE, sizeof(double));
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *of = hf_region_ring(region, r);
    gboolean is_own = r == ring || of->parent == (gint)ring;
    for (guint v = 0; v < of->n; v++) {
      HfPoint a = hf_edge_start(region, (HfEdgeId){r, v}),
              b = hf_edge_end(region, (HfEdgeId){r, v});
      if ((a.x > x) == (b.x > x))
        continue;
      double y = a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
      g_array_append_val(is_own ? own : other, y);
    }
  }
  double least = INFINITY;
  for (guint i = 0; i < own->len; i++)
    for (guint k = 0; k < other->len; k++) {
      double p = g_array_index(own, double, i), q = g_array_index(other, double, k);
      if (fabs(p - q) < least) {
        least = fabs(p - q);
        *ret_y0 = fmin(p, q);
        *ret_y1 = fmax(p, q);
      }
    }
  return !isinf(least);
}

static gboolean
is_body_box(const HfProposing *asked, HfBox *ret_box)
{
  const GArray *parts = asked->sign->hold->parts;
  for (guint i = 0; i < parts->len; i++)
    if (g_array_index(parts, HfPart, i).body) {
      *ret_box = g_array_index(parts, HfPart, i).box;
      return TRUE;
    }
  return FALSE;
}

/* A strip or a plate; or words that are one piece already, in one straight line. */
static gboolean
has_ends(const HfProposing *asked, guint entry, HfBox piece)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  Line line;
  switch (e->kind) {
  case HF_ENTRY_BAR:
  case HF_ENTRY_PLATE:
  case HF_ENTRY_ARCH:
    return TRUE;
  case HF_ENTRY_WORDS:
    return is_plain_line(e) && measure_line(asked, entry, &line) &&
           hf_box_width(piece) > 0.95 * hf_box_width(line.ink);
  default:
    return FALSE;
  }
}

/* A piece that lies above or below the body, and is about as long: bars at both ends. */
static void
join_ends(HfProposing *asked, const HfAdrift *piece)
{
  HfBox own = g_array_index(asked->sign->hold->parts, HfPart, piece->part).box, body;
  const HfShape *shape = hf_layout_shape(asked->sign->layout, piece->shape);
  if (shape->opening || !has_ends(asked, shape->entry, own) || !is_body_box(asked, &body))
    return;
  double width = ceil(1.5 * hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB));
  double left = fmax(own.min.x, body.min.x), right = fmin(own.max.x, body.max.x);
  if (right - left < 4 * width || right - left < 0.4 * hf_box_width(own))
    return;
  double y0 = 0, y1 = 0, z0 = 0, z1 = 0, x0 = left + width / 2 + 0.01,
         x1 = right - width / 2 - 0.01;
  if (!gap_at(asked, piece->ring, x0, &y0, &y1) || !gap_at(asked, piece->ring, x1, &z0, &z1))
    return;
  double low = fmin(y0, z0), high = fmax(y1, z1),
         bite = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  const HfEntry *e = hf_proposing_entry(asked, shape->entry);
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)shape->entry),
                                    hf_phrase("join the ends of %s to the rest by two upright bars",
                                              hf_proposing_called(asked, e)));
  if (proposal == NULL)
    return;
  double y = (low + high) / 2;
  HfNode *at = hf_node_new_list(hf_say_point(e, "length", hf_point(x0, y)),
                                hf_say_point(e, "length", hf_point(x1, y)), NULL);
  HfNode *bar =
      hf_table({"name", hf_say_new(asked, "ends")}, {"length", hf_say_rough(e, "length", width)},
               {"height", hf_say_mm(e, "length", high - low + 2 * bite)}, {"at", at});
  hf_propose_append(proposal, hf_node_new_entry("bar", bar));
}

static void
propose_ends(HfProposing *asked)
{
  const GArray *pieces = hf_proposing_pieces(asked);
  for (guint i = 0; i < pieces->len; i++)
    join_ends(asked, &g_array_index(pieces, HfAdrift, i));
}

const HfFamily hf_family_ends = {.key = "ends", .guards = HF_GUARDS_USUAL, .propose = propose_ends};
