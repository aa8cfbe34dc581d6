/* SPDX-License-Identifier: GPL-3.0-or-later
 * layout-private.h - what the files of layout/ share: one kind of entry a file, one signature.
 *
 * Entries are laid in the order in which they depend on each other (a bar before the words that
 * stand on it); their shapes are then handed on in the recipe's own order.
 */
#pragma once
#include "layout/layout.h"
#include "recipe/kind.h"

/* What is known of an entry once it is laid. */
typedef struct {
  gboolean done;
  GPtrArray *shapes;   /* HfShape *, own until handed to the layout */
  GArray *hangs;       /* HfHang; `shape` counts within `shapes` */
  GArray *joints;      /* HfJoint, its shapes numbered by HF_LAID_SHAPE */
  GArray *frames;      /* HfMatrix: one a copy, from the entry's own frame to the sign's */
  HfBox own;           /* its box in its own frame, before it was placed */
  HfBox box;           /* exact box of all its shapes in the sign's frame; set by layout.c */
  HfPoint centre;      /* of its first copy, sign's frame; gate arch: the centre of its circles */
  double inner, outer; /* ring, round plate, gate arch: radii, mm; a solver may have changed them;
                          else 0 */
  double span;         /* gate arch: half the angle that its curve covers about `centre` */
  double legs;         /* gate arch: how long they are */
} HfLaid;

/* A shape of any entry that is laid already: shape @i of @entry. layout.c turns it into an index.
 */
#define HF_LAID_SHAPE(entry, i) ((guint)(entry) << 16 | (guint)(i))

/* Sizes that a solver found and that replace those of the recipe (a ring that gave way). */
typedef struct {
  double outer, inner; /* radii, mm; NAN: as in the recipe */
  double width;        /* words: mm that their spacing is to bring them to; NAN: as in the recipe */
} HfChanged;

typedef struct {
  const HfRecipe *recipe;
  HfFonts *fonts;
  const double *joint_limits; /* mm, by HfLayerAt */
  double joint_limit;         /* of the layer of the entry that is being laid */
  const HfCancel *cancel; /* (nullable) loops that may be long end early; lay_one() tells of it */
  HfLaid *laid;           /* one an entry */
  HfChanged *changed;     /* one an entry */
  gboolean again;         /* a solver changed another entry: everything is laid anew (bounded) */
  HfLayout *layout; /* solved, faces, notes and missed are added to as entries are laid; shapes,
                       hangs and joints come from `laid` at the end. All is emptied by `again` */
} HfLaying;

typedef gboolean (*HfLayFunc)(HfLaying *laying, guint entry, GError **error);

/** Each lays one kind of entry: shapes, frames, hanging points and joints into `laid`, in mm.
 *  All that it names is laid already. %FALSE with the error (%HF_ERROR_NO_ROOM,
 *  %HF_ERROR_BAD_VALUE, of the font) at the place of the entry. */
