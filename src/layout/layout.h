/* SPDX-License-Identifier: GPL-3.0-or-later
 * layout.h - from a recipe to placed shapes with names (the door of layout/).
 *
 *   recipe: ring, ring, words        layout: ring | ring | S | a | l | t | ...
 *
 * The placed shapes are exact (true curves, mm, seen from the front, y up); booleans come later.
 */
#pragma once
#include "base/cancel.h"
#include "geom/region.h"
#include "recipe/recipe.h"
#include "type/type.h"

/* One thing that adds or removes metal: an entry, or one letter of it. */
typedef struct {
  HfOutline *outline; /* mm, in the sign's own frame */
  HfOutline *drawn;   /* (nullable) of a letter that is bolder or lighter: as its face has it */
  gboolean opening;   /* removes metal */
  guint entry;        /* index into the recipe's entries */
  gint letter;        /* 0.. in visual order over all lines; -1: the entry itself */
  guint copy;         /* which of several copies of the entry (`at` a list), from 0 */
  char *label;        /* `letter 'R' of "HARBOUR"`, `ring "outer"`; ends up in sentences */
  HfMatrix em; /* to the sign's frame from a letter's ems, or from mm about an entry's centre */
  double letter_height; /* letter: mm of cap height; else 0 */
  double lean;          /* letter: rad that its stems lean to the right, as its face says */
  double pen;           /* letter of words: ems from its line's start, as the face sets the line */
  guint line;           /* letter of words: its line, from 0 */
  guint mends;          /* of a mending rule: 1 + the shape that it is mended for; else 0 */
  gint others;          /* owners beside the first; atomic */
} HfShape;

/* A place to hang by, stand on or bolt through. */
typedef enum { HF_HANG_HOLE, HF_HANG_FOOT, HF_HANG_STAKE } HfHangKind;
typedef struct {
  HfHangKind kind;
  HfPoint at;      /* hole: its centre; foot, stake: middle of its lower end */
  double diameter; /* hole */
  guint shape;     /* the shape that carries it */
} HfHang;

/* Where two named shapes run into each other by a rule of the recipe, as the solver left it. */
typedef struct {
  guint a, b; /* shapes */
  HfPoint at;
  double width; /* joint width, mm; NAN when it was not measured */
  double bite;  /* depth at the shallowest point, mm; NAN when it was not measured */
} HfJoint;

/* A pin that no longer fits: its tie is left out, never moved; or a letter that a rule names and
 * that is not there (finding HF_LAW_PIN_MISSED). Or a part that a rule could not hold
 * (HF_LAW_UNTIED). Or, without a text, a place that a rule for mending did not come to. */
typedef struct {
  guint entry; /* the tie, or the rule */
  HfPoint at;  /* where it was pinned, as far as that is known; else the sign's centre */
  char *why;   /* (nullable) "there is no \"2nd A of BAKERY\"", "the pinned place is metal now" */
  char *part;  /* (nullable) of a rule: name of the part */
  char *fix;   /* (nullable) of a rule: what would help */
} HfMissed;

/* What a solver can find. */
typedef enum {
  HF_SOLVED_LETTER_HEIGHT,
  HF_SOLVED_BASELINE_RADIUS,
  HF_SOLVED_SPACING,
  HF_SOLVED_LETTER_WIDTH,
  HF_SOLVED_OUTER_DIAMETER,
  HF_SOLVED_INNER_DIAMETER,
  HF_SOLVED_TIE_WIDTH,
  HF_SOLVED_PLATE_WIDTH,
  HF_SOLVED_PLATE_HEIGHT,
  HF_SOLVED_PLATE_DIAMETER,
  HF_SOLVED_LENGTH,
  HF_SOLVED_GAP,
  HF_SOLVED_THINNEST_STROKE, /* of shaped words: where the narrowest of their letters is thinnest */
  HF_N_SOLVED
} HfSolvedWhat;

/* What a solver found, for report and page: "letter height of harbour: 61.27 mm". */
typedef struct {
  guint entry;
  HfSolvedWhat what;
  double value; /* mm; 1.0 = 100 % where it is a share */
} HfSolved;

/** hf_solved_name: "letter height" */
const char *hf_solved_name(HfSolvedWhat what);
/** hf_solved_is_share: is it a share of what was designed, not a length? */
gboolean hf_solved_is_share(HfSolvedWhat what);

/* A drawing's file that was used. */
typedef struct {
  char *file;       /* as the recipe says it */
  char *digest;     /* SHA-256 */
  char *size;       /* how its own size came about */
  guint doubts;     /* how much of it is missing or in doubt */
  char *doubt;      /* (nullable) the first: `line 53: a mask was left out` */
  GPtrArray *notes; /* char *: ` is 240 mm wide`, `:12: a picture was left out`: behind its name */
} HfUsedDrawing;

/* All of it stays as it was made: a rule's shapes come in a layout of their own, see
 * hf_layout_extended(). */
typedef struct {
  GPtrArray *shapes;   /* HfShape *, in the order in which they add and remove */
  GArray *hangs;       /* HfHang */
  GArray *joints;      /* HfJoint */
  GArray *solved;      /* HfSolved */
  GArray *missed;      /* HfMissed */
  GPtrArray *faces;    /* const HfFace *, each used face once */
  GPtrArray *drawings; /* HfUsedDrawing *, each file once */
  GPtrArray *notes;    /* char *: things to say that are not findings */
  HfPoint centre;      /* of the sign: the origin of the recipe's frame */
  double load;         /* kg of other layers that this one carries, */
  HfPoint load_at;     /* and the centre of their mass */
  gint others;         /* owners beside the first; atomic */
} HfLayout;