gboolean hf_lay_ring(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_plate(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_bar(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_arch(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_words(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_initial(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_separator(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_border(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_ornament(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_drawing(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_hole(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_holes(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_slot(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_keyhole(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_ear(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_foot(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_stake(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_tie(HfLaying *laying, guint entry, GError **error);
gboolean hf_lay_group(HfLaying *laying, guint entry, GError **error);
/* a plate whose shape is the outline of what stands on it; called by hf_lay_plate() */
gboolean hf_lay_plate_outline(HfLaying *laying, guint entry, GError **error);

/** hf_lay_order: (transfer full) (element-type guint) entries so that each comes after those that
 *  it names; otherwise in recipe order; ties last. %NULL: they name each other in a circle. */
GArray *hf_lay_order(const HfRecipe *recipe, GError **error);
/** hf_lay_anew: lays @entry once more, as if it had not been laid: something of it in `changed` is
 *  another. What it is placed by must be as it was. */
gboolean hf_lay_anew(HfLaying *laying, guint entry, GError **error);
/** hf_lay_edge_inside: (transfer full) the edge that something stays inside: the outline of the
 * entry called @name, of a ring its window. */
HfOutline *hf_lay_edge_inside(const HfLaying *laying, const char *name);
/** hf_lay_is_around: is @other one of those that the outline plate @plate goes round? */
gboolean hf_lay_is_around(const HfRecipe *recipe, guint plate, guint other);

/** hf_lay_find_file: where @file of the recipe lies: beside it or below it, links followed.
 *  @what: "font", "drawing". %FALSE with %HF_ERROR_NOT_FOUND, or %HF_ERROR_BAD_VALUE: it is a link
 *  that leads out of that folder. */
gboolean hf_lay_find_file(const HfLaying *laying, const char *file, const char *what,
                          const char *where, char **ret_path, GError **error);

/** hf_lay_where: (transfer full) `boats.yaml:4:9` of an entry, for errors. */
char *hf_lay_where(const HfLaying *laying, guint entry);

/** hf_lay_refuse: hf_error_set() with the place of @entry; always %FALSE. */
gboolean hf_lay_refuse(const HfLaying *laying, guint entry, GError **error, HfErrorKind kind,
                       const char *fix, const char *format, ...) G_GNUC_PRINTF(6, 7);

static inline const HfEntry *
hf_lay_entry(const HfLaying *laying, guint entry)
{
  return hf_recipe_at(laying->recipe, entry);
}

/** hf_lay_named: (transfer none) what is known of the entry called @name; it is laid already,
 *  because the order of laying follows the names. */
const HfLaid *hf_lay_named(const HfLaying *laying, const char *name, guint *ret_entry);

/* Which way an entry looks that stands at a direction on another one. */
typedef enum {
  HF_LOOK_UPRIGHT, /* as it is */
  HF_LOOK_OUTWARD, /* its top away from the other's centre */
  HF_LOOK_READING, /* outward in the upper half, inward in the lower one: never on its head */
} HfLook;

/** hf_lay_frames: fills laid->frames, own and centre from the entry's HfPlace. @own: the entry's
 *  box in its own frame (origin = its own centre), needed to put it beside another one. */
gboolean hf_lay_frames(HfLaying *laying, guint entry, HfBox own, GError **error);
gboolean hf_lay_frames_looking(HfLaying *laying, guint entry, HfBox own, HfLook look, double inset,
                               GError **error); /* inset: mm inside the edge of what it is on */

/** hf_lay_is_between: is it placed in the middle of what others leave free? */
gboolean hf_lay_is_between(const HfEntry *entry);
/** hf_lay_between: adds to @ret_points (HfPoint) where the own frame's origin of each copy goes,
 * @own being its box. %FALSE with %HF_ERROR_NO_ROOM, %HF_ERROR_BAD_VALUE. */
gboolean hf_lay_between(HfLaying *laying, guint entry, HfBox own, GArray *ret_points,
                        GError **error);
/* A band that may have room: a whole ring, or an arch from foot to foot. */
typedef struct {
  HfPoint centre;
  double radius; /* mm: of the middles of what is placed */
  double span;   /* rad to either side of the top; PI: all round */
} HfFreeBand;
/** hf_lay_between_angles: the same in a band: adds to @ret_angles (double) the directions of copies
 * @wide mm wide. Between two in a ring there are two free arcs, beside one there is one; between
 * two in an arch there is one, beside one there are two, down to either foot. */
gboolean hf_lay_between_angles(HfLaying *laying, guint entry, HfFreeBand band, double wide,
                               GArray *ret_angles, GError **error);

/** hf_or_zero: what was not given is NAN. */
static inline double
hf_or_zero(double given)
{
  return isnan(given) ? 0 : given;
}

/** hf_place_shift: [right, up], mm. */
static inline HfPoint
hf_place_shift(const HfPlace *place)
{
  return hf_point(hf_or_zero(place->shift_x), hf_or_zero(place->shift_y));
}

/** hf_place_is_said: does it say more than a shift? */
gboolean hf_place_is_said(const HfPlace *place);

/** hf_shapes_box: the box of all of @shapes (HfShape); empty for none. */
HfBox hf_shapes_box(const GPtrArray *shapes);

/** hf_shape_moved: (transfer full) @shape through @m, which turns, moves, mirrors and grows alike
 * in both ways. The frame of what is no letter stays rigid. */
HfShape *hf_shape_moved(const HfShape *shape, HfMatrix m);

/* A place on an entry that is laid, sign's frame. */
typedef struct {
  HfPoint at;
  double outward; /* direction that leads away from it there */
} HfLaidSpot;

/* At a direction on a ring or gate arch: the middle of its strip, or its outer edge; on anything
 * else the edge, whichever is asked for. */
typedef enum { HF_SPOT_ON_MIDDLE, HF_SPOT_ON_EDGE } HfSpotOn;

/** hf_lay_spot: where @spot is on entry @on (laid). Left and right end: of a bar the ends, of a
 *  gate arch the lower ends of its legs, of others their edge at 9 and 3 o'clock. */
HfLaidSpot hf_lay_spot(const HfLaying *laying, guint on, HfSpot spot, HfSpotOn where);

/** hf_lay_has_spot: %FALSE with the error when @entry can't be there: a direction in which the
 * strip of a gate arch does not run. */
gboolean hf_lay_has_spot(const HfLaying *laying, guint entry, guint on, HfSpot spot,
                         GError **error);

/** hf_lay_label: (transfer full) `ring "outer"`, `ring 2` when it has no name of its own; with
 *  several copies ` (left end)` behind it. */
char *hf_lay_label(const HfLaying *laying, guint entry, guint copy);

/** hf_lay_shape: adds a copy of @own, moved by each of the entry's frames, as its shapes.
 *  @letter -1: the entry itself. */
void hf_lay_shape(HfLaying *laying, guint entry, const HfOutline *own, gint letter);

/** hf_lay_has_level_top: can words or ornaments stand on it: a bar, or a plate with a straight top?
 */
gboolean hf_lay_has_level_top(const HfEntry *entry);

/** hf_lay_miss_letters: records each letter that a rule names and that is not there. */
void hf_lay_miss_letters(HfLayout *layout, const HfRecipe *recipe);

/** hf_shapes_meant: (transfer full) (element-type guint) as hf_layout_meant(), among @shapes. */
GArray *hf_shapes_meant(const HfRecipe *recipe, const GPtrArray *shapes, const char *text,
                        int *ret_entry);

/** hf_layout_add_missed: of a layout that is being made: a pin that no longer fits, or a letter
 * that is not there. Copies the texts. */
void hf_layout_add_missed(HfLayout *layout, guint entry, HfPoint at, const char *part,
                          const char *why, const char *fix);

/** hf_lay_layout_new: (transfer full) empty, to be filled before it is handed on. */
HfLayout *hf_lay_layout_new(void);