/**
 * hf_layout_new:
 * @joint_limit: mm (hold/law), for rules that leave their depth to the tool
 * @cancel: (nullable)
 * Returns: (transfer full), or %NULL with %HF_ERROR_CANCELLED, %HF_ERROR_BAD_VALUE,
 * %HF_ERROR_NOT_FOUND (fonts), %HF_ERROR_NO_ROOM (says what would fit). Same input, same result to
 * the last bit.
 */
HfLayout *hf_layout_new(const HfRecipe *recipe, HfFonts *fonts, double joint_limit,
                        const HfCancel *cancel, GError **error);
/** hf_layout_new_layered: the same, with a joint limit for each layer (by HfLayerAt). */
HfLayout *hf_layout_new_layered(const HfRecipe *recipe, HfFonts *fonts,
                                const double joint_limits[HF_N_LAYERS], const HfCancel *cancel,
                                GError **error);
/** hf_layout_of_layer: (transfer full) what @layer has of @all, of which no rule is worked out: its
 *  shapes with their hanging points and joints. What is noted goes to the front. */
HfLayout *hf_layout_of_layer(const HfLayout *all, const HfRecipe *recipe, HfLayerAt layer);
/** hf_layout_without: (transfer full) @layout without the shapes of which @left_out says so, and
 *  their hanging points. */
HfLayout *hf_layout_without(const HfLayout *layout, const gboolean *left_out);
/** hf_layout_drilled: (transfer full) @own with @n openings of @from, the layout of another layer:
 *  they cut whatever is there, and the sign hangs by them here too. */
HfLayout *hf_layout_drilled(const HfLayout *own, const HfLayout *from, const guint *shapes,
                            guint n);
/** hf_layout_joined: (transfer full) the layouts of @n layers as one, the shapes of each behind
 *  those of the one before it; it hangs as layer @carrier does. */
HfLayout *hf_layout_joined(const HfLayout *const *layouts, guint n, guint carrier);
/** hf_layout_carrier: which of @n layers, front to back, carries the sign that is held by @mount:
 *  the hindmost that has what it is held by, else the hindmost. */
guint hf_layout_carrier(const HfLayout *const *layouts, guint n, HfMount mount);
/** hf_layout_ref: one more owner, in any thread; each lets go by hf_layout_free(). */
HfLayout *hf_layout_ref(HfLayout *layout);
void hf_layout_free(HfLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfLayout, hf_layout_free)

/* What a rule adds to a layout. All borrowed, each nullable. */
typedef struct {
  const GPtrArray *shapes; /* HfShape *: they add and remove after all others */
  const GArray *missed;    /* HfMissed: parts that it could not hold */
  const GArray *solved;    /* HfSolved */
  const GPtrArray *notes;  /* char * */
} HfLayoutMore;

/**
 * hf_layout_extended:
 * Returns: (transfer full) a layout with @more behind what @layout has. Shapes are shared, and so
 * is each list to which nothing is added. Cost: a pointer and a count for each shape.
 */
HfLayout *hf_layout_extended(const HfLayout *layout, const HfLayoutMore *more);

/** hf_layout_lowers_dots: is @rule (any entry) one for ties that moves dots into their letters?
 * @usual: one that does not say so does. */
gboolean hf_layout_lowers_dots(const HfEntry *rule, gboolean usual);
/**
 * hf_layout_lower_dots:
 * @layout: that nobody else holds yet
 * @joint_limit: mm
 * @usual: a rule for ties that does not say what becomes of dots lowers them
 * Moves the dots and accents of standing letters into their letters, where a rule for ties has it,
 * and notes how far. O(letters), a few dozen booleans for each that has dots.
 */
void hf_layout_lower_dots(HfLayout *layout, const HfRecipe *recipe, double joint_limit,
                          gboolean usual);

/** hf_layout_meant: (transfer full) (element-type guint) the shapes that a pin or a rule means by
 *  @text, of every copy: "letter 2 of NAME", "2nd A of NAME", NAME. Empty: there is none. */
GArray *hf_layout_meant(const HfRecipe *recipe, const HfLayout *layout, const char *text);

/* An opening of a letter: the middle of an O. */
typedef struct {
  HfRegion *filled; /* as solid metal, one ring, sign's frame */
  HfPoint middle;   /* of its box in the letter's own frame */
} HfCounter;

/** hf_shape_counters: (transfer full) (element-type HfCounter) in the order in which a pin counts
 *  them, from the top, then from the left. @frame: of the letter. Empty: it has none. */
GArray *hf_shape_counters(const HfShape *shape, HfMatrix frame);
/** hf_counters_find: the number, from 1, of the one that holds @p; 0: none. */
guint hf_counters_find(const GArray *counters, HfPoint p);

/** hf_shape_new: (transfer full) takes @outline and @label. @letter -1: the entry itself. */
HfShape *hf_shape_new(HfOutline *outline, char *label, guint entry, gint letter, gboolean opening);
/** hf_shape_ref: one more owner, in any thread; each lets go by hf_shape_free(). A shape that has
 *  two of them is not changed any more. */
HfShape *hf_shape_ref(HfShape *shape);
void hf_shape_free(HfShape *shape);

static inline const HfShape *
hf_layout_shape(const HfLayout *layout, guint i)
{
  return (const HfShape *)g_ptr_array_index(layout->shapes, i);
}

static inline const HfUsedDrawing *
hf_layout_drawing(const HfLayout *layout, guint i)
{
  return (const HfUsedDrawing *)g_ptr_array_index(layout->drawings, i);
}
